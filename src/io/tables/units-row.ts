import { isFigure, type TableCell } from './cell-value.js';

/** Units that people write below the name of a column; anything else there is told by whoever uses the column. */
const UNITS = new Set(
  (
    'mm cm dm m km um µm in inch inches ft feet mil " \' kg g mg t lb lbs oz N kN lbf Nm N·m N*m Nmm N·mm s ms min h ' +
    'deg degree degrees ° rad mrad grad mm/s m/s mm² mm2 mm³ mm3 MPa N/mm² N/mm2 %'
  ).split(' '),
);

/** Cells that say "here is no unit", or name the row. */
const NO_UNIT = new Set(['-', '–', '1', 'unit', 'units']);

const BRACKETS = /^\[(.*)\]$|^\((.*)\)$/s;

/** The unit that a cell names, without brackets round it; nothing for none. */
function unitOf(cell: TableCell): string | undefined {
  if (typeof cell !== 'string') return undefined;
  const inside = BRACKETS.exec(cell);
  const word = (inside?.[1] ?? inside?.[2] ?? cell).trim();
  return word === '' || NO_UNIT.has(word.toLowerCase()) ? undefined : word;
}

/**
 * The units of the columns when the row is one of units: it names a unit, has no number, and nothing in the
 * columns of keys. Words that are no unit known here are kept, so that a slip in one cell does not make data of the row.
 */
export function unitsOf(
  cells: readonly TableCell[],
  isKey: readonly boolean[],
): readonly (string | undefined)[] | undefined {
  const units = cells.map(unitOf);
  if (cells.some(isFigure) || units.some((unit, i) => unit !== undefined && isKey[i])) return undefined;
  const known = units.some((unit) => unit !== undefined && UNITS.has(unit));
  const named = cells.some((cell) => typeof cell === 'string' && /^units?$/i.test(cell));
  return known || named ? units : undefined;
}

import { UNITS } from '../../model/scalars.js';
import type { WeldmentNotes } from '../weldment-yaml.js';
import type { RecognisedPart } from './recognised.js';
import { MATERIAL } from './recognise.js';
import type { ImportedSolid } from './step-parts.js';

/** What stands at the top, after the line that names the STEP file. */
const LOOK_AT = [
  `- every part is taken for ${MATERIAL}: a STEP file tells no material that is understood here`,
  '- coordinates are those of the STEP file: z is taken for up, and the lowest part should stand on the table',
  '- a plate and a flat bar look alike: each is a plate, which counts as cut all around',
  '- how a part lies at the infeed is not in a STEP file: where it lies on another face than its lowest stable one, or of two alike not on -z, set `rest`',
];

/**
 * The content of a weldment file of what was recognised in a STEP file, and what is said beside it: of a part what it was in and
 * in what it differs from its solid, above all parts which solids are none of them.
 *
 * @param from name of the STEP file
 */
export function stepWeldment(
  name: string,
  from: string,
  solids: readonly ImportedSolid[],
): { readonly file: object; readonly notes: WeldmentNotes } {
  const parts = solids.flatMap(({ name: part, solid }) =>
    solid.kind === 'part' ? [[part, partEntry(solid)] as const] : [],
  );
  const lost = solids.flatMap(({ name: what, within, solid }) =>
    solid.kind === 'unknown' ? [`NOT TAKEN: ${[what, ...placeOf(within), solid.seen].join('; ')}`] : [],
  );
  const beside = solids.flatMap(({ name: part, within, solid }) => {
    const said = solid.kind === 'part' ? [...placeOf(within), ...solid.notes] : [];
    return said.length > 0 ? [[part, said.join('; ')] as const] : [];
  });
  return {
    file: { weldment: name, units: UNITS, material: MATERIAL, parts: Object.fromEntries(parts) },
    notes: {
      about: [`Made of the solids of ${from}. Look it through before planning:`, ...LOOK_AT],
      ...(lost.length > 0 && { above: { parts: lost } }),
      parts: new Map(beside),
    },
  };
}

const placeOf = (within: readonly string[]): readonly string[] =>
  within.length > 0 ? [`in ${within.join(' / ')}`] : [];

const partEntry = ({ key, sizes, at, turn, mass }: RecognisedPart): object => ({
  [key]: sizes,
  at: [...at],
  ...(turn.some((angle) => angle !== 0) && { turn: [...turn] }),
  ...(mass !== undefined && { mass }),
});

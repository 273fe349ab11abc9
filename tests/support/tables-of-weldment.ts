import type { CsvCell } from '../../src/report/csv.js';
import { csvTable } from '../../src/report/csv.js';
import type { WeldmentFile } from '../../src/model/weldment.js';

type PartFile = WeldmentFile['parts'][string];

const SIZES = ['length', 'width', 'height', 'thickness', 'diameter', 'wall', 'web', 'flange'] as const;
const PART_HEADS = [
  'part',
  'shape',
  ...SIZES,
  'outline',
  'holes',
  'x',
  'y',
  'z',
  'roll',
  'pitch',
  'yaw',
  'material',
  'mass',
  'rest',
];
const UNITS: Readonly<Record<string, string>> = {
  ...{ part: 'units', shape: '', material: '', rest: '', mass: 'kg', roll: 'deg', pitch: 'deg', yaw: 'deg' },
};

const joined = (groups: readonly (readonly number[])[]): string =>
  groups.map((group) => group.join(' ')).join('; ');

/** One row of a table of parts. Holes must be round. */
function partRow(name: string, part: PartFile): readonly CsvCell[] {
  const { at, turn, material, mass, rest, ...shapes } = part;
  const [key, shape] = Object.entries(shapes).find(([, value]) => value !== undefined)!;
  const sizes = shape as Partial<Record<(typeof SIZES)[number], number>> & {
    readonly outline?: readonly (readonly number[])[];
    readonly holes?: readonly { readonly at: readonly number[]; readonly diameter: number }[];
  };
  return [
    name,
    key,
    ...SIZES.map((size) => sizes[size]),
    sizes.outline && joined(sizes.outline),
    sizes.holes && joined(sizes.holes.map((hole) => [...hole.at, hole.diameter])),
    ...at,
    ...(turn ?? [undefined, undefined, undefined]),
    ...[material, mass, rest],
  ];
}

/** A weldment file as tables of parts and joints, as far as these have columns for it. */
export function tablesOfWeldment({ parts, joints }: WeldmentFile): {
  readonly parts: string;
  readonly joints: string;
} {
  const rows = Object.entries(parts).map(([name, part]) => partRow(name, part));
  const units = PART_HEADS.map((head) => UNITS[head] ?? 'mm');
  const jointRows = (joints ?? []).map(({ between, type, leg, sides, open }) => [
    ...between,
    ...[type, leg, sides, open && joined([open])],
  ]);
  return {
    parts: csvTable(PART_HEADS, [units, ...rows]),
    joints: csvTable(['a', 'b', 'type', 'leg', 'sides', 'open'], [['', '', '', 'mm', '', ''], ...jointRows]),
  };
}

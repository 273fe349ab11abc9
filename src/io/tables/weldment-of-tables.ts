import { inFileOrder } from '../issue-at.js';
import type { Issue } from '../../model/issue.js';
import type { WeldmentNotes } from '../weldment-yaml.js';
import { jointsOfTable } from './joints-table.js';
import { partsOfTable } from './parts-table.js';
import type { Table } from './table.js';
import type { Origin } from './table-cells.js';

export interface WeldmentTables {
  readonly name: string;
  readonly parts: Table;
  /** Undefined where joints shall be proposed. */
  readonly joints: Table | undefined;
}

/** A weldment file to be looked through, and from which cell each of its values came. */
export interface TabledWeldment {
  /** What `readWeldment` takes once it is written; with issues it may lack what they tell. */
  readonly file: object;
  readonly notes: WeldmentNotes;
  /** By the path in the weldment file, as issues write it. */
  readonly origins: ReadonlyMap<string, Origin>;
  readonly issues: readonly Issue[];
}

const DEFAULT_MATERIAL = 'S235';

interface PartEntry {
  readonly material?: string;
}

/**
 * The weldment file that tables of parts and joints give. Told here is what only tables can have wrong; what a weldment
 * file may not have, `readWeldment` tells of the text, and `atOrigin` says in which cell it stands.
 */
export function weldmentOfTables({ name, parts, joints }: WeldmentTables): TabledWeldment {
  const tabled = partsOfTable(parts);
  const joined = joints && jointsOfTable(joints);
  const entries = Object.entries(tabled.parts as Readonly<Record<string, PartEntry>>);
  const common = commonMaterial(entries.map(([, { material }]) => material));
  const file = {
    weldment: name,
    units: 'mm kg N s deg',
    material: common ?? DEFAULT_MATERIAL,
    parts: Object.fromEntries(
      entries.map(([part, entry]) => [part, common === undefined ? entry : withoutMaterial(entry)]),
    ),
    ...(joined && { joints: joined.joints }),
  };
  const origins = new Map([...tabled.origins, ...(joined?.origins ?? [])]);
  const first = common === undefined ? undefined : origins.get(`parts.${entries[0]![0]}.material`);
  if (first !== undefined) origins.set('material', first);
  return {
    file,
    notes: { about: about(name, parts, joints), above: above(common, joints) },
    origins,
    issues: [...inFileOrder(tabled.issues), ...inFileOrder(joined?.issues ?? [])],
  };
}

/** The material of all parts where every row names the same one. */
function commonMaterial(materials: readonly (string | undefined)[]): string | undefined {
  const [first] = materials;
  return first !== undefined && materials.every((one) => one === first) ? first : undefined;
}

const withoutMaterial = (entry: PartEntry): object =>
  Object.fromEntries(Object.entries(entry).filter(([key]) => key !== 'material'));

const about = (name: string, parts: Table, joints: Table | undefined): readonly string[] => [
  `${name}, made of ${[parts, ...(joints ? [joints] : [])].map(({ file }) => beside(file)).join(' and ')} by tackwright import.`,
  'Look it through before it is planned: sizes and places are those of the tables, and all else is at its default.',
  'Not in tables: grips, needs, tolerances, fit-up, first (README). What it implies: tackwright inspect THIS-FILE',
];

/** The name of a file without the folders that it is in. */
const beside = (file: string): string => file.split(/[/\\]/).at(-1)!;

const above = (common: string | undefined, joints: Table | undefined): WeldmentNotes['above'] => ({
  ...(common === undefined && {
    material: ['of every part whose row names none: change it if it is another'],
  }),
  ...(joints && { joints: ['type, leg and sides that a row leaves empty are fillet, 4 mm and both'] }),
});

/** The issue of a weldment file as one of the cell that its value came from; of the table of parts where none did. */
export function atOrigin(issue: Issue, origins: ReadonlyMap<string, Origin>, otherwise: Origin): Issue {
  const within = [...origins.keys()]
    .filter(
      (path) =>
        issue.path === path || (/^[.[]/.test(issue.path.slice(path.length)) && issue.path.startsWith(path)),
    )
    .sort((a, b) => b.length - a.length)[0];
  const { file, line, column } = (within !== undefined && origins.get(within)) || otherwise;
  return { ...issue, file, line, path: column };
}

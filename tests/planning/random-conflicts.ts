import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { parse } from 'yaml';
import type {
  CellEntries,
  Files,
  JointEntry,
  PartEntry,
  Triple,
  WeldmentEntries,
} from '../support/planned.js';

/** What is wrong with a weldment: who it is about, by place (0 is the base), and how. */
export interface Trouble {
  readonly kind: TroubleKind;
  readonly of: number;
  readonly other: number;
  /** From 0 to 1, how bad it is, or where. */
  readonly much: number;
}

/** A base with a few blocks side by side on it, and what is wrong with them. */
export interface Troubled {
  readonly blocks: number;
  readonly troubles: readonly Trouble[];
}

/** A weldment and its cell while troubles are put into them. */
interface Making extends Files {
  readonly weldment: WeldmentEntries & { needs: Relation[]; blocking: Blocking[]; wishes: object[] };
  readonly nameOf: (place: number) => string;
}
interface Relation {
  part: string;
  after: string[];
}
interface Blocking {
  part: string;
  by: string[];
}

const GRIPPER = 'small';
const BLOCK = { length: 60, width: 60, height: 40 };
/** Distance between the middles of two blocks, mm. */
const APART = 140;

/** One gripper and one grip a part, so that each weldment is judged quickly. */
function clear(blocks: number): Making {
  const cell = parse(
    readFileSync(new URL('../stories/bench.cell.yaml', import.meta.url), 'utf8'),
  ) as CellEntries;
  cell.grippers = { [GRIPPER]: cell.grippers[GRIPPER]! };
  const nameOf = (place: number): string =>
    place % (blocks + 1) === 0 ? 'base' : `p${place % (blocks + 1)}`;
  const parts: Record<string, PartEntry> = {
    base: part({ plate: { length: 400, width: 160, thickness: 10 }, at: [0, 0, 5] }),
  };
  const joints: JointEntry[] = [];
  for (let place = 1; place <= blocks; place += 1) {
    parts[nameOf(place)] = part({ block: BLOCK, at: [APART * (place - 2), 0, 10 + BLOCK.height / 2] });
    joints.push({ between: ['base', nameOf(place)] });
  }
  const head = { weldment: 'troubled', units: 'mm kg N s deg' };
  return { cell, nameOf, weldment: { ...head, parts, joints, needs: [], blocking: [], wishes: [] } };
}

const part = (entry: { at: Triple; [key: string]: unknown }): PartEntry => ({
  ...entry,
  grips: [{ gripper: GRIPPER, face: '+z', position: [0, 0], turn: 0 }],
});

type Maker = (making: Making, trouble: Omit<Trouble, 'kind'>) => void;

const arm = ({ cell }: Making, duty: 'handle' | 'weld') =>
  Object.values(cell.robots).find((robot) => robot.duty === duty)!;

/** Each kind of trouble by what it does; where it takes two parts and there is but one, it does nothing. */
const MAKERS = {
  needs: ({ weldment, nameOf }, { of, other }) => {
    if (nameOf(of) !== nameOf(other)) weldment.needs.push({ part: nameOf(of), after: [nameOf(other)] });
  },
  blocking: ({ weldment, nameOf }, { of, other }) => {
    if (nameOf(of) !== nameOf(other)) weldment.blocking.push({ part: nameOf(of), by: [nameOf(other)] });
  },
  first: (making, { of }) => {
    making.weldment.first = making.nameOf(of);
  },
  'roof-first': ({ weldment, nameOf }, { of }) => {
    const { at } = weldment.parts[nameOf(of)]!;
    if (nameOf(of) === 'base' || 'roof' in weldment.parts) return;
    weldment.parts.roof = part({
      plate: { length: 58, width: 36, thickness: 8 },
      at: [at[0], at[1], at[2] + BLOCK.height / 2 + 4],
    });
    weldment.joints.push({ between: [nameOf(of), 'roof'] });
    weldment.needs.push({ part: nameOf(of), after: ['roof'] });
  },
  squeezed: ({ weldment, nameOf }, { much }) => {
    const [left, middle, right] = [1, 2, 3].map((place) => weldment.parts[nameOf(place)]);
    if (Object.keys(weldment.parts).length < 4) return;
    const gap = 60.05 + 0.2 * much;
    left!.at = [middle!.at[0] - gap, 0, left!.at[2]];
    right!.at = [middle!.at[0] + gap, 0, right!.at[2]];
    weldment.needs.push({ part: nameOf(2), after: [nameOf(1), nameOf(3)] });
  },
  'tall-neighbour': ({ weldment, nameOf }, { of, other }) => {
    const [low, tall] = [nameOf(of), nameOf(other)];
    if (low === tall || low === 'base' || tall === 'base') return;
    const x = weldment.parts[low]!.at[0];
    weldment.parts[low] = {
      ...part({ block: { ...BLOCK, width: 30 }, at: [x, 0, 30] }),
      approach: [[0, 0, -1]],
    };
    weldment.parts[tall] = part({ block: { length: 60, width: 40, height: 160 }, at: [x, 37, 90] });
    for (const { between, ...joint } of weldment.joints)
      if (between.includes(low)) Object.assign(joint, { sides: 'one', open: [0, -1, 1] });
    weldment.needs.push({ part: low, after: [tall] });
  },
  'handler-far': (making, { much }) => {
    arm(making, 'handle').at = [-2400 - Math.round(800 * much), 0, 0];
  },
  'welder-far': (making, { much }) => {
    arm(making, 'weld').at = [2300 + Math.round(800 * much), 0, 0];
  },
  payload: (making, { much }) => {
    arm(making, 'handle').payload = { mass: 1.8 + 2 * much, moment: 60000 };
  },
  moment: (making, { much }) => {
    arm(making, 'handle').payload = { mass: 20, moment: 1500 + 2000 * much };
  },
  'weak-magnet': ({ cell }, { much }) => {
    Object.assign(cell.grippers[GRIPPER]!.magnet as object, { 'pull-per-pad': 10 + 30 * much });
  },
  accuracy: ({ cell, weldment }, { much }) => {
    Object.assign(cell.stations.infeed, { accuracy: 3 + 3 * much });
    Object.assign(cell.stations.regrip, { accuracy: 3 + 3 * much });
    Object.assign(weldment, { 'fit-up': { gap: 0.8, insertion: 0.5 } });
  },
  'one-sided': ({ weldment, cell, nameOf }, { of, much }) => {
    if (nameOf(of) === 'base') return;
    const { at } = weldment.parts[nameOf(of)]!;
    weldment.parts[nameOf(of)] = part({ block: { length: 60, width: 32, height: 150 }, at: [at[0], 0, 85] });
    Object.assign(
      weldment.joints.find(({ between }) => between.includes(nameOf(of)))!,
      { sides: 'one', open: [0, -1, 1] },
    );
    if (much > 0.6) Object.assign(cell.grippers[GRIPPER]!.magnet as object, { 'arc-distance': 300 });
  },
  'keep-out': ({ weldment, cell, nameOf }, { of }) => {
    const { at } = weldment.parts[nameOf(of)]!;
    cell['keep-outs'] = [...(cell['keep-outs'] ?? []), { at: [-at[1], at[0], 620], size: [90, 90, 20] }];
  },
  'wish-before': ({ weldment, nameOf }, { of, other }) => {
    if (nameOf(of) !== nameOf(other)) weldment.wishes.push({ before: [nameOf(of), nameOf(other)] });
  },
  'wish-first': ({ weldment, nameOf }, { of, much }) => {
    weldment.wishes.push({ first: nameOf(of), ...(much > 0.7 && { never: true }) });
  },
  'wish-grip': ({ weldment, nameOf }, { of, much }) => {
    weldment.wishes.push({
      grip: nameOf(of),
      gripper: GRIPPER,
      face: '+z',
      ...(much > 0.5 ? { never: true } : { position: [20, 0] }),
    });
  },
  'wish-regrips': ({ weldment, nameOf }, { of, much }) => {
    weldment.wishes.push({ regrips: nameOf(of), most: much > 0.5 ? 2 : 0, never: true });
  },
  'wish-held': ({ weldment, nameOf }, { of }) => {
    weldment.wishes.push({ held: nameOf(of) }, { held: nameOf(of), never: true });
  },
  'wish-tack': ({ weldment, nameOf }, { of, much }) => {
    if (nameOf(of) === 'base') return;
    const { at } = weldment.parts[nameOf(of)]!;
    weldment.wishes.push({ tack: ['base', nameOf(of)], near: [at[0], -30 - Math.round(60 * much), 10] });
  },
  'wish-tacks': ({ weldment, nameOf }, { of, much }) => {
    if (nameOf(of) === 'base') return;
    const { at } = weldment.parts[nameOf(of)]!;
    for (const x of [-4, 4])
      weldment.wishes.push({
        tack: ['base', nameOf(of)],
        near: [at[0] + x * (1 + much), -30, 10],
        within: 4,
      });
  },
} satisfies Record<string, Maker>;

export type TroubleKind = keyof typeof MAKERS;
export const TROUBLES = Object.keys(MAKERS) as TroubleKind[];

/** Two or three blocks with a few troubles. */
export const anyTroubled = (): fc.Arbitrary<Troubled> =>
  fc.record({
    blocks: fc.integer({ min: 1, max: 3 }),
    troubles: fc.array(
      fc.record({
        kind: fc.constantFrom(...TROUBLES),
        of: fc.integer({ min: 0, max: 3 }),
        other: fc.integer({ min: 0, max: 3 }),
        much: fc.integer({ min: 0, max: 10 }).map((tenths) => tenths / 10),
      }),
      { minLength: 1, maxLength: 4 },
    ),
  });

/** The files of a troubled weldment. */
export function troubledFiles({ blocks, troubles }: Troubled): Files {
  const making = clear(blocks);
  for (const { kind, ...trouble } of troubles) (MAKERS[kind] as Maker)(making, trouble);
  const { cell, weldment } = making;
  return { cell, weldment };
}

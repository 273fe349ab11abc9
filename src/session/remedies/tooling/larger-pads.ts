import { rounded } from '../../../base/order.js';
import type { Change, Edit } from '../../../model/tried-remedy.js';
import type { Ladder } from '../ladder.js';
import { hasCode, type Trouble } from '../trouble.js';
import { grippersMeant, padsOf, type GripperFileOf } from './flat-gripper.js';
import { isTooWeak } from './stronger-gripper.js';

/** Larger, and, where pads have no room on a face or are too near to an arc, smaller. */
const LARGER = [1.25, 1.5, 2];
const SMALLER = [0.8, 0.6];
const NO_ROOM = ['footprint', 'pad-too-near', 'torch-meets-gripper', 'gripper-in-part'];

const tenths = (value: number): number => rounded(value, 1);

/** A gripper with all its pads and their places larger by a factor; the pull of a magnet grows as the area of a pad. */
function scaled(id: string, gripper: GripperFileOf, by: number): readonly Edit[] | undefined {
  const names = padsOf(gripper);
  if (names === undefined) return undefined;
  const flat = (gripper[names.key] ?? {}) as Readonly<Record<string, unknown>>;
  const edit = (path: readonly string[], from: unknown, to: unknown): Edit => ({
    ...{ file: 'cell', path: ['grippers', id, ...path], from, to },
  });
  const centres = flat[names.pads] as readonly (readonly [number, number])[];
  const diameter = flat[names.diameter] as number;
  const { length, width, height } = gripper.envelope;
  const pull = gripper.magnet?.['pull-per-pad'];
  return [
    edit([names.key, names.diameter], diameter, tenths(diameter * by)),
    edit(
      [names.key, names.pads],
      centres,
      centres.map((one) => one.map((x) => tenths(x * by))),
    ),
    ...(pull === undefined ? [] : [edit([names.key, 'pull-per-pad'], pull, Math.round(pull * by * by))]),
    edit(['envelope'], gripper.envelope, { length: tenths(length * by), width: tenths(width * by), height }),
    edit(['mass'], gripper.mass, tenths(gripper.mass * by * by)),
  ];
}

function ladderOf(trouble: Trouble, kind: string, factors: readonly number[]): readonly Ladder[] {
  return grippersMeant(trouble).flatMap(([id, gripper]): Ladder[] => {
    const changes = factors.flatMap((by, i): Change[] => {
      const edits = scaled(id, gripper, by);
      if (edits === undefined) return [];
      const { from, to } = edits[0]!;
      return [
        {
          words: `give ${id} pads of ${String(to)} mm instead of ${String(from)}, the whole gripper in proportion`,
          edits,
          size: (i + 1) / factors.length,
        },
      ];
    });
    return changes.length === 0 ? [] : [{ kind, cost: 'tooling', changes, monotone: false }];
  });
}

/** A gripper with larger pads, farther apart: they pull more and are harder to peel off. */
export const largerPads = (trouble: Trouble): readonly Ladder[] =>
  isTooWeak(trouble) ? ladderOf(trouble, 'larger-pads', LARGER) : [];

/** A gripper with smaller pads, closer together: they find room, and tacks keep their distance. */
export const smallerPads = (trouble: Trouble): readonly Ladder[] =>
  hasCode(trouble, ...NO_ROOM) ? ladderOf(trouble, 'smaller-pads', SMALLER) : [];

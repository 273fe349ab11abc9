import type { Handler } from '../model/cell.js';
import type { Way } from './ways.js';
import type { Arm } from './ways.js';

/** The handling arms when a stage has ended, in the order of the cell. */
export interface Hands {
  /** On each arm; undefined while any may be mounted beforehand. */
  readonly grippers: readonly (string | undefined)[];
  /** All that each arm has used: another arm does not use them. */
  readonly used: readonly (readonly string[])[];
  /** For how long each arm has been free to fetch its next part, milliseconds. */
  readonly free: readonly number[];
}

export const handsAtStart = (robots: readonly Handler[]): Hands => ({
  grippers: robots.map(() => undefined),
  used: robots.map(() => []),
  free: robots.map(() => 0),
});

/** One arm as it is when it is to fetch a part. */
export function armOf({ grippers, used }: Hands, robots: readonly Handler[], robot: Handler): Arm {
  const own = robots.indexOf(robot);
  const taken = new Set(used.flatMap((list, i) => (i === own ? [] : list)));
  return { robot, gripper: grippers[own], taken };
}

/** The arms after a way was gone, `elapsed` after the stage before; `free` is how long some arms are free by then. */
export function handsAfter(
  hands: Hands,
  robots: readonly Handler[],
  { grip, chain }: Way,
  elapsed: number,
  free: ReadonlyMap<Handler, number>,
): Hands {
  const own = robots.indexOf(grip.robot);
  const all = [...chain.transfers.map((transfer) => transfer.grip.gripper.id), grip.gripper.id];
  const used = [...new Set([...hands.used[own]!, ...all])].sort();
  return {
    grippers: hands.grippers.map((gripper, i) => (i === own ? grip.gripper.id : gripper)),
    used: hands.used.map((list, i) => (i === own && robots.length > 1 ? used : list)),
    free: hands.free.map((before, i) => free.get(robots[i]!) ?? before + elapsed),
  };
}

/** After a time in which no arm may fetch: none has been free for any of it. */
export const handsAtRest = (hands: Hands): Hands => ({ ...hands, free: hands.free.map(() => 0) });

/** All that tells one state of the arms from another. */
export const handsKey = ({ grippers, used, free }: Hands): string =>
  `${grippers.join(' ')}|${used.map((list) => list.join(' ')).join(';')}|${free.join(' ')}`;

/** The least number of tool changes for which the given grippers get onto some arm. */
export function leastChanges({ grippers }: Hands, needed: ReadonlySet<string>): number {
  const missing = [...needed].filter((gripper) => !grippers.includes(gripper)).length;
  const bare = grippers.filter((gripper) => gripper === undefined).length;
  return Math.max(0, missing - bare);
}

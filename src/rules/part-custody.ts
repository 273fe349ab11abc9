import type { Gripper } from '../model/cell.js';
import type { Stage, Step } from '../model/plan.js';
import { carryings, type Carrying } from './arm-stays.js';
import type { RuleContext } from './rule.js';
import type { RunEvents } from './run-events.js';

/** A part in the gripper of a robot. */
export interface Custody {
  readonly part: string;
  readonly gripper: Gripper;
  /** In which the gripper took it. */
  readonly stage: Stage;
  readonly inPlace: boolean;
  /** In its place: clamped, where it is to be. */
  readonly clamped: boolean;
}

/** A part that is let go in its place: when the gripper begins to, and in which stage. */
export interface Release {
  readonly part: string;
  /** Events done from which on it is no longer held. */
  readonly from: number;
  readonly stage: number;
  readonly clamped: boolean;
}

/** What one robot has in its gripper at each position of its program, and what it lets go of in its place. */
export interface Custodies {
  readonly at: readonly (Custody | undefined)[];
  readonly releases: readonly Release[];
}

const isOver = ({ last }: RunEvents, step: number): number => (step < 0 ? 0 : last[step]! + 1);

/** From when a part is in its place, and from when it no longer hangs on the gripper, in events done. */
function spanOf(
  steps: readonly Step[],
  run: RunEvents,
  one: Carrying,
): { place: number; from: number; to: number } {
  const { grip, inPlace, release } = one;
  const from = isOver(run, grip);
  const place = inPlace === Infinity ? Infinity : isOver(run, Math.max(inPlace, grip));
  const end = steps[release];
  if (end === undefined) return { from, place, to: Infinity };
  if (end.do === 'let-go') return { from, place, to: run.first[release]! + 1 };
  // Set down: it lies where it shall from the end of the stroke on.
  const stroke = steps.slice(0, release).findLastIndex((step) => step.do === 'move');
  return { from, place, to: Math.max(from, isOver(run, stroke)) };
}

/** The custody of a program, as far as its parts, grippers and stages are known. */
export function custodiesOf({ plan, cell }: RuleContext, steps: readonly Step[], run: RunEvents): Custodies {
  const at = new Array<Custody | undefined>(run.events.length + 1).fill(undefined);
  const releases: Release[] = [];
  for (const one of carryings(steps)) {
    const grip = steps[one.grip]!;
    const gripper = cell.grippers.find(({ id }) => grip.do === 'grip' && id === grip.gripper);
    const stage = plan.stages.find(({ number }) => number === grip.stage);
    if (gripper === undefined || stage === undefined) continue;
    const { part } = one;
    const { from, place, to } = spanOf(steps, run, one);
    const clamp = steps.findIndex((step, i) => i > one.grip && step.do === 'clamp' && step.part === part);
    const clamped = clamp < 0 ? Infinity : isOver(run, clamp);
    for (let p = from; p < Math.min(to, at.length); p += 1)
      at[p] = { part, gripper, stage, inPlace: p >= place, clamped: p >= clamped };
    const end = steps[one.release];
    if (end?.do === 'let-go') releases.push({ part, from: to, stage: end.stage, clamped: clamped <= to });
  }
  return { at, releases };
}

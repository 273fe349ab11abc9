import { snap } from '../base/order.js';
import type { Arm } from '../kinematics/arm.js';
import type { ReachMiss } from '../kinematics/reach.js';
import { reach } from '../kinematics/reach.js';
import { followStraight, type JointMiss } from '../kinematics/straight-move.js';
import { STROKE_STEP } from '../kinematics/strokes.js';
import type { Welder } from '../model/cell.js';
import type { Refusal } from '../model/verdict.js';
import { reachRefusal } from './reach-refusal.js';
import { ROLLS, tipPoses, TorchFlange, type TorchPoses } from './torch-ranking.js';
import type { TorchWay } from './torch-ways.js';

type Miss = ReachMiss | JointMiss;

/** How far off a miss is: what breaks on a stroke between poses that are reached, then degrees, then millimetres. */
function lacking(miss: Miss): readonly [kind: number, amount: number] {
  switch (miss.kind) {
    case 'jump':
    case 'elsewhere':
      return [0, miss.degrees];
    case 'limit':
    case 'elbow':
      return [1, miss.degrees];
    case 'wrist-singular':
      return [1, miss.needed - miss.degrees];
    case 'distance':
      return [2, miss.missing];
  }
}

function nearer(a: Miss, b: Miss): boolean {
  const [[kindA, amountA], [kindB, amountB]] = [lacking(a), lacking(b)];
  return kindA !== kindB ? kindA < kindB : snap(amountA - amountB, 1e-9) < 0;
}

/** What the arm lacks for one way and roll: at the first of its poses that it cannot take, or on a stroke between them. */
function missAt(arm: Arm, { start, end, clear, leave }: TorchPoses): Miss | undefined {
  for (const pose of [start, end, clear, leave]) {
    const reached = reach(arm, pose);
    if (!reached.ok) return reached.error;
  }
  const reached = reach(arm, start);
  const from = reached.ok ? reached.value[0]!.joints : undefined;
  for (const to of [clear, end]) {
    const followed = followStraight(arm, start, to, from!, STROKE_STEP);
    if (!followed.ok) return followed.error.miss;
    if (to !== end) continue;
    const away = followStraight(arm, end, leave, followed.value.at(-1)!, STROKE_STEP);
    if (!away.ok) return away.error.miss;
  }
  return undefined;
}

/** Of all ways and turns about the wire the one that the arm misses by least; undefined when there is none. */
export function torchMiss(
  welder: Welder,
  ways: readonly TorchWay[],
  stroke: number,
  subjects: readonly string[],
): Refusal | undefined {
  const flange = new TorchFlange(welder);
  let nearest: Miss | undefined;
  for (const way of ways)
    for (let roll = 0; roll < ROLLS.length; roll += 1) {
      const tips = tipPoses(way, roll, stroke);
      const poses = {
        ...{ start: flange.of(tips.start), end: flange.of(tips.end) },
        ...{ clear: flange.of(tips.clear), leave: flange.of(tips.leave) },
      };
      const miss = missAt(welder.arm, poses);
      if (miss && (nearest === undefined || nearer(miss, nearest))) nearest = miss;
    }
  return nearest && reachRefusal({ miss: nearest, end: undefined }, subjects);
}

import type { Transition } from '../algorithms/problem.js';
import type { PartSet } from '../base/part-set.js';
import { fail, type Result } from '../base/result.js';
import type { Approach } from '../facts/approaches.js';
import type { Refusal } from '../model/verdict.js';
import type { Demand } from './demand.js';
import type { AtAngle } from './index-angles.js';
import type { Beside, KeptHold } from './kept-hold.js';
import type { OrderState } from './order-state.js';
import type { Holding, RobotDraft } from './stage-draft.js';
import { isOpen, type Arm, type Way } from './ways.js';

export type RobotMove = Transition<OrderState, RobotDraft>;

export interface OneArm {
  readonly key: string;
  readonly arm: Arm;
  readonly gripper: string;
}

/** Which ways of a part are looked for. */
export interface Asked {
  readonly part: number;
  readonly regrips: number;
  /** On the arm at the end. */
  readonly gripper: string;
  readonly arm: Arm;
  readonly refused: Set<string>;
  readonly approaches: readonly Approach[];
  readonly demand: Demand;
}

/** How a part is held and tacked by a grip: beside a part that is still held, or by itself. */
export function usualHolding(
  { holdings, facts }: AtAngle,
  part: number,
  { inPlace, first }: OrderState,
  { tacks: asked, held }: Demand,
): HoldingOf {
  const newcomer = { part, inPlace, clamped: first, asked };
  const unwished = fail<Refusal>({ code: 'wish', subjects: [facts.scene.parts[part]!.part.id] });
  return (way, kept) => {
    if (kept) return held === false ? unwished : holdings.pair(newcomer, way, kept);
    if (held === true) return holdings.held(newcomer, way);
    return held === false && holdings.mustHold(newcomer, way) ? unwished : holdings.first(newcomer, way);
  };
}

/** Ways into place that no part in place blocks and that do not run over the metal of a tack. */
export const openApproaches = (
  { facts }: AtAngle,
  part: number,
  { inPlace, laid }: OrderState,
): readonly Approach[] =>
  facts
    .approaches(part)
    .filter(
      (approach) => isOpen(approach, inPlace) && !laid.some((site) => facts.meetsBead(part, approach, site)),
    );

/** A way into place beside a part that is still held; undefined where grippers or arms meet. */
export const besideKept = (
  { keptHolds }: AtAngle,
  part: number,
  inPlace: PartSet,
  way: Way,
  kept: KeptHold,
): Beside | undefined =>
  keptHolds.clear(part, way, kept) ? keptHolds.beside(part, inPlace, way, kept) : undefined;

export type HoldingOf = (way: Way, kept?: KeptHold) => Result<Holding, Refusal>;

import type { Pose } from '../geometry/pose.js';
import type { Finding } from '../model/finding.js';
import type { Handling } from '../model/plan.js';
import { hangingSystem, type HeldPart } from './assembly.js';
import { carriedHome, weakestCarried, type CarriedReserve } from './carried.js';
import { sound } from './judged-reserves.js';
import { poseOf } from './plan-frames.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { handlingViews, stageViews, type HandlingView, type StageView } from './stage-views.js';

const ID = 'grip-carries';

/** Reserves are rounded to a millionth; a stated one may differ by this share and by this amount. */
const ROUNDING = 2e-6;
const TOLERANCE = 1e-3;

/** The poses in which a grip carries its part: where it is taken, at the arm's home, and where it is put. */
export function carriedPoses(
  { scene }: RuleContext,
  held: HeldPart,
  { take, put }: Handling,
): readonly Pose[] {
  return [poseOf(take.part), carriedHome(scene, held), poseOf(put.part)];
}

/** What a grip carries least surely on its way; undefined where the plan's numbers cannot belong to a cell. */
export function carriedOnTheWay(
  context: RuleContext,
  view: StageView,
  { grip, gripper, robot, handling }: HandlingView,
): CarriedReserve | undefined {
  const { scene, settings, programs } = context;
  const held = { part: view.part, grip, gripper, robot };
  const poses = carriedPoses(context, held, handling);
  if (!poses.every((pose) => sound(hangingSystem(scene, held, pose, settings).system))) return undefined;
  return weakestCarried(programs, scene, held, poses, settings);
}

function judge(context: RuleContext): Finding[] {
  return stageViews(context).flatMap((view) =>
    handlingViews(context, view).flatMap((one) => {
      const found = carriedOnTheWay(context, view, one);
      if (found === undefined) return [];
      const { case: load, reserve, required } = found;
      const what = `${view.stage.part} on ${one.gripper.id}: ${load} has a reserve of ${shown(reserve)}`;
      if (reserve < required - ROUNDING)
        return [
          breach(ID, one.where, `${what}; ${shown(required)} is required`, {
            value: reserve,
            limit: required,
          }),
        ];
      const stated = one.handling.carried;
      const same =
        Math.abs(stated.reserve - reserve) <= TOLERANCE * (1 + reserve) &&
        Math.abs(stated.required - required) <= TOLERANCE;
      if (same) return [];
      const message = `${what}; the plan states ${shown(stated.reserve)} for ${stated.case}`;
      return [breach(ID, `${one.where}.carried`, message, { value: stated.reserve, limit: reserve })];
    }),
  );
}

/** Every grip carries its part alone, also when the arm stops suddenly, as it is turned at both ends and at home. */
export const gripCarries: Rule = {
  id: ID,
  forbids:
    'a grip from which the part would slip, turn or break away under its weight or in an emergency stop, and other numbers stated for it',
  why: 'between taking and putting nothing but the pads carries the part',
  judge,
};

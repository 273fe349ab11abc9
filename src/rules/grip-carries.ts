import type { Pose } from '../geometry/pose.js';
import { compose, inverse, place } from '../geometry/pose.js';
import { judge as judgeSystem } from '../mechanics/equilibrium.js';
import { movedSystem } from '../mechanics/moved-system.js';
import type { System } from '../mechanics/system.js';
import type { Finding } from '../model/finding.js';
import { gripFlange, padsInCell } from '../model/placement.js';
import { pullPerPad } from './assembly.js';
import { sound } from './judged-reserves.js';
import { poseOf } from './plan-frames.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { handlingViews, stageViews, type HandlingView, type StageView } from './stage-views.js';

const ID = 'grip-carries';

/** Reserves are rounded to a millionth. */
const ROUNDING = 2e-6;

/** The part alone, hanging on the pads of a grip at a pose, every resistance reduced. */
function hanging(
  { scene, cell, settings }: RuleContext,
  view: StageView,
  one: HandlingView,
  at: Pose,
): System {
  const { part, pose, solid, mass } = view.placed;
  const { gripper, grip } = one;
  const { centres, into } = padsInCell(part.shape, at, grip, gripper);
  const pull = pullPerPad(scene, view.part, gripper) * settings.reductions.pull;
  const friction = gripper.friction * settings.reductions.friction;
  const radius = gripper.padDiameter / 2;
  const { force, moment } = cell.handler.payload;
  const system = {
    bodies: [{ mass, centre: place(compose(at, inverse(pose)), solid.centre) }],
    bearings: [],
    links: [],
    pads: centres.map((centre) => ({ body: 0, hold: 0, at: centre, normal: into, radius, pull, friction })),
    holds: [{ force, moment, at: gripFlange(part.shape, at, grip, gripper).at }],
  };
  return movedSystem(system, inverse(cell.weldmentPose));
}

function judge(context: RuleContext): Finding[] {
  const limit = context.settings.reserves.gravity;
  return stageViews(context).flatMap((view) =>
    handlingViews(context, view).flatMap((one) =>
      (['take', 'put'] as const).flatMap((end) => {
        const system = hanging(context, view, one, poseOf(one.handling[end].part));
        if (!sound(system)) return [];
        const { reserve } = judgeSystem(context.programs, system, [], { cold: true }).gravity;
        if (reserve >= limit - ROUNDING) return [];
        const message =
          `${view.stage.part} hangs on ${one.gripper.id} with a reserve of ${shown(reserve)}; ` +
          `${shown(limit)} is required`;
        return [breach(ID, `${one.where}.${end}`, message, { value: reserve, limit })];
      }),
    ),
  );
}

/** Every grip carries its part alone, as it is turned where it is taken and where it is put. */
export const gripCarries: Rule = {
  id: ID,
  forbids:
    'a grip from which the part would slip, turn or break away under its own weight with the reserve asked for',
  why: 'between taking and putting nothing but the pads carries the part',
  judge,
};

import { judge as judgeSystem } from '../mechanics/equilibrium.js';
import type { Finding } from '../model/finding.js';
import { hangingSystem } from './assembly.js';
import { sound } from './judged-reserves.js';
import { poseOf } from './plan-frames.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { handlingViews, stageViews } from './stage-views.js';

const ID = 'grip-carries';

/** Reserves are rounded to a millionth. */
const ROUNDING = 2e-6;

function judge(context: RuleContext): Finding[] {
  const limit = context.settings.reserves.gravity;
  return stageViews(context).flatMap((view) =>
    handlingViews(context, view).flatMap((one) =>
      (['take', 'put'] as const).flatMap((end) => {
        const held = { part: view.part, grip: one.grip, gripper: one.gripper, robot: one.robot };
        const pose = poseOf(one.handling[end].part);
        const system = hangingSystem(context.scene, held, pose, context.settings);
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

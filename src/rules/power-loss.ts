import { rounded } from '../base/order.js';
import type { Finding } from '../model/finding.js';
import type { PlanPowerLoss } from '../model/plan.js';
import type { Scene } from '../model/scene.js';
import type { HeldPart } from './assembly.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { holdersOf, stageViews } from './stage-views.js';

const ID = 'power-loss';

/** Places are stated to a tenth of a millimetre. */
const ROUNDING = 0.06;

/**
 * What a plan says of a power loss while a part is held. Where the part may fall, the zone that must be clear is a
 * circle on the floor: the part may topple as far as its top is above the table, from where it is widest. An estimate:
 * it may still slide, roll or take others along.
 */
export function powerLossOf(scene: Scene, { part, gripper }: HeldPart): PlanPowerLoss {
  const { part: own, solid } = scene.parts[part]!;
  const { kind, seconds } = gripper.powerLoss;
  const { low, high } = solid.bounds;
  const reach = Math.hypot(high[0] - low[0], high[1] - low[1]) / 2;
  const height = Math.max(0, high[2] - scene.cell.table.pose.at[2]);
  const zone = {
    at: [rounded((low[0] + high[0]) / 2, 1), rounded((low[1] + high[1]) / 2, 1)] as [number, number],
    radius: rounded(reach + height, 1),
  };
  return {
    ...{ part: own.id, gripper: gripper.id, kind },
    seconds: kind === 'stored-seconds' && Number.isFinite(seconds) ? seconds : null,
    zone: kind === 'exclusion-zone' ? zone : null,
  };
}

const sameZone = (a: PlanPowerLoss['zone'], b: PlanPowerLoss['zone']): boolean =>
  a === null || b === null
    ? a === b
    : Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]) <= 2 * ROUNDING && a.radius >= b.radius - ROUNDING;

function judge(context: RuleContext): Finding[] {
  const least = context.settings.loads['power-loss-seconds'];
  return stageViews(context).flatMap((view) => {
    const where = `${view.where}.powerLoss`;
    const holders = holdersOf(context, view);
    const { held, alsoHeld } = view.stage;
    // Of a gripper or part that nobody knows another rule speaks.
    if (holders.length !== Number(held !== null) + Number(alsoHeld !== undefined)) return [];
    const wanted = holders.map((holder) => powerLossOf(context.scene, holder));
    const short = wanted.flatMap(({ part, gripper, kind, seconds }) => {
      if (kind !== 'stored-seconds' || seconds === null || seconds >= least) return [];
      const message = `${gripper} keeps ${part} for ${shown(seconds)} s after a power loss; ${shown(least)} are required`;
      return [breach(ID, where, message, { value: seconds, limit: least })];
    });
    const stated = view.stage.powerLoss;
    const same =
      stated.length === wanted.length &&
      wanted.every(
        (one, i) =>
          stated[i]!.part === one.part &&
          stated[i]!.gripper === one.gripper &&
          stated[i]!.kind === one.kind &&
          stated[i]!.seconds === one.seconds &&
          sameZone(stated[i]!.zone, one.zone),
      );
    if (same) return short;
    const told = wanted.map(({ part, kind, zone }) =>
      zone === null ? `${part}: ${kind}` : `${part}: ${kind} of ${shown(zone.radius)} mm about its place`,
    );
    const message = `a power loss means: ${told.join('; ') || 'nothing, since nothing is held'}; the plan says otherwise`;
    return [...short, breach(ID, where, message)];
  });
}

/** What happens when power or air fails while a part is held is stated as the gripper has it, and lasts long enough. */
export const powerLoss: Rule = {
  id: ID,
  forbids: 'a hold whose stored energy ends too soon, or a plan that is silent about where a part may fall',
  why: 'a part that falls where nobody expects it hurts whoever stands there',
  judge,
};

import { along, scale, distance, subtract, type Vec3 } from '../geometry/vector.js';
import type { Finding } from '../model/finding.js';
import type { AbstractPlan, GeometricPlan, PlanHead, Stage } from '../model/plan.js';
import { wishesOf, type Wish, type Wisher } from '../model/wish.js';
import { breach, type Rule } from './rule.js';
import { everyTack } from './stage-tacks.js';
import { keepsWish, partsOfWish, type WishStage } from './wish-kept.js';

const ID = 'wishes-true';

/** The middle of a tack on a seam, both as a plan states them: weldment frame, mm. */
export function tackMiddle({ from, to }: { from: Vec3; to: Vec3 }, start: number, length: number): Vec3 {
  const size = distance(from, to);
  return size === 0 ? from : along(from, scale(subtract(to, from), 1 / size), start + length / 2);
}

/** Stages of a plan with shapes as wishes see them. */
export const wishStages = (plan: Pick<GeometricPlan, 'joints' | 'stages'>): readonly WishStage[] =>
  plan.stages.map((stage) => ({
    part: stage.part,
    grip: lastGrip(stage),
    regrips: Math.max(0, stage.handling.length - 1),
    held: stage.held !== null,
    tacks: everyTack(stage).flatMap((tack) => {
      const joint = plan.joints.find(({ id }) => id === tack.joint);
      const seam = joint?.seams.find(({ id }) => id === tack.seam);
      if (joint === undefined || seam === undefined) return [];
      return [{ between: joint.between, middle: tackMiddle(seam, tack.start, tack.length) }];
    }),
  }));

function lastGrip({ handling, robot }: Stage): WishStage['grip'] {
  const last = handling.at(-1);
  if (last === undefined) return undefined;
  const { gripper, face, position, turn, group = null } = last.grip;
  return { gripper, face, position, turn, group, ...(robot === null ? {} : { robot }) };
}

/** Stages of a plan without shapes as wishes see them. */
export const abstractWishStages = ({ stages }: Pick<AbstractPlan, 'stages'>): readonly WishStage[] =>
  stages.map(({ part, gripper, regrips }) => ({
    ...{ part, regrips },
    grip: { gripper },
    held: false,
    tacks: [],
  }));

const sameWish = (a: Wish, b: Wish): boolean => canonical(a) === canonical(b);

/** Whatever the order in which its fields are written. */
const canonical = (wish: Wish): string => JSON.stringify(Object.entries(wish).sort());

/** Whether a plan states the wishes of its inputs, which of them it keeps, and breaks no hard one. */
export function wishFindings(
  rule: string,
  weldment: Wisher,
  { wishes = [], settings }: Pick<PlanHead, 'wishes' | 'settings'>,
  stages: readonly WishStage[],
): Finding[] {
  const wanted = wishesOf(weldment, settings);
  const own = weldment.wishes?.length ?? 0;
  if (wishes.length !== wanted.length)
    return [
      breach(rule, 'wishes', `${wishes.length} wishes are stated; the inputs have ${wanted.length}`, {
        value: wishes.length,
        limit: wanted.length,
      }),
    ];
  return wanted.flatMap((wish, i) => {
    const stated = wishes[i]!;
    const where = `wishes[${i}]`;
    if (!sameWish(stated.wish, wish) || stated.from !== (i < own ? 'weldment' : 'settings'))
      return [breach(rule, where, 'the wish is not the one that the inputs have in this place')];
    const kept = keepsWish(wish, stages);
    const about = partsOfWish(wish).join(' and ');
    if (!kept && !wish.soft)
      return [breach(rule, where, `the wish about ${about} is not soft, and is broken`)];
    if (kept === stated.kept) return [];
    const [is, says] = kept ? ['kept', 'broken'] : ['broken', 'kept'];
    return [breach(rule, `${where}.kept`, `the wish about ${about} is ${is}, not ${says} as is stated`)];
  });
}

/** Every wish of the inputs is stated, those that are not soft are kept, and of each it is said truly whether it is kept. */
export const wishesTrue: Rule = {
  id: ID,
  forbids:
    'a broken wish that is not soft, and wishes stated other than the inputs have them or than the plan keeps them',
  why: 'whoever wished it must be able to rely on what the plan says of it',
  judge: ({ plan, weldment }) => wishFindings(ID, weldment, plan, wishStages(plan)),
};

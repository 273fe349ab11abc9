import type { Transition } from '../algorithms/problem.js';
import { has } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { siteId, type TackSite } from '../facts/tack-sites.js';
import type { GeometricPlan, Stage } from '../model/plan.js';
import type { CompleteOrder } from './complete.js';
import { demandOf, type MoreAsked, type StageWish } from './demand.js';
import type { OrderProblem } from './order-problem.js';
import type { OrderState } from './order-state.js';
import type { StageDraft } from './stage-draft.js';

/** How many parts are tried to be put in place for each part of the weldment, and how many whole orders; our choice. */
const TRIES = 12;
const MOST_JUDGED = 3;

type Move = Transition<OrderState, StageDraft>;

/**
 * A whole legal order that takes up an earlier plan as far as it is still legal: its parts in its order, each by the grip,
 * with the hold and at the sites that it had; where that cannot be had any more, in another way, and where the part cannot come
 * yet, after the next. Undefined where none is found so within a few tries.
 */
export function takenUp(facts: Facts, problem: OrderProblem, plan: GeometricPlan): CompleteOrder | undefined {
  const { index, parts } = facts.scene;
  const known = plan.stages.flatMap(({ part }) => index.get(part) ?? []);
  const order = [...new Set([...known, ...parts.keys()])];
  const stageOf = new Map(plan.stages.map((stage) => [index.get(stage.part), stage]));
  let tries = TRIES * parts.length;
  let judged = 0;
  const goOn = (state: OrderState, drafts: readonly StageDraft[]): CompleteOrder | undefined => {
    if (state.count === parts.length) {
      judged += 1;
      const said = problem.complete(drafts);
      return said.kind === 'legal' ? said.result : undefined;
    }
    for (const part of order) {
      if (has(state.inPlace, part)) continue;
      tries -= 1;
      if (tries < 0 || judged >= MOST_JUDGED) return undefined;
      const stage = stageOf.get(part);
      for (const { to, step } of likest(
        problem.joining(part, state, stage && asBefore(facts, stage)),
        stage,
      )) {
        const found = goOn(to, [...drafts, step]);
        if (found || tries < 0 || judged >= MOST_JUDGED) return found;
      }
    }
    return undefined;
  };
  return goOn(problem.start, []);
}

/**
 * That a part joins by the grip, with as many regrips, with the hold and at the sites that it had, but for those of them
 * about which something must be met.
 */
function asBefore(facts: Facts, { part, robot, handling, held, tacks }: Stage): MoreAsked | undefined {
  const grip = handling.at(-1)?.grip;
  if (grip === undefined || robot === null) return undefined;
  const hard = { never: false, soft: false, weight: 1 };
  const had: readonly StageWish[] = [
    { ...hard, grip: part, robot, gripper: grip.gripper, face: grip.face, position: grip.position },
    { ...hard, regrips: part, most: handling.length - 1 },
    { ...hard, held: part, never: held === null },
  ];
  const sites = new Set(tacks.map(({ seam, start }) => `${seam}@${start}`));
  const asHad = {
    key: `as before ${[...sites].sort().join(' ')}`,
    allows: (site: TackSite) => sites.has(siteId(site)),
    wished: [],
  };
  return (must) => {
    const kinds = new Set(must.wishes.flatMap((wish) => KINDS.filter((kind) => kind in wish)));
    const kept = had.filter((wish) => !KINDS.some((kind) => kind in wish && kinds.has(kind)));
    return { ...demandOf(facts, [...must.wishes, ...kept]), tacks: must.tacks ?? asHad };
  };
}

const KINDS = ['grip', 'regrips', 'held'] as const;

/** Moves with those first that leave the table at the index angle that the stage had. */
function likest(moves: Iterable<Move>, stage: Stage | undefined): readonly Move[] {
  const all = [...moves];
  const angle = stage?.turn ?? 0;
  return [
    ...all.filter(({ step }) => step.angle === angle),
    ...all.filter(({ step }) => step.angle !== angle),
  ];
}

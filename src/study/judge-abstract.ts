import { addCost, compareCost, type Cost } from '../algorithms/cost.js';
import { fail, ok, type Result } from '../base/result.js';
import { showNames, showValue } from '../io/show.js';
import { PLAN_FORMAT, PLAN_VERSION, type AbstractPlan } from '../model/plan.js';
import { termValue } from '../model/objective.js';
import type { ObjectiveTerm, Settings } from '../model/settings.js';
import type { AbstractWeldment, Way } from '../model/weldment.js';
import { wishesOf, type Wish } from '../model/wish.js';
import { isWayWish, keepsWay } from '../planning/abstract-facts.js';
import { abstractObjective } from '../planning/abstract-plan.js';
import { milliseconds } from '../planning/abstract-ways.js';
import { statedWishes } from '../planning/stated-wishes.js';
import { checkAbstract } from '../rules/check-abstract.js';
import { brokenWeight, tenths } from '../rules/objective-true.js';
import { partsOfWish, weightOf } from '../rules/wish-kept.js';
import { abstractWishStages } from '../rules/wishes-true.js';

/** One stage as it was chosen; `way` is undefined for a part that the file gives none. */
interface Chosen {
  readonly part: string;
  readonly way: Way | undefined;
  readonly changes: number;
  readonly tacks: number;
  /** Of the tacks alone, in the unit of the search. */
  readonly tackTime: number;
}

/** The best stages so far that leave a gripper on the arm. */
interface Kept {
  readonly cost: Cost;
  readonly stages: readonly Chosen[];
}

/**
 * The cost of an order of the parts of a weldment without shapes, each part in the way that makes the whole cheapest;
 * time in milliseconds, as the search counts it. The plan that comes of it is put before every rule of `check`.
 */
export function judgeAbstract(
  weldment: AbstractWeldment,
  settings: Settings,
  order: readonly string[],
): Result<Cost, string> {
  const wrong = misnamed(weldment, order);
  if (wrong !== undefined) return fail(wrong);
  const terms = abstractObjective(weldment, settings);
  const best = bestWays(weldment, terms, wishesOf(weldment, settings), order);
  const plan = planOf(weldment, settings, best);
  const [finding] = checkAbstract(weldment, plan);
  // What the order itself breaks is the same for all ways of the parts.
  const cost = best.cost.map((value, i) => (terms[i] === 'wishes' ? brokenWeight(plan) : value));
  return finding === undefined ? ok(cost) : fail(`${finding.rule}: ${finding.message}`);
}

/** What is wrong with the names alone, in words that quote no more of them than fits into a line. */
function misnamed({ parts }: AbstractWeldment, order: readonly string[]): string | undefined {
  const left = new Set(parts.map(({ id }) => id));
  const known = new Set(left);
  for (const name of order) {
    if (!known.has(name)) return `there is no part ${showValue(name)}`;
    if (!left.delete(name)) return `part ${showValue(name)} comes twice`;
  }
  return left.size > 0 ? `parts never come: ${showNames([...left])}` : undefined;
}

/** Over the order, by the gripper that is left on the arm: costs add up, so that the best of each suffices. */
function bestWays(
  weldment: AbstractWeldment,
  terms: readonly ObjectiveTerm[],
  wishes: readonly Wish[],
  order: readonly string[],
): Kept {
  const toolChange = milliseconds(weldment.times.toolChange);
  let kept = new Map<string, Kept>([['', { cost: terms.map(() => 0), stages: [] }]]);
  const standing = new Set<string>();
  for (const part of order) {
    const given = weldment.parts.find(({ id }) => id === part)!.ways;
    const own = wishes.filter(isWayWish).filter((wish) => partsOfWish(wish)[0] === part);
    const legal = given.filter((way) => own.every((wish) => wish.soft || keepsWay(wish, way)));
    const ways = legal.length === 0 ? given : legal;
    const laid = tacksAt(weldment, part, standing);
    const next = new Map<string, Kept>();
    for (const [mounted, before] of kept) {
      for (const way of ways.length === 0 ? [undefined] : ways) {
        const gripper = way?.gripper || mounted;
        const changes = mounted !== '' && gripper !== mounted ? 1 : 0;
        const time = milliseconds(way?.seconds ?? 0) + laid.tackTime + changes * toolChange;
        const named = {
          ...{ regrips: way?.regrips ?? 0, 'tool-changes': changes, distortion: 0, time },
          wishes: weightOf(own.filter((wish) => !keepsWay(wish, way ?? { gripper: '', regrips: 0 }))),
        };
        const cost = addCost(
          before.cost,
          terms.map((term) => termValue(named, term)),
        );
        const known = next.get(gripper);
        if (known !== undefined && compareCost(known.cost, cost) <= 0) continue;
        next.set(gripper, { cost, stages: [...before.stages, { part, way, changes, ...laid }] });
      }
    }
    kept = next;
    standing.add(part);
  }
  return [...kept.values()].reduce((a, b) => (compareCost(b.cost, a.cost) < 0 ? b : a));
}

/** Tacks on the joints of a part to those that stand. */
function tacksAt(
  { joints, times }: AbstractWeldment,
  part: string,
  standing: ReadonlySet<string>,
): Pick<Chosen, 'tacks' | 'tackTime'> {
  const closed = joints.filter(
    ({ between: [a, b] }) => (a === part && standing.has(b)) || (b === part && standing.has(a)),
  );
  return {
    tacks: closed.reduce((sum, { tacks }) => sum + tacks, 0),
    tackTime: closed.reduce((sum, { tacks }) => sum + milliseconds(tacks * times.tack), 0),
  };
}

/** The plan as a document that the rules can judge; it claims no proof. */
function planOf(weldment: AbstractWeldment, settings: Settings, { stages }: Kept): AbstractPlan {
  const rows = stages.map(({ part, way, changes, tacks, tackTime }, i) => ({
    number: i + 1,
    part,
    gripper: way?.gripper || null,
    regrips: way?.regrips ?? 0,
    tacks,
    seconds: (way?.seconds ?? 0) + tackTime / 1000 + changes * weldment.times.toolChange,
  }));
  const stated = statedWishes(weldment, settings, abstractWishStages({ stages: rows }));
  const values = {
    regrips: rows.reduce((sum, { regrips }) => sum + regrips, 0),
    'tool-changes': stages.reduce((sum, { changes }) => sum + changes, 0),
    distortion: 0,
    time: tenths(rows.reduce((sum, { seconds }) => sum + seconds, 0)),
    wishes: brokenWeight(stated),
  };
  const terms = abstractObjective(weldment, settings);
  return {
    ...{ format: PLAN_FORMAT, version: PLAN_VERSION, kind: 'abstract', settings, stages: rows, ...stated },
    weldment: { name: weldment.name, digest: '' },
    objective: terms.map((term) => ({ term, value: values[term], bound: 0 })),
    proof: {
      ...{ outcome: 'feasible', policies: [], provedTerms: [], bestOf: 1, states: 0, notChecked: [] },
      scope: { parts: rows.length, approaches: 0, grips: 0, rests: 0, sites: 0 },
    },
    ...{ rulesNotApplied: [], warnings: [], cautions: [] },
  };
}

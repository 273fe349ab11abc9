import { addCost, subtractCost, zeroCost, type Cost } from '../algorithms/cost.js';
import { coverBySets, type CostedSet, type SetCover } from '../algorithms/set-cover.js';
import { Budget } from '../base/budget.js';
import type { BuildPattern } from '../model/build-pattern.js';
import type { FamilyCovering } from '../model/family-result.js';
import type { GeometricPlan } from '../model/plan.js';
import type { ObjectiveTerm } from '../model/settings.js';
import { costOf, extraOf } from './costs.js';
import { byName, type Crossing } from './crossing.js';
import type { Member } from './members.js';

/** Choices that are looked at for the covering; tens of thousands a second. Our choice. */
const STEPS = 200_000;

/** The candidates, numbered, and which of them are chosen. */
export interface CoveredFamily {
  /** The chosen ones first, by how many variants they build; then the others; of equals the one that was found first. */
  readonly patterns: readonly BuildPattern[];
  readonly covering: FamilyCovering;
}

/**
 * Chooses the fewest patterns by which every variant of the table is built that any of them builds, then those that cost
 * least beyond the own plans in all, then the first as `Crossing` has them.
 */
export function coverFamily(
  crossing: Crossing,
  members: readonly Member[],
  terms: readonly ObjectiveTerm[],
): CoveredFamily {
  const table = members.filter(({ source }) => source === 'variant');
  const elements = [...table].sort(byName);
  const sets = crossing.patterns.map((pattern) => asSet(crossing, elements, pattern, terms));
  const found = coverBySets(
    { elements: elements.length, sets, terms: terms.length },
    new Budget({ steps: STEPS }),
  );
  const served = (set: number): number => found.servedBy.filter((one) => one === set).length;
  const chosen = [...found.chosen].sort((a, b) => served(b) - served(a) || a - b);
  const others = sets.flatMap((_, set) => (chosen.includes(set) ? [] : [set]));
  const order = [...chosen, ...others];
  const patterns = order.map((set, i) => ({ ...crossing.patterns[set]!, id: `P${i + 1}` }));
  const listed = (wanted: (element: number) => boolean): string[] =>
    table.filter((member) => wanted(elements.indexOf(member))).map(({ name }) => name);
  return {
    patterns,
    covering: {
      chosen: chosen.map((set, i) => ({
        pattern: patterns[i]!.id,
        variants: listed((element) => found.servedBy[element] === set),
      })),
      extra: extraOf(terms, totalExtra(crossing, elements, found, terms)),
      uncovered: listed((element) => found.servedBy[element] === undefined),
      proof: {
        outcome: found.by === 'budget' ? 'found' : 'least',
        ...{ patterns: sets.length, variants: elements.length, bound: found.bound },
        open: openFields(crossing, elements),
        by: found.by === 'apart' ? 'variants-apart' : found.by,
        apart: listed((element) => found.apart.includes(element)),
        ...{ examined: found.steps, costProved: found.costProved },
      },
    },
  };
}

/** How often a pattern counts as not building a variant only because no such plan was found. */
const openFields = (crossing: Crossing, elements: readonly Member[]): number =>
  elements
    .flatMap((member) => crossing.patterns.map((pattern) => crossing.field(member, pattern)))
    .filter((field) => 'open' in field && field.open).length;

/** The variants that a pattern builds, each at what it costs beyond its own plan. */
function asSet(
  crossing: Crossing,
  elements: readonly Member[],
  pattern: BuildPattern,
  terms: readonly ObjectiveTerm[],
): CostedSet {
  const built = elements.flatMap((member, element) => {
    const field = crossing.field(member, pattern);
    return 'plan' in field ? [{ element, cost: beyondOwn(crossing, member, field.plan, terms) }] : [];
  });
  return { members: built.map(({ element }) => element), costs: built.map(({ cost }) => cost) };
}

/** What a plan of a member costs beyond its own; beyond nothing where it has none, which compares patterns as well. */
function beyondOwn(
  crossing: Crossing,
  member: Member,
  plan: GeometricPlan,
  terms: readonly ObjectiveTerm[],
): Cost {
  const own = crossing.own(member);
  const cost = costOf(plan, terms);
  return own.kind === 'planned' ? subtractCost(cost, costOf(own.plan, terms)) : cost;
}

function totalExtra(
  crossing: Crossing,
  elements: readonly Member[],
  { servedBy }: SetCover,
  terms: readonly ObjectiveTerm[],
): Cost {
  return elements.reduce((sum, member, element) => {
    const set = servedBy[element];
    if (set === undefined || crossing.own(member).kind !== 'planned') return sum;
    const field = crossing.field(member, crossing.patterns[set]!);
    return 'plan' in field ? addCost(sum, beyondOwn(crossing, member, field.plan, terms)) : sum;
  }, zeroCost(terms.length));
}

import type { SecondsLeft } from '../../base/seconds-left.js';
import type { Facts } from '../../facts/facts.js';
import { issueAt } from '../../io/issue-at.js';
import type { Issue } from '../../model/issue.js';
import type { GeometricPlan } from '../../model/plan.js';
import type { PlanWhole } from '../../model/plan-whole.js';
import type { SubAssembly } from '../../model/sub-assembly.js';
import { together } from '../../rules/whole-totals.js';
import type { PlanOutcome } from '../plan-outcome.js';
import { autoSplit, type InOnePiece } from './auto-split.js';
import { lyingRests } from './lying.js';
import { SplitPlanner, type PieceInputs, type SplitGround, type SplitOutcome } from './split-plan.js';

type Planned = Extract<PlanOutcome, { kind: 'planned' }>;

/** What planning with sub-assemblies needs beside what one split needs. */
export interface ApartGround extends SplitGround {
  /** Of the weldment in one piece. */
  readonly facts: Facts;
  readonly time: SecondsLeft;
  readonly isStopped: () => boolean;
}

/** Share of the seconds that planning in one piece has, of those for the search for sub-assemblies too (our choice). */
const IN_ONE_PIECE_SHARE = 0.4;

/** Plans a weldment whose file names its sub-assemblies. */
export function plannedAsGiven(ground: ApartGround, groups: readonly SubAssembly[]): PlanOutcome {
  const { inputs, facts, warnings, time } = ground;
  const lying = groups.map((group) => ({
    group,
    rest: lyingRests(inputs.weldment, group, inputs.settings)[0],
  }));
  const tipping = lying.flatMap(({ group, rest }, i) =>
    rest === undefined ? [liesNowhere(ground, group, i)] : [],
  );
  if (tipping.length > 0) return { kind: 'bad-input', issues: [...warnings, ...tipping] };
  const placed = lying.map(({ group, rest }) => ({ ...group, rest: rest! }));
  const outcome = new SplitPlanner(ground).plan(placed, time);
  if (outcome.kind === 'planned') {
    const { plan, totals } = outcome;
    return plannedAs(withWhole(plan, { asked: 'given', ...totals }), facts, warnings);
  }
  return unplannedAs(outcome, groups, ground);
}

const plannedAs = (plan: GeometricPlan, { scene }: Facts, warnings: readonly Issue[]): Planned => ({
  ...{ kind: 'planned', plan, contacts: scene.contacts.length, warnings },
});

const withWhole = (
  plan: GeometricPlan,
  { asked, objective, changesBetween, ...more }: PlanWhole,
): GeometricPlan => ({
  ...plan,
  whole: { asked, objective, changesBetween, ...more },
});

const liesNowhere = ({ inputs }: ApartGround, { name }: SubAssembly, i: number): Issue =>
  issueAt(inputs.weldmentDocument, ['sub-assemblies', i], {
    ...{ code: 'sub-assembly-lies-nowhere', severity: 'error' },
    problem: `${name} lies on no flat face without tipping or rolling`,
    remedy: 'group other parts',
  });

/** Why there is no plan with given sub-assemblies, with the one that has none named. */
function unplannedAs(
  outcome: Exclude<SplitOutcome, { kind: 'planned' }>,
  groups: readonly SubAssembly[],
  { inputs, warnings }: ApartGround,
): PlanOutcome {
  switch (outcome.kind) {
    case 'dearer':
      throw new RangeError('given sub-assemblies are compared with nothing');
    case 'refused':
      return { kind: 'defect', findings: outcome.findings };
    case 'unplanned': {
      const { of, outcome: why } = outcome;
      const i = groups.findIndex(({ name }) => name === of);
      if (why.kind === 'bad-input')
        return {
          kind: 'bad-input',
          issues: [...warnings, ...why.issues.map((issue) => ofGroup(issue, of, i, inputs))],
        };
      if (why.kind === 'defect') return why;
      return { ...why, warnings, ...(i >= 0 && { of }) };
    }
  }
}

/** An issue of a weldment that is no file, told at the entry of its sub-assembly. */
const ofGroup = (issue: Issue, of: string, i: number, { weldmentDocument }: PieceInputs): Issue => {
  const { code, severity, problem, remedy } = issue;
  const path = i < 0 ? ['sub-assemblies'] : ['sub-assemblies', i];
  return issueAt(weldmentDocument, path, { code, severity, problem: `${of}: ${problem}`, remedy });
};

/** Plans a weldment in one piece and by sub-assemblies that promise something, and gives the best of these plans. */
export function plannedAsBest(ground: ApartGround): PlanOutcome {
  const { inputs, piece, time, warnings, facts } = ground;
  const left = time.left();
  const outcome = piece(inputs, left === undefined ? undefined : left * IN_ONE_PIECE_SHARE);
  if (outcome.kind === 'bad-input' || outcome.kind === 'defect') return outcome;
  const { best, search } = autoSplit({ ...ground, planner: new SplitPlanner(ground), inOnePiece: outcome });
  if (best === undefined) return outcome.kind === 'planned' ? outcome : { ...outcome, splits: search };
  const told = { asked: 'auto' as const, ...best.totals, inOnePiece: onePieceOf(outcome), search };
  return plannedAs(withWhole(best.plan, told), facts, warnings);
}

function onePieceOf(outcome: InOnePiece): NonNullable<PlanWhole['inOnePiece']> {
  if (outcome.kind !== 'planned') return { outcome: outcome.kind };
  return { outcome: 'planned', objective: together([outcome.plan as GeometricPlan]).objective };
}

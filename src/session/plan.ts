import type { LinearPrograms } from '../algorithms/linear-program.js';
import type { SearchProgress } from '../algorithms/problem.js';
import { Budget, type BudgetLimits } from '../base/budget.js';
import type { Facts } from '../facts/facts.js';
import type { Finding } from '../model/finding.js';
import type { Issue } from '../model/issue.js';
import { issueLine } from '../model/issue.js';
import type { GeometricPlan, Plan } from '../model/plan.js';
import type { Refusal } from '../model/verdict.js';
import type { Settings } from '../model/settings.js';
import type { AbstractWeldment, Weldment } from '../model/weldment.js';
import { abstractDocument, abstractReasons, planAbstract } from '../planning/abstract-plan.js';
import { planDocument } from '../planning/document.js';
import { explainImpossible } from '../planning/impossible.js';
import { factsOf, planWeldment, type PlanningReport } from '../planning/plan.js';
import { tradedOrders } from '../planning/trade.js';
import type { TradedTerms } from '../planning/traded-terms.js';
import { tradedAbstractly } from '../planning/abstract-trade.js';
import { withWeld } from '../planning/weld-order.js';
import { provedProperties } from '../rules/handshakes-safe.js';
import { exploredWitness } from '../rules/run-witness.js';
import { runFaults } from '../rules/fault-run.js';
import type { RuleContext } from '../rules/rule.js';
import { findingsOf } from './check.js';
import { cleanedByHand, cleanerIssues } from './cleaner.js';
import { contradictions } from './contradictions.js';
import { readInputs, type Inputs, type Sources } from './inputs.js';

/** What planning came to. `defect`: our own plan breaks a rule, which must never happen and is never written. */
export type PlanOutcome =
  | {
      readonly kind: 'planned';
      readonly plan: Plan;
      /** Pairs of parts that meet; undefined where the weldment has none to say. */
      readonly contacts: number | undefined;
      readonly warnings: readonly Issue[];
      /** What was asked for by `trade`. */
      readonly trade?: Trade | undefined;
    }
  | { readonly kind: 'bad-input'; readonly issues: readonly Issue[] }
  | {
      readonly kind: 'impossible';
      readonly reasons: readonly Refusal[];
      readonly scope: 'any' | 'candidates';
      readonly warnings: readonly Issue[];
    }
  | {
      /** No plan found and nothing proved: the budget ended, or `refused` whole orders fell in the last judgement. */
      readonly kind: 'none-found';
      readonly states: number;
      readonly refused: number;
      /** Why whole orders fell, each with its nearest miss. */
      readonly reasons: readonly Refusal[];
      readonly warnings: readonly Issue[];
    }
  | { readonly kind: 'defect'; readonly findings: readonly Finding[] };

/** Plans between two terms of the objective. */
export interface Trade {
  readonly terms: TradedTerms;
  /** How many complete orders were compared. */
  readonly completed: number;
  /** Of these no other one is as good in both terms and better in one, least of the first term first; all have passed the rules. */
  readonly plans: readonly Plan[];
}

export interface PlanSessionOptions {
  readonly programs: LinearPrograms;
  /** Overrides of the settings file. */
  readonly seed?: number | undefined;
  readonly steps?: number | undefined;
  readonly seconds?: number | undefined;
  /** Asks for the plans between two terms too; two more searches. */
  readonly trade?: TradedTerms | undefined;
  /** Whether the plan shall have an order for the full welds; a weldment without shapes has none. */
  readonly weld?: boolean | undefined;
  readonly clock?: BudgetLimits['clock'];
  readonly stopRequested?: BudgetLimits['stopRequested'];
  readonly onProgress?: ((progress: SearchProgress) => void) | undefined;
}

/** Reads, plans, checks. Nothing is returned as planned that the rules do not pass. */
export function planSession(sources: Sources, options: PlanSessionOptions): PlanOutcome {
  const { inputs, issues } = readInputs(sources);
  if (!inputs) return { kind: 'bad-input', issues };
  const untradable = tradeIssues(inputs, sources, options);
  if (untradable.length > 0) return { kind: 'bad-input', issues: [...inputs.warnings, ...untradable] };
  const settings = withOverrides(inputs.settings, options);
  const used = { ...inputs, settings };
  return inputs.weldment.kind === 'geometric'
    ? planGeometric(inputs.weldment, used, options)
    : planAbstractly(inputs.weldment, used, options);
}

/** Parts without shapes have no distortion that could be traded. */
const tradeIssues = ({ weldment }: Inputs, sources: Sources, { trade }: PlanSessionOptions): Issue[] =>
  weldment.kind === 'abstract' && trade?.includes('distortion') === true
    ? [
        {
          ...{ code: 'no-shapes', severity: 'error', file: sources.weldment.name, line: 0, path: '' },
          problem: 'the parts have no shapes, so that there is no distortion to trade',
          remedy: 'trade two of regrips, tool-changes and time',
        },
      ]
    : [];

function withOverrides(settings: Settings, { seed, steps, seconds }: PlanSessionOptions): Settings {
  return {
    ...settings,
    seed: seed ?? settings.seed,
    budget: {
      steps: steps ?? settings.budget.steps,
      ...((seconds ?? settings.budget.seconds) === undefined
        ? {}
        : { seconds: seconds ?? settings.budget.seconds }),
    },
  };
}

/** Makes the budgets of the searches of a session: the steps for each of them, and for all together the seconds. */
function budgetsOf({ budget }: Settings, { clock, stopRequested }: PlanSessionOptions): () => Budget {
  const { steps, seconds } = budget;
  const begun = clock?.() ?? 0;
  return () => {
    const spent = clock === undefined ? 0 : clock() - begun;
    const left = seconds === undefined ? undefined : Math.max(0, seconds - spent);
    return new Budget({ steps, seconds: left, clock, stopRequested });
  };
}

function planGeometric(weldment: Weldment, inputs: Inputs, options: PlanSessionOptions): PlanOutcome {
  const { settings, warnings } = inputs;
  const cell = inputs.cell!;
  const facts = factsOf(weldment, cell, settings, options.programs);
  const contradicted = [
    ...contradictions(facts, inputs.weldmentDocument),
    ...cleanerIssues(facts.scene, settings, inputs.cellDocument!),
  ];
  if (contradicted.length > 0) return { kind: 'bad-input', issues: [...warnings, ...contradicted] };
  const report = planWeldment(facts, {
    budget: budgetsOf(settings, options),
    onProgress: options.onProgress,
  });
  const { outcome, best, counters } = report.search;
  if (outcome === 'impossible' && counters.refused === 0) {
    const { scope, reasons } = explainImpossible(facts);
    return { kind: 'impossible', scope, reasons, warnings };
  }
  // Orders refused as a whole had each part's best-ranked grip only: that is no proof.
  if (!best)
    return {
      ...{ kind: 'none-found', states: counters.expanded, refused: counters.refused },
      ...{ reasons: report.orderRefusals, warnings },
    };
  const named = {
    weldment: { name: weldment.name, digest: inputs.weldmentDigest },
    cell: { name: cell.name, digest: inputs.cellDigest },
    warnings: [...warnings.map(issueLine), ...cleanedByHand(cell)],
  };
  const { scene } = facts;
  const planOf = (one: PlanningReport): Plan => {
    const plan = planDocument(one, named);
    const whole = options.weld === true ? withWeld(plan, { scene, cell, settings }) : plan;
    return withProof(whole, facts);
  };
  const planned = checked(planOf(report), scene.contacts.length, inputs, options);
  if (planned.kind !== 'planned' || options.trade === undefined) return planned;
  const { completed, reports } = tradedOrders(report, options.trade);
  const plans = reports.map((one) => (one === report ? planned.plan : planOf(one)));
  return withTrade(planned, { terms: options.trade, completed, plans }, inputs, options);
}

/** The outcome with the plans of a trade, each of which must pass the rules. */
function withTrade(
  planned: PlanOutcome & { kind: 'planned' },
  trade: Trade,
  inputs: Inputs,
  { programs }: PlanSessionOptions,
): PlanOutcome {
  const findings = trade.plans.flatMap((plan) =>
    plan === planned.plan ? [] : findingsOf(plan, inputs, programs),
  );
  return findings.length > 0 ? { kind: 'defect', findings } : { ...planned, trade };
}

/** Puts what the exploration of the programs proves into the plan. */
function withProof(plan: GeometricPlan, { scene, settings, programs }: Facts): GeometricPlan {
  const { weldment, cell } = scene;
  const byHand = plan.stages.some(({ manual }) => manual !== undefined);
  const properties = [...provedProperties(cell, settings.handshakes.kind, byHand)];
  const safety = { ...plan.safety, properties, witness: exploredWitness(plan) };
  return withFaults({ ...plan, safety }, { weldment, cell, settings, scene, programs });
}

/** Puts the table of faults into the plan, and what it means for whoever is in the cell. */
export function withFaults(plan: GeometricPlan, context: Omit<RuleContext, 'plan'>): GeometricPlan {
  const run = runFaults({ ...context, plan });
  if (run === undefined) return plan;
  const { rows: faultRows, dropZones } = run;
  const falling = dropZones.map(
    ({ part, gripper, stage, from: [left, near], to: [right, far] }) =>
      `${part} is carried by ${gripper} in stage ${stage}, which keeps nothing when power is lost: guard the drop zone under its way, x ${left} to ${right} and y ${near} to ${far} mm in the cell (an estimate)`,
  );
  return {
    ...plan,
    warnings: [...plan.warnings, ...falling],
    safety: { ...plan.safety, faults: [...run.faults], faultRows, dropZones: [...dropZones] },
  };
}

function checked(
  plan: Plan,
  contacts: number | undefined,
  inputs: Inputs,
  { programs }: PlanSessionOptions,
): PlanOutcome {
  const findings = findingsOf(plan, inputs, programs);
  return findings.length > 0
    ? { kind: 'defect', findings }
    : { kind: 'planned', plan, contacts, warnings: inputs.warnings };
}

function planAbstractly(
  weldment: AbstractWeldment,
  inputs: Inputs,
  options: PlanSessionOptions,
): PlanOutcome {
  const { settings, warnings } = inputs;
  const budget = budgetsOf(settings, options);
  const report = planAbstract(weldment, settings, { budget: budget(), onProgress: options.onProgress });
  const { outcome, best, counters } = report;
  if (outcome === 'impossible')
    return { kind: 'impossible', scope: 'any', reasons: abstractReasons(weldment), warnings };
  if (!best) return { kind: 'none-found', states: counters.expanded, refused: 0, reasons: [], warnings };
  const named = {
    weldment: { name: weldment.name, digest: inputs.weldmentDigest },
    warnings: warnings.map(issueLine),
  };
  const plan = abstractDocument(report, weldment, settings, named);
  const planned = checked(plan, weldment.contacts?.length, inputs, options);
  if (planned.kind !== 'planned' || options.trade === undefined) return planned;
  const { completed, reports } = tradedAbstractly(report, weldment, settings, {
    terms: options.trade,
    budget,
  });
  const plans = reports.map((one) =>
    one === report ? plan : abstractDocument(one, weldment, settings, named),
  );
  return withTrade(planned, { terms: options.trade, completed, plans }, inputs, options);
}

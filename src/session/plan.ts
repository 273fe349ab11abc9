import type { LinearPrograms } from '../algorithms/linear-program.js';
import type { Cost, SearchProgress } from '../algorithms/problem.js';
import { Budget, type BudgetLimits } from '../base/budget.js';
import type { Facts } from '../facts/facts.js';
import type { DeepestParts } from '../model/deepest-parts.js';
import type { Finding } from '../model/finding.js';
import type { Issue } from '../model/issue.js';
import { issueLine } from '../model/issue.js';
import type { GeometricPlan, Plan } from '../model/plan.js';
import type { RemedySearch, TriedRemedy } from '../model/tried-remedy.js';
import type { Refusal } from '../model/verdict.js';
import { objectiveOf } from '../model/objective.js';
import type { ObjectiveTerm, Settings } from '../model/settings.js';
import type { AbstractWeldment, Weldment } from '../model/weldment.js';
import { wishesOf } from '../model/wish.js';
import { explainAbstract } from '../planning/abstract-impossible.js';
import { abstractDocument, abstractObjective, planAbstract } from '../planning/abstract-plan.js';
import { planDocument } from '../planning/document.js';
import { explainImpossible, type ReasonSet } from '../planning/impossible.js';
import { leftOutOf } from '../planning/left-out.js';
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
import { contradictions, unjoinedWishes } from './contradictions.js';
import { abstractMistakes, likelyMistakes } from './guidance/likely-mistakes.js';
import { unitsFirst } from './guidance/units-first.js';
import { readInputs, type Inputs, type Source, type Sources } from './inputs.js';
import { isBetter, readWarmStart, type WarmStart, type WarmStartTold } from './warm-start.js';

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
      /** What became of the plan that was started from. */
      readonly start?: WarmStartTold | undefined;
    }
  | { readonly kind: 'bad-input'; readonly issues: readonly Issue[] }
  | {
      readonly kind: 'impossible';
      /** A minimal set of facts that together rule every plan out. */
      readonly reasons: readonly Refusal[];
      readonly scope: 'any' | 'candidates';
      /** How many of the reasons are proved to be needed. */
      readonly needed: number;
      /** Further sets, independent of the first and of one another. */
      readonly also: readonly ReasonSet[];
      /** Whether there may be further sets. */
      readonly mayBeMore: boolean;
      readonly warnings: readonly Issue[];
      /** Changes with each of which a plan was found, cheapest first; absent when none were tried. */
      readonly remedies?: readonly TriedRemedy[];
      /** What was tried for them. */
      readonly remedySearch?: Omit<RemedySearch, 'remedies'>;
    }
  | {
      /** No plan found and nothing proved: the budget ended, or `refused` whole orders fell in the last judgement. */
      readonly kind: 'none-found';
      readonly states: number;
      readonly refused: number;
      /** Why whole orders fell, each with its nearest miss. */
      readonly reasons: readonly Refusal[];
      /** Whether every order was looked at, so that all there are fell. */
      readonly exhausted: boolean;
      /** States that were still waiting; undefined where they are not counted. */
      readonly waiting?: number | undefined;
      /** What no order costs less than, as far as is proved, by terms of the objective. */
      readonly bound: readonly { readonly term: ObjectiveTerm; readonly value: number }[];
      /** How far the search got; undefined for a weldment without shapes. */
      readonly deepest?: DeepestParts | undefined;
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
  /** A plan document to start from: the outcome is never worse than it, where it is still legal. */
  readonly from?: Source | undefined;
  /**
   * A plan of these inputs to take up as far as it is legal, so that the outcome is like it where that costs nothing.
   * Unlike `from` it is not compared with the outcome.
   */
  readonly near?: Plan | undefined;
  /** Facts of the same files, by settings that differ at most as `Facts.under` says: for one more plan of them. */
  readonly facts?: Facts | undefined;
  /** False leaves out why there is no plan where there is none: for whoever only asks whether there is one. */
  readonly reasons?: boolean | undefined;
  /** Ends with the first plan that is found, good or not: for whoever only asks whether there is one. */
  readonly firstOnly?: boolean | undefined;
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
  return planInputs(inputs, options);
}

/** Plans what was read, also with a cell, settings or a weldment that were changed since. */
export function planInputs(inputs: Inputs, options: PlanSessionOptions): PlanOutcome {
  const settings = withOverrides(inputs.settings, options);
  const used = { ...inputs, settings };
  if (options.from === undefined) return planned(used, options, options.near);
  const { value: start, issues } = readWarmStart(options.from, used, options.programs);
  if (start === undefined) return { kind: 'bad-input', issues: [...inputs.warnings, ...issues] };
  const outcome = planned({ ...used, warnings: [...inputs.warnings, ...issues] }, options, start.plan);
  return neverWorse(outcome, start, used);
}

const planned = (inputs: Inputs, options: PlanSessionOptions, start?: Plan): PlanOutcome =>
  inputs.weldment.kind === 'geometric'
    ? planGeometric(inputs.weldment, inputs, options, start)
    : planAbstractly(inputs.weldment, inputs, options, start);

/** The outcome, or the plan that was started from where that is legal and better, or the only one. */
function neverWorse(outcome: PlanOutcome, { plan, findings }: WarmStart, inputs: Inputs): PlanOutcome {
  if (outcome.kind === 'bad-input' || outcome.kind === 'defect') return outcome;
  const told = { legal: findings.length === 0, stoppedBy: findings[0] };
  const found = outcome.kind === 'planned' ? outcome : undefined;
  if (!told.legal || (found && !isBetter(plan, found.plan)))
    return found ? { ...found, start: { ...told, kept: false } } : outcome;
  const { contacts } = inputs.weldment;
  return {
    ...{ kind: 'planned', plan, contacts: found ? found.contacts : contacts?.length },
    ...{ warnings: outcome.warnings, start: { ...told, kept: true } },
  };
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

function planGeometric(
  weldment: Weldment,
  read: Inputs,
  options: PlanSessionOptions,
  start?: Plan,
): PlanOutcome {
  const { settings } = read;
  const cell = read.cell!;
  const facts = options.facts?.under(settings) ?? factsOf(weldment, cell, settings, options.programs);
  const mistakes = likelyMistakes(facts, read);
  const inputs = { ...read, warnings: [...read.warnings, ...mistakes] };
  const { warnings } = inputs;
  const contradicted = [
    ...contradictions(facts, inputs.weldmentDocument),
    ...unjoinedWishes(
      facts,
      { weldment: inputs.weldmentDocument, settings: inputs.settingsDocument },
      settings,
    ),
    ...cleanerIssues(facts.scene, settings, inputs.cellDocument!),
  ];
  if (contradicted.length > 0)
    return {
      kind: 'bad-input',
      issues: unitsFirst(read.warnings, contradicted) ?? [...read.warnings, ...contradicted, ...mistakes],
    };
  const budget = budgetsOf(settings, options);
  const report = planWeldment(facts, {
    ...{ budget, onProgress: options.onProgress, firstOnly: options.firstOnly },
    ...(start?.kind === 'geometric' && { from: start }),
  });
  const { outcome, best, counters } = report.search;
  if (outcome === 'impossible' && counters.refused === 0) {
    if (options.reasons === false) return { kind: 'impossible', scope: 'candidates', ...UNASKED, warnings };
    return { kind: 'impossible', ...explainImpossible(facts, budget), warnings };
  }
  // Orders refused as a whole had each part's best-ranked grip only: that is no proof.
  if (!best) return noneFound(report, warnings, options);
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
  const own = checked(planOf(report), scene.contacts.length, inputs, options);
  if (own.kind !== 'planned' || options.trade === undefined) return own;
  const { completed, reports } = tradedOrders(report, options.trade);
  const plans = reports.map((one) => (one === report ? own.plan : planOf(one)));
  return withTrade(own, { terms: options.trade, completed, plans }, inputs, options);
}

/** Where nobody asked why there is no plan. */
const UNASKED = { reasons: [], needed: 0, also: [], mayBeMore: true } as const;

type NoneFound = Extract<PlanOutcome, { kind: 'none-found' }>;

/** What was still open when a search ended without a plan and without a proof. */
function noneFound(
  { facts, search, run, orderRefusals }: PlanningReport,
  warnings: readonly Issue[],
  { stopRequested }: PlanSessionOptions,
): PlanOutcome {
  const { outcome, counters, waiting, bound } = search;
  const exhausted = outcome === 'impossible';
  const { state } = run.deepest;
  const terms = objectiveOf(facts.scene.weldment, facts.settings);
  return {
    ...{ kind: 'none-found', states: counters.expanded, refused: counters.refused },
    ...{ reasons: orderRefusals, exhausted, waiting, warnings },
    bound: exhausted ? [] : boundOf(terms, bound),
    deepest: state && !exhausted ? leftOutOf(facts, state, stopRequested) : undefined,
  };
}

/** As in a plan: time in tenths of a second, which for a bound are cut. */
const boundOf = (terms: readonly ObjectiveTerm[], bound: Cost): NoneFound['bound'] =>
  terms.map((term, i) => ({ term, value: term === 'time' ? Math.floor(bound[i]! / 100) : bound[i]! }));

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
  read: Inputs,
  options: PlanSessionOptions,
  start?: Plan,
): PlanOutcome {
  const { settings, weldmentDocument } = read;
  const warnings = [...read.warnings, ...abstractMistakes(weldment, weldmentDocument)];
  const inputs = { ...read, warnings };
  const budget = budgetsOf(settings, options);
  const report = planAbstract(weldment, settings, {
    budget: budget(),
    onProgress: options.onProgress,
    from: start?.kind === 'abstract' ? start.stages : undefined,
  });
  const { outcome, best, counters } = report;
  if (outcome === 'impossible')
    return {
      kind: 'impossible',
      ...(options.reasons === false
        ? { scope: 'any', ...UNASKED }
        : explainAbstract(weldment, wishesOf(weldment, settings))),
      warnings,
    };
  if (!best)
    return {
      ...{ kind: 'none-found', states: counters.expanded, refused: 0, reasons: [], warnings },
      ...{ exhausted: false, waiting: report.waiting },
      bound: boundOf(abstractObjective(weldment, settings), report.bound),
    };
  const named = {
    weldment: { name: weldment.name, digest: inputs.weldmentDigest },
    warnings: warnings.map(issueLine),
  };
  const plan = abstractDocument(report, weldment, settings, named);
  const own = checked(plan, weldment.contacts?.length, inputs, options);
  if (own.kind !== 'planned' || options.trade === undefined) return own;
  const { completed, reports } = tradedAbstractly(report, weldment, settings, {
    terms: options.trade,
    budget,
  });
  const plans = reports.map((one) =>
    one === report ? plan : abstractDocument(one, weldment, settings, named),
  );
  return withTrade(own, { terms: options.trade, completed, plans }, inputs, options);
}

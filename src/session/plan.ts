import type { Cost } from '../algorithms/problem.js';
import { Budget } from '../base/budget.js';
import { secondsFromNow } from '../base/seconds-left.js';
import type { Facts } from '../facts/facts.js';
import { issueAt } from '../io/issue-at.js';
import type { Issue } from '../model/issue.js';
import { issueLine } from '../model/issue.js';
import type { GeometricPlan, Plan } from '../model/plan.js';
import { objectiveOf } from '../model/objective.js';
import type { ObjectiveTerm, Settings } from '../model/settings.js';
import type { SubAssemblyWish } from '../model/sub-assembly.js';
import type { AbstractWeldment, Weldment } from '../model/weldment.js';
import { wishesOf } from '../model/wish.js';
import { explainAbstract } from '../planning/abstract-impossible.js';
import { abstractDocument, abstractObjective, planAbstract } from '../planning/abstract-plan.js';
import { planDocument } from '../planning/document.js';
import { explainImpossible } from '../planning/impossible.js';
import { leftOutOf } from '../planning/left-out.js';
import { factsOf, planWeldment, type PlanningReport } from '../planning/plan.js';
import { wayOfPlan } from '../planning/start-way.js';
import { tradedOrders } from '../planning/trade.js';
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
import type { PlanOutcome, PlanSessionOptions, Trade } from './plan-outcome.js';
import { readInputs, type Inputs, type Sources } from './inputs.js';
import { plannedAsBest, plannedAsGiven, type ApartGround } from './sub-assemblies/planned-apart.js';
import type { PieceInputs } from './sub-assemblies/split-plan.js';
import { isBetter, readWarmStart, type WarmStart } from './warm-start.js';

export type { PlanOutcome, PlanSessionOptions, Trade } from './plan-outcome.js';

/** Reads, plans, checks. Nothing is returned as planned that the rules do not pass. */
export function planSession(sources: Sources, options: PlanSessionOptions): PlanOutcome {
  const { inputs, issues } = readInputs(sources);
  if (!inputs) return { kind: 'bad-input', issues };
  const unfit = [...tradeIssues(inputs, sources, options), ...onePieceIssues(inputs, options)];
  if (unfit.length > 0) return { kind: 'bad-input', issues: [...inputs.warnings, ...unfit] };
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

function planned(inputs: Inputs, options: PlanSessionOptions, start?: Plan): PlanOutcome {
  const { weldment } = inputs;
  if (weldment.kind === 'abstract') return planAbstractly(weldment, inputs, options, start);
  const { subAssemblies = 'off' } = weldment;
  return subAssemblies === 'off'
    ? planGeometric(weldment, inputs, options, start)
    : planApart({ ...inputs, weldment }, subAssemblies, options);
}

/** Plans with sub-assemblies: each of them, and the weldment that has them as parts, as a weldment in one piece. */
function planApart(
  inputs: PieceInputs,
  wish: Exclude<SubAssemblyWish, 'off'>,
  options: PlanSessionOptions,
): PlanOutcome {
  const { weldment, cell, settings } = inputs;
  const { programs, clock, stopRequested } = options;
  const facts = options.facts?.under(settings) ?? factsOf(weldment, cell!, settings, programs);
  const { warnings, issues } = mistakesIn(facts, inputs);
  if (issues.length > 0) return { kind: 'bad-input', issues };
  const ground: ApartGround = {
    ...{ inputs, facts, warnings, programs },
    piece: (piece, seconds) => {
      const own = { ...options, within: seconds, facts: piece === inputs ? facts : undefined };
      return planGeometric(piece.weldment, piece, own, undefined, piece !== inputs);
    },
    judge: (plan) => findingsOf(plan, inputs, programs),
    time: secondsFromNow(settings.budget.seconds, clock),
    isStopped: () => stopRequested?.() === true,
  };
  return wish === 'auto' ? plannedAsBest(ground) : plannedAsGiven(ground, wish);
}

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

/** What is asked for and told of a weldment in one piece only. */
function onePieceIssues({ weldment, weldmentDocument }: Inputs, options: PlanSessionOptions): Issue[] {
  if (weldment.kind === 'abstract' || (weldment.subAssemblies ?? 'off') === 'off') return [];
  const asked = [
    ...(options.trade ? ['a trade between terms'] : []),
    ...(options.weld === true ? ['an order for the full welds'] : []),
    ...(options.from ? ['an earlier plan to start from'] : []),
  ];
  return asked.map((what) =>
    issueAt(weldmentDocument, ['sub-assemblies'], {
      ...{ code: 'in-one-piece-only', severity: 'error' },
      problem: `${what} is for weldments in one piece only, and this file asks for sub-assemblies`,
      remedy: 'write `sub-assemblies: off`, or leave that out',
    }),
  );
}

/** Settings with what a call asks for instead of theirs. */
export function withOverrides(
  settings: Settings,
  { seed, steps, seconds }: Pick<PlanSessionOptions, 'seed' | 'steps' | 'seconds'>,
): Settings {
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
function budgetsOf({ budget }: Settings, { clock, stopRequested, within }: PlanSessionOptions): () => Budget {
  const time = secondsFromNow(within ?? budget.seconds, clock);
  return () => new Budget({ steps: budget.steps, seconds: time.left(), clock, stopRequested });
}

function planGeometric(
  weldment: Weldment,
  read: Inputs,
  options: PlanSessionOptions,
  start?: Plan,
  isPart = false,
): PlanOutcome {
  const { settings } = read;
  const cell = read.cell!;
  const facts = options.facts?.under(settings) ?? factsOf(weldment, cell, settings, options.programs);
  const { warnings, issues } = isPart ? mistakesInPart(facts, read) : mistakesIn(facts, read);
  if (issues.length > 0) return { kind: 'bad-input', issues };
  const inputs = { ...read, warnings };
  const budget = budgetsOf(settings, options);
  const report = planWeldment(facts, {
    ...{ budget, onProgress: options.onProgress, firstOnly: options.firstOnly, enough: options.enough },
    ...(start?.kind === 'geometric' && { from: wayOfPlan(start) }),
    ...{ begin: options.begin, saving: options.saving },
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

/** What speaks against the files: warnings, and where they contradict themselves every issue. */
interface Mistakes {
  readonly warnings: readonly Issue[];
  readonly issues: readonly Issue[];
}

function mistakesIn(facts: Facts, read: Inputs): Mistakes {
  const { weldmentDocument: weldment, settingsDocument: settings } = read;
  const mistakes = likelyMistakes(facts, read);
  const contradicted = [
    ...contradictions(facts, weldment),
    ...unjoinedWishes(facts, { weldment, settings }, read.settings),
    ...cleanerIssues(facts.scene, read.settings, read.cellDocument!),
  ];
  const all = [...read.warnings, ...contradicted, ...mistakes];
  return {
    warnings: [...read.warnings, ...mistakes],
    issues: contradicted.length === 0 ? [] : (unitsFirst(read.warnings, contradicted) ?? all),
  };
}

/** The same of a sub-assembly, or of a weldment that has some as parts: what is no matter of how it is split was told of the whole. */
const mistakesInPart = (facts: Facts, { weldmentDocument, warnings }: Inputs): Mistakes => ({
  warnings,
  issues: contradictions(facts, weldmentDocument),
});

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

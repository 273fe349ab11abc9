import type { Facts } from '../facts/facts.js';
import { seenGrip } from '../facts/seen-grip.js';
import type { BuildPattern } from '../model/build-pattern.js';
import type { Limit } from '../model/family-result.js';
import type { GeometricPlan } from '../model/plan.js';
import { wishesOf, type Wish } from '../model/wish.js';
import { findingsText } from '../report/findings-text.js';
import { isGrip } from '../rules/wish-kept.js';
import type { Inputs } from '../session/inputs.js';
import { planInputs, type PlanOutcome, type PlanSessionOptions } from '../session/plan.js';
import { limitOf, limitsOf } from './limits.js';
import { isBuiltBy, otherThan } from './other-pattern.js';
import { patternOf, type Built } from './pattern.js';
import { wayOfPattern, wishesOfPattern } from './pattern-wishes.js';
import type { FamilyTask, FamilyTaskResult } from './task.js';

/** What planning a variant, by itself or by a pattern, takes beside its files. */
export type VariantOptions = Pick<
  PlanSessionOptions,
  'programs' | 'seed' | 'steps' | 'seconds' | 'clock' | 'stopRequested'
> & {
  /** Of the variant by its own settings. */
  readonly facts: Facts;
};

/** What became of a variant: its plan, or why there is none. */
export type VariantOutcome =
  | { readonly kind: 'planned'; readonly plan: GeometricPlan; readonly leastSaving?: number }
  | Exclude<FamilyTaskResult, { readonly kind: 'planned' }>;

/**
 * Milliseconds that another way saves at least to be better than a pattern that the variant may be like: as finely as plans
 * state their time (our choice). A pattern of its own for less would be followed with every other variant in vain.
 */
const WORTH_ANOTHER_PATTERN = 100;

/**
 * The best plan of a variant, by one of the patterns that it may be `like` where none is better, or none but by less than a
 * tenth of a second; with `quick` a plan is enough where nothing but its time could be better. An Error where our own plan
 * breaks a rule, which is a defect.
 */
export function planVariant(
  inputs: Inputs,
  built: Built,
  options: VariantOptions,
  { like = [], quick: enough }: Pick<Extract<FamilyTask, { kind: 'own' }>, 'like' | 'quick'> = {},
): VariantOutcome {
  const begin = like.map((pattern) => wayOfPattern(pattern, built));
  const planned = (saving: number): VariantOutcome =>
    outcomeOf(planInputs(inputs, { ...options, begin, saving, enough }), built);
  const outcome = planned(WORTH_ANOTHER_PATTERN);
  if (begin.length === 0 || outcome.kind !== 'planned' || !isTimeOpen(outcome.plan)) return outcome;
  const own = { plan: outcome.plan, pattern: patternOf(outcome.plan, built, '') };
  if (like.some((pattern) => isBuiltBy(own, pattern)))
    return { ...outcome, leastSaving: WORTH_ANOTHER_PATTERN / 1000 };
  // What was made of a pattern that could not be had is shared with none: what is quicker by little is looked for after all.
  return enough !== true && endedShortOf(WORTH_ANOTHER_PATTERN, outcome.plan) ? planned(0) : outcome;
}

/** Whether the time is the last term of a plan and not proved least. */
const isTimeOpen = ({ objective, proof }: GeometricPlan): boolean =>
  objective.at(-1)?.term === 'time' && proof.provedTerms.length < objective.length;

/** Whether the search for a plan ended when no more than so many milliseconds could be saved. */
function endedShortOf(saving: number, { objective, proof }: GeometricPlan): boolean {
  const { value, bound } = (proof.beforeReordering?.objective ?? objective).at(-1)!;
  return value - bound <= saving / 100;
}

/**
 * The best plan of a variant among those that are built by a pattern. It is planned under the wishes of the pattern, passes
 * every rule, and is then compared with the pattern, so that what cannot be wished for is true too.
 */
export function follow(
  inputs: Inputs,
  built: Built,
  pattern: BuildPattern,
  options: VariantOptions,
): VariantOutcome {
  const asked = wishesOfPattern(pattern, built);
  if (!asked.ok) return { kind: 'impossible', reasons: asked.error.map((refusal) => limitOf(refusal)) };
  const own = wishesOf(inputs.weldment, inputs.settings).length;
  const wishes = [...(inputs.settings.wishes ?? []), ...asked.value];
  const wishing = { ...inputs, settings: { ...inputs.settings, wishes } };
  const facts = haveGrips(options.facts, asked.value) ? options.facts : undefined;
  const outcome = outcomeOf(planInputs(wishing, { ...options, facts }), built, own);
  if (outcome.kind !== 'planned') return outcome;
  const other = otherThan(outcome.plan, pattern, built);
  return other ? { kind: 'other-pattern', reasons: [other] } : outcome;
}

/**
 * Whether the grips that are wished for are among those that are considered anyhow; then the wishes add nothing to the facts
 * of the variant, which serve its own plan and every pattern.
 */
function haveGrips(facts: Facts, wishes: readonly Wish[]): boolean {
  return wishes.every((wish) => {
    if (!('grip' in wish)) return true;
    const part = facts.scene.index.get(wish.grip)!;
    return facts.usableGrips(part).some((grip) => isGrip(wish, seenGrip(grip)));
  });
}

function outcomeOf(outcome: PlanOutcome, { weldment }: Built, own?: number): VariantOutcome {
  if (outcome.kind === 'defect')
    throw new Error(`the plan of ${weldment.name} breaks its own rules:\n${findingsText(outcome.findings)}`);
  if (outcome.kind !== 'planned') return { kind: outcome.kind, reasons: [...told(limitsOf(outcome, own))] };
  const { plan } = outcome;
  if (plan.kind !== 'geometric') throw new RangeError('a weldment without shapes has no grips to share');
  return { kind: 'planned', plan };
}

/** A variant without a plan always says why. */
const told = (limits: readonly Limit[]): readonly Limit[] =>
  limits.length > 0 ? limits : [limitOf({ code: 'unexplained', subjects: [] })];

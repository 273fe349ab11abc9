import type { BuildPattern } from '../model/build-pattern.js';
import type { Variant } from '../model/family.js';
import type { Limit, VariantResult } from '../model/family-result.js';
import type { GeometricPlan } from '../model/plan.js';

/** One piece of work of a family: a variant by its own best plan, or by a pattern. Plain data, so that a thread can be given it. */
export type FamilyTask =
  | {
      readonly kind: 'own';
      readonly variant: Variant;
      /**
       * Patterns that may be good for it: they are tried first, and the plan is by one of them where none is better, or none
       * but by less than a tenth of a second.
       */
      readonly like?: readonly BuildPattern[];
      /** Whether a plan is enough where nothing but its time could be better: then no other is looked for. */
      readonly quick?: boolean;
    }
  | { readonly kind: 'follow'; readonly variant: Variant; readonly pattern: BuildPattern };

/** What it came to. A plan has passed every rule. */
export type FamilyTaskResult =
  | {
      readonly kind: 'planned';
      readonly plan: GeometricPlan;
      /** Of an own plan its pattern, with an empty id; of a followed one the pattern it was given. */
      readonly pattern: BuildPattern;
      /**
       * Of an own plan by a pattern that it may be like: seconds that another plan would have had to save at least to be
       * better; left out where any saving was looked for.
       */
      readonly leastSaving?: number | undefined;
    }
  | {
      /** `other-pattern`: there is a plan, but it is built otherwise than the pattern says. */
      readonly kind: 'impossible' | 'none-found' | 'bad-input' | 'other-pattern';
      readonly reasons: readonly Limit[];
    };

/** What an own plan came to; none is built otherwise than asked, since nothing is asked. */
export const outcomeOf = ({ kind }: FamilyTaskResult): VariantResult['outcome'] =>
  kind === 'other-pattern' ? 'none-found' : kind;

/** Carries a task out: here at once, or on a thread, or from what an earlier run left. */
export type RunTask = (task: FamilyTask) => Promise<FamilyTaskResult>;

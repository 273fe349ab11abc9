import type { LinearPrograms } from '../algorithms/linear-program.js';
import { weighed, type Reason, type Verdict } from '../explain/why/answer.js';
import { holdsUnder } from '../explain/why/holds.js';
import { openVerdict, type Open } from '../explain/why/open.js';
import type { Question } from '../explain/why/question.js';
import type { Facts } from '../facts/facts.js';
import type { Plan } from '../model/plan.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import { wishesOf, type Wish } from '../model/wish.js';
import { factsOf } from '../planning/plan.js';
import type { Inputs } from './inputs.js';
import { planInputs, type PlanOutcome, type PlanSessionOptions } from './plan.js';
import { quickVerdict } from './why-facts.js';

export interface OtherPlanOptions extends Pick<PlanSessionOptions, 'clock' | 'stopRequested'> {
  readonly programs: LinearPrograms;
  /**
   * The budget of each question instead of the one of the plan; with `steps` alone no seconds count, so that the answers
   * are the same whenever they are asked for.
   */
  readonly steps?: number | undefined;
  readonly seconds?: number | undefined;
  /** Plans what was read with the opposite wish: `planInputs` unless another is given. */
  readonly plan?: (inputs: Inputs, options: PlanSessionOptions) => PlanOutcome;
}

/** Planning that came to nothing that could be judged. */
export type Unjudged = PlanOutcome & { readonly kind: 'bad-input' | 'defect' };

/**
 * The other plans that questions about a plan ask for: of the same files and by the settings of the plan, each with one
 * more wish. They share the facts of the files, on which such a wish has no influence, and are made near the plan.
 */
export class OtherPlans {
  private made: { readonly facts: Facts | undefined } | undefined;

  /** `inputs` have the settings of the plan. */
  constructor(
    private readonly given: Plan,
    private readonly inputs: Inputs,
    private readonly options: OtherPlanOptions,
  ) {}

  /** What the files, the facts or the best plan that keeps a wish say to a question, of which the wish is the opposite. */
  verdict(question: Question, wish: Wish): Verdict | Unjudged {
    return quickVerdict(this.inputs, question, wish, () => this.facts) ?? this.planned(wish);
  }

  private planned(wish: Wish): Verdict | Unjudged {
    const { given, inputs, facts } = this;
    const { plan = planInputs, programs, clock, stopRequested } = this.options;
    const outcome = plan(this.wishing(wish), { programs, clock, stopRequested, facts, near: given });
    switch (outcome.kind) {
      case 'planned':
        return weighed(given, outcome.plan);
      case 'impossible':
        return { kind: 'forced', scope: outcome.scope, reasons: reasonsUnder(wish, outcome.reasons, inputs) };
      case 'none-found': {
        const { refused, reasons, exhausted } = outcome;
        if (exhausted) return { kind: 'forced-in-orders', refused, reasons };
        return openVerdict(given, this.openOf(outcome, wish));
      }
      case 'bad-input':
      case 'defect':
        return outcome;
    }
  }

  /** What a search left open; what keeps a part away that only the wish itself keeps away is no news. */
  private openOf(
    { states, waiting, bound, deepest }: PlanOutcome & { kind: 'none-found' },
    wish: Wish,
  ): Open {
    const left = deepest?.left.flatMap(({ part, reasons }) => {
      const others = reasonsUnder(wish, reasons, this.inputs);
      return reasons.length > 0 && others.length === 0 ? [] : [{ part, reasons: others }];
    });
    return {
      ...{ states, bound },
      ...(waiting !== undefined && { waiting }),
      ...(deepest && left && { deepest: { ...deepest, left } }),
    };
  }

  /** The inputs with a further wish. */
  private wishing(wish: Wish): Inputs {
    const { settings } = this.inputs;
    const wishes = [...(settings.wishes ?? []), wish];
    return { ...this.inputs, settings: { ...settings, wishes, budget: budgetOf(settings, this.options) } };
  }

  private get facts(): Facts | undefined {
    const { weldment, cell, settings } = this.inputs;
    this.made ??= {
      facts:
        weldment.kind === 'geometric' && cell
          ? factsOf(weldment, cell, settings, this.options.programs)
          : undefined,
    };
    return this.made.facts;
  }
}

/** The budget of the plan, or the one given; steps that are given alone count alone. */
const budgetOf = ({ budget }: Settings, { steps, seconds }: OtherPlanOptions): Settings['budget'] => {
  const within = seconds ?? (steps === undefined ? budget.seconds : undefined);
  return { steps: steps ?? budget.steps, ...(within !== undefined && { seconds: within }) };
};

/** The reasons without the wish that the question itself is, the one after all wishes of the inputs; and where they hold. */
function reasonsUnder(
  wish: Wish,
  reasons: readonly Refusal[],
  { weldment, settings }: Inputs,
): readonly Reason[] {
  const asked = wishesOf(weldment, settings).length;
  return reasons.flatMap((reason) => {
    const { fact } = reason;
    if (fact?.wish === asked) return [];
    // How a part could be held is nothing to plans in which it is not.
    const letGo = 'held' in wish && wish.never && fact?.part === wish.held;
    if (letGo && fact.kind === 'hold') return [];
    const { nearest, ...rest } = reason;
    const told = letGo && nearest?.code === 'hold-gives-way' ? rest : reason;
    const holds = fact && holdsUnder(wish, fact);
    return [holds ? { ...told, holds } : told];
  });
}

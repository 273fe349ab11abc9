import { Budget, type BudgetLimits } from '../../base/budget.js';
import type { Facts } from '../../facts/facts.js';
import type { Plan } from '../../model/plan.js';
import type { Change } from '../../model/tried-remedy.js';
import type { AnyWeldment } from '../../model/weldment.js';
import { wishesOf } from '../../model/wish.js';
import { factsOf } from '../../planning/plan.js';
import { readInputs, type Inputs, type Sources } from '../inputs.js';
import { planInputs, type PlanSessionOptions } from '../plan.js';
import { editedSources, type Documents } from './edited.js';
import { ruledOutAtOnce, stillStands, stillStandsAbstractly, type Told } from './standing-sets.js';

/**
 * What came of a changed input: a plan; none, since a set of facts stands as before or since it was proved anew; or that the
 * budget of a try ended before either, so that there may be one.
 */
export type Tried = { readonly plan: Plan } | { readonly plan?: undefined; readonly open: boolean };

/** What trying needs to know beside the change. */
export interface TryingGround {
  readonly sources: Sources;
  readonly documents: Documents;
  /** Sets of facts each of which rules out every plan of the files as they are. */
  readonly sets: readonly Told[];
  readonly options: Pick<PlanSessionOptions, 'programs' | 'seed'>;
  /** What one try may spend. */
  readonly limits: () => BudgetLimits;
}

/** A changed input, and what is known of it. */
interface Changed {
  readonly inputs: Inputs;
  /** Of the weldment in one piece; undefined for one without shapes, and where sub-assemblies make others of it. */
  readonly facts: Facts | undefined;
}

/** Tries changes of the files of a session, each written into them, read, planned and checked from scratch. */
export class Attempts {
  private readonly standing = new Map<Change, readonly number[]>();

  constructor(private readonly ground: TryingGround) {}

  /** Looks for any plan of the changed files; the first that is found will do. */
  try(change: Change): Tried {
    const changed = this.changed(change);
    if (!changed) return { open: false };
    if (!isApart(changed) && this.ground.sets.some((set) => this.stands(changed, set)))
      return { open: false };
    this.standing.set(change, isApart(changed) ? this.all : []);
    const { inputs, facts } = changed;
    const { options, limits } = this.ground;
    if (facts && ruledOutAtOnce(facts, () => new Budget(limits()))) return { open: false };
    const outcome = planInputs(inputs, {
      ...{ programs: options.programs, seed: options.seed, ...limits() },
      ...{ facts, reasons: false, firstOnly: true },
    });
    return outcome.kind === 'planned' ? { plan: outcome.plan } : { open: outcome.kind === 'none-found' };
  }

  /**
   * Numbers of the sets that are proved to stand after a change; all where the files cannot be read then, or where parts are
   * tacked apart: nothing is proved of that without planning.
   */
  stillStanding(change: Change): readonly number[] {
    const known = this.standing.get(change);
    if (known) return known;
    const changed = this.changed(change);
    const { sets } = this.ground;
    const found = sets.flatMap((set, i) =>
      !changed || isApart(changed) || this.stands(changed, set) ? [i] : [],
    );
    this.standing.set(change, found);
    return found;
  }

  private get all(): readonly number[] {
    return this.ground.sets.map((_, i) => i);
  }

  private changed({ edits }: Change): Changed | undefined {
    const { sources, documents, options, limits } = this.ground;
    const { inputs: read } = readInputs(editedSources(sources, documents, edits));
    if (!read) return undefined;
    const { cell } = read;
    const weldment = inOnePiece(read.weldment);
    const seed = options.seed ?? read.settings.seed;
    const budget = { steps: limits().steps };
    const inputs = { ...read, weldment, settings: { ...read.settings, seed, budget } };
    const facts =
      weldment.kind === 'geometric' && !hasGroups(weldment)
        ? factsOf(weldment, cell!, inputs.settings, options.programs)
        : undefined;
    return { inputs, facts };
  }

  private stands({ inputs: { weldment, settings }, facts }: Changed, set: Told): boolean {
    if (facts) return stillStands(facts, set, () => new Budget(this.ground.limits()));
    return weldment.kind === 'abstract' && stillStandsAbstractly(weldment, wishesOf(weldment, settings), set);
  }
}

/** Whether a weldment has sub-assemblies that are named. */
export const hasGroups = (weldment: AnyWeldment): boolean =>
  weldment.kind === 'geometric' && Array.isArray(weldment.subAssemblies);

const isApart = ({ inputs }: Changed): boolean => hasGroups(inputs.weldment);

/** Sub-assemblies that the planner was to look for were looked for before: a change is tried without them. */
const inOnePiece = (weldment: AnyWeldment): AnyWeldment =>
  weldment.kind === 'geometric' && weldment.subAssemblies === 'auto'
    ? { ...weldment, subAssemblies: 'off' }
    : weldment;

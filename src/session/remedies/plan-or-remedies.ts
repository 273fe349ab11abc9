import type { BudgetLimits } from '../../base/budget.js';
import { readDocument } from '../../io/document.js';
import { readInputs, type Inputs, type Sources } from '../inputs.js';
import { planSession, type PlanOutcome, type PlanSessionOptions } from '../plan.js';
import { Attempts, hasGroups } from './attempt.js';
import type { Documents } from './edited.js';
import { laddersOf } from './generators.js';
import { COST_CLASSES, type RemedySearch } from '../../model/tried-remedy.js';
import { pairsOf, type Single } from './pairs.js';
import { searchRemedies, type Pairing, type RemedyProgress, type SearchOptions } from './search.js';
import type { Told } from './standing-sets.js';
import { troubleOf, type AbstractTrouble, type Trouble } from './trouble.js';

export interface RemedyOptions {
  /** Remedies offered at most. */
  readonly offered?: number | undefined;
  /** Changed inputs that are planned at most; default: fewer, the more parts there are. */
  readonly tries?: number | undefined;
  /** Steps of each search of a try; a plan that is found in them need not be the best. */
  readonly steps?: number | undefined;
  readonly onProgress?: ((progress: RemedyProgress) => void) | undefined;
}

/** Our choice: three or four are weighed at a glance. */
const OFFERED = 4;
/** Enough to prove the best plan of most small weldments, and to find a plan of others (our choice). */
const STEPS = 2_000;
/** Parts planned in all tries together, at most, and within which bounds the tries for one weldment stay (our choice). */
const PARTS_PLANNED = 100;
const TRIES = { least: 9, most: 24 } as const;
/** Changes of which it is asked which facts they remove, before two at once are tried (our choice). */
const MOST_ASKED = 24;

const triesFor = ({ weldment }: Inputs): number =>
  Math.max(TRIES.least, Math.min(TRIES.most, Math.floor(PARTS_PLANNED / weldment.parts.length)));

/**
 * Plans as `planSession` does and, where it is proved that there is no plan, tries small changes of the files that the
 * reasons suggest. Every change is written into the files, read, planned and checked from scratch; offered are the
 * cheapest few that give a plan.
 */
export function planOrRemedies(
  sources: Sources,
  options: PlanSessionOptions,
  remedies: RemedyOptions = {},
): PlanOutcome {
  const begun = options.clock?.() ?? 0;
  const outcome = planSession(sources, options);
  if (outcome.kind !== 'impossible') return outcome;
  const { inputs } = readInputs(sources);
  // The reasons of a weldment with given sub-assemblies are about other parts than its file has.
  if (!inputs || hasGroups(inputs.weldment)) return outcome;
  const { seconds } = { seconds: options.seconds ?? inputs.settings.budget.seconds };
  const left = (): number =>
    seconds === undefined || options.clock === undefined ? Infinity : seconds - (options.clock() - begun);
  const { remedies: found, ...remedySearch } = searched(inputs, outcome, sources, {
    ...{ options, remedies, left },
  });
  return { ...outcome, remedies: found, remedySearch };
}

interface How {
  readonly options: PlanSessionOptions;
  readonly remedies: RemedyOptions;
  /** Seconds that are left of all that was given; Infinity when it is counted in steps alone. */
  readonly left: () => number;
}

function searched(
  inputs: Inputs,
  { reasons, also }: PlanOutcome & { kind: 'impossible' },
  sources: Sources,
  { options, remedies, left }: How,
): RemedySearch {
  const settings = sources.settings && readDocument(sources.settings.text, sources.settings.name).document;
  const documents: Documents = {
    ...{ weldment: inputs.weldmentDocument, cell: inputs.cellDocument, settings },
  };
  const troubleBy = (told: Told): Trouble | AbstractTrouble =>
    troubleOf(inputs, told, documents, options.programs);
  const trouble = troubleBy(reasons);
  const sets = [reasons, ...also.map((set) => set.reasons)];
  const steps = remedies.steps ?? STEPS;
  const { clock, stopRequested } = options;
  const limits = (): BudgetLimits => ({
    ...{ steps, clock, stopRequested },
    ...(left() < Infinity && { seconds: left() }),
  });
  const attempts = new Attempts({ sources, documents, sets, options, limits });
  const search: SearchOptions = {
    offered: remedies.offered ?? OFFERED,
    tries: remedies.tries ?? triesFor(inputs),
    steps,
    cut: () => (options.stopRequested?.() === true ? 'stop' : left() <= 0 ? 'seconds' : undefined),
    onProgress: remedies.onProgress,
  };
  const isCut = (): boolean => search.cut?.() !== undefined;
  const pairing: Pairing = (failed) =>
    pairsOf({
      singles: inTurn(failed, singlesOf(also.map((set) => troubleBy(set.reasons)))),
      standing: (change) => attempts.stillStanding(change),
      ...{ sets: sets.length, asked: MOST_ASKED, isCut },
    });
  return searchRemedies(
    (cost) => laddersOf(trouble, cost),
    (change) => attempts.try(change),
    search,
    pairing,
  );
}

function* inTurn<T>(...all: readonly Iterable<T>[]): Generator<T> {
  for (const some of all) yield* some;
}

/** What would be tried against each of some sets of facts, cheapest first: the largest change where it helps wherever a smaller one does. */
function* singlesOf(troubles: readonly (Trouble | AbstractTrouble)[]): Generator<Single> {
  for (const cost of COST_CLASSES)
    for (const trouble of troubles)
      for (const { changes, monotone } of laddersOf(trouble, cost))
        for (const change of monotone ? changes.slice(-1) : changes) yield { cost, change };
}

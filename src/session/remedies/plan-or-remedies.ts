import { readDocument } from '../../io/document.js';
import { readInputs, type Inputs, type Sources } from '../inputs.js';
import { planInputs, planSession, type PlanOutcome, type PlanSessionOptions } from '../plan.js';
import { editedSources, type Documents } from './edited.js';
import { laddersOf } from './generators.js';
import type { RemedySearch } from '../../model/tried-remedy.js';
import { searchRemedies, type Attempt, type RemedyProgress, type SearchOptions } from './search.js';
import { stillRuledOut } from './still-ruled-out.js';
import { troubleOf } from './trouble.js';

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
  if (!inputs) return outcome;
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
  { reasons }: PlanOutcome & { kind: 'impossible' },
  sources: Sources,
  { options, remedies, left }: How,
): RemedySearch {
  const settings = sources.settings && readDocument(sources.settings.text, sources.settings.name).document;
  const documents: Documents = {
    ...{ weldment: inputs.weldmentDocument, cell: inputs.cellDocument, settings },
  };
  const trouble = troubleOf(inputs, reasons, documents, options.programs);
  const attempt: Attempt = ({ edits }) => {
    const changed = readInputs(editedSources(sources, documents, edits)).inputs;
    if (!changed) return undefined;
    const { programs, seed, clock, stopRequested } = options;
    const limits = {
      ...{ steps: remedies.steps ?? STEPS, clock, stopRequested },
      ...(left() < Infinity && { seconds: left() }),
    };
    if (stillRuledOut(changed, reasons, programs, limits)) return undefined;
    const outcome = planInputs(changed, { programs, seed, ...limits, reasons: false });
    return outcome.kind === 'planned' ? outcome.plan : undefined;
  };
  const search: SearchOptions = {
    offered: remedies.offered ?? OFFERED,
    tries: remedies.tries ?? triesFor(inputs),
    cut: () => (options.stopRequested?.() === true ? 'stop' : left() <= 0 ? 'seconds' : undefined),
    onProgress: remedies.onProgress,
  };
  return searchRemedies((cost) => laddersOf(trouble, cost), attempt, search);
}

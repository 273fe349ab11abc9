import type { LinearPrograms } from '../algorithms/linear-program.js';
import type { Facts } from '../facts/facts.js';
import type { Issue } from '../model/issue.js';
import type { AbstractWeldment } from '../model/weldment.js';
import { factsOf } from '../planning/plan.js';
import { adviseCell, type AdviceOptions } from './cell-advice.js';
import { contradictions } from './contradictions.js';
import { abstractMistakes, likelyMistakes } from './guidance/likely-mistakes.js';
import { unitsFirst } from './guidance/units-first.js';
import { readInputs, type Sources } from './inputs.js';
import { inspect, type Inspection } from './inspect.js';
import { reachView } from './reach-view.js';
import { standInCell } from './stand-in-cell.js';

/** What files imply. `issues` are what `plan` would refuse or warn of; the view is given all the same. */
export type InspectOutcome =
  | {
      readonly kind: 'inspected';
      readonly inspection: Inspection;
      readonly facts: Facts;
      readonly issues: readonly Issue[];
    }
  | { readonly kind: 'abstract'; readonly weldment: AbstractWeldment; readonly issues: readonly Issue[] }
  | { readonly kind: 'bad-input'; readonly issues: readonly Issue[] };

/** What an inspection is asked for beyond what files imply. */
export interface InspectOptions {
  /** What each robot gets to and advice on the cell, where there is one and the files do not contradict themselves. */
  readonly reach?: AdviceOptions | undefined;
}

/** Reads the files and says what they imply; a weldment alone is looked at on a stand-in table. */
export function inspectSession(
  sources: Sources,
  programs: LinearPrograms,
  { reach }: InspectOptions = {},
): InspectOutcome {
  const { inputs, issues } = readInputs(sources, { cellNeeded: false });
  if (!inputs) return { kind: 'bad-input', issues };
  const { weldment, cell, settings } = inputs;
  if (weldment.kind === 'abstract') {
    const warned = [...issues, ...abstractMistakes(weldment, inputs.weldmentDocument)];
    return { kind: 'abstract', weldment, issues: warned };
  }
  const facts = factsOf(weldment, cell ?? standInCell(weldment), settings, programs);
  const contradicted = contradictions(facts, inputs.weldmentDocument, cell !== undefined);
  const asked = reach !== undefined && cell !== undefined && contradicted.length === 0;
  return {
    kind: 'inspected',
    inspection: {
      ...inspect(facts, cell !== undefined),
      ...(asked ? { reach: reachView(facts, adviseCell(facts, programs, reach)) } : {}),
    },
    facts,
    issues: unitsFirst(issues, contradicted) ?? [
      ...issues,
      ...contradicted,
      ...likelyMistakes(facts, inputs),
    ],
  };
}

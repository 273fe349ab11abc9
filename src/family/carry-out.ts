import type { LinearPrograms } from '../algorithms/linear-program.js';
import type { Limit } from '../model/family-result.js';
import { readInputs, type Inputs, type Source } from '../session/inputs.js';
import { follow, planVariant, type VariantOptions } from './follow.js';
import { KnownFacts } from './known-facts.js';
import { limitsOfText } from './limits.js';
import { patternOf, type Built } from './pattern.js';
import type { FamilyTask, FamilyTaskResult } from './task.js';

/** All that the tasks of a family have in common. */
export interface CarryOutOptions extends Pick<VariantOptions, 'clock' | 'stopRequested'> {
  /** The name of the family file, by which issues of variants are told. */
  readonly file?: string | undefined;
  readonly cell: Source;
  readonly settings?: Source | undefined;
  readonly programs: LinearPrograms;
  /** Instead of what the settings say. */
  readonly overrides?: Pick<VariantOptions, 'seed' | 'steps' | 'seconds'> | undefined;
  /** Of whoever carries out several tasks one after the other: what it keeps of a variant for the next plan of it. */
  readonly known?: KnownFacts | undefined;
}

/** Plans one variant of a family, by itself or by a pattern; an Error where our own plan breaks a rule, which is a defect. */
export function carryOut(task: FamilyTask, options: CarryOutOptions): FamilyTaskResult {
  const { variant } = task;
  const { cell, settings, programs, overrides, clock, stopRequested, known = new KnownFacts() } = options;
  const weldment = { text: variant.text, name: `${options.file ?? 'family'} [${variant.name}]` };
  const { inputs, issues } = readInputs({ weldment, cell, settings });
  if (!inputs) return { kind: 'bad-input', reasons: limitsOfText(issues) };
  const built = builtOf(inputs);
  if (!built) return { kind: 'bad-input', reasons: [WITHOUT_SHAPES] };
  const facts = known.of(variant.text, inputs, built, programs);
  const planning = { programs, clock, stopRequested, ...overrides, facts };
  const outcome =
    task.kind === 'own'
      ? planVariant(inputs, built, planning, task)
      : follow(inputs, built, task.pattern, planning);
  if (outcome.kind !== 'planned') return outcome;
  const pattern = task.kind === 'own' ? patternOf(outcome.plan, built, variant.name) : task.pattern;
  return { ...outcome, pattern };
}

const WITHOUT_SHAPES: Limit = {
  ...{ code: 'family-without-shapes', subjects: [] },
  text: 'the parts of a family need shapes: a pattern says how grips sit on them',
};

function builtOf({ weldment, cell }: Inputs): Built | undefined {
  return weldment.kind === 'geometric' && cell ? { weldment, cell } : undefined;
}

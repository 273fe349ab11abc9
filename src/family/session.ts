import type { LinearPrograms } from '../algorithms/linear-program.js';
import { readFamily } from '../io/family/read-family.js';
import type { FamilyBeside } from '../io/family/variant-rows.js';
import { readCell } from '../io/read-cell.js';
import { readSettings } from '../io/read-settings.js';
import type { Issue } from '../model/issue.js';
import { DEFAULT_SETTINGS } from '../model/settings.js';
import { cellMissing, type Source } from '../session/inputs.js';
import { withOverrides } from '../session/plan.js';
import { carryOut, type CarryOutOptions } from './carry-out.js';
import { KnownFacts } from './known-facts.js';
import type { FamilyInputs } from './result.js';
import { planFamily, type FamilyOptions, type FamilyOutcome } from './run.js';
import type { RunTask } from './task.js';

/** Places drawn in the ranges where nobody says how many (our choice). */
const SAMPLES = 8;
const SEED = 1;

/** The files of a family as texts. */
export interface FamilySources {
  readonly family: Omit<Source, 'beside'>;
  /** What the family file names, by the paths that it writes: see `filesBesideFamily`. */
  readonly beside?: FamilyBeside | undefined;
  readonly cell?: Source | undefined;
  readonly settings?: Source | undefined;
}

/** A family that was read; both parts are undefined with any error among the issues. */
export interface FamilyRead {
  readonly inputs: FamilyInputs | undefined;
  /** What all tasks have in common, as plain data, so that threads can be given it. */
  readonly shared: SharedByTasks | undefined;
  readonly issues: readonly Issue[];
}

/** All that the result of a task depends on besides the task and the tool. */
export type SharedByTasks = Pick<CarryOutOptions, 'file' | 'cell' | 'settings' | 'overrides'>;

/** Reads a family with all its variants, the cell and the settings, and gathers every issue. `steps` overrides those of the settings. */
export function readFamilySources(sources: FamilySources, steps?: number): FamilyRead {
  const { family: source, beside, cell, settings } = sources;
  const { family, issues: inFamily } = readFamily(source.text, source.name, beside);
  const cellRead = cell && readCell(cell.text, cell.name, cell.beside);
  const settingsRead = settings && readSettings(settings.text, settings.name);
  const issues = [
    ...inFamily,
    ...(cellRead?.issues ?? [cellMissing(source.name, 'a family of weldments with shapes')]),
    ...(settingsRead?.issues ?? []),
  ];
  const wrong = issues.some(({ severity }) => severity === 'error');
  if (wrong || family === undefined || cell === undefined || cellRead?.value === undefined)
    return { inputs: undefined, shared: undefined, issues };
  const inputs = {
    ...{ family, cell: { name: cellRead.value.name, digest: cellRead.digest! } },
    settings: withOverrides(settingsRead?.value ?? DEFAULT_SETTINGS, { steps }),
  };
  return { inputs, shared: { file: source.name, cell, settings, overrides: { steps } }, issues };
}

export interface FamilySessionOptions extends Pick<
  FamilyOptions,
  'files' | 'quick' | 'onProgress' | 'stopRequested'
> {
  readonly samples?: number | undefined;
  readonly seed?: number | undefined;
}

/** Plans a family that was read, by tasks that `run` does. */
export const planReadFamily = (
  inputs: FamilyInputs,
  run: RunTask,
  { samples = SAMPLES, seed = SEED, ...rest }: FamilySessionOptions,
): Promise<FamilyOutcome> => planFamily(inputs, { ...rest, samples, seed, run });

export interface FamilyHereOptions extends FamilySessionOptions, Pick<CarryOutOptions, 'clock'> {
  readonly programs: LinearPrograms;
  /** Search steps at most of each plan, instead of those of the settings. */
  readonly steps?: number | undefined;
}

/** Reads and plans a family, one plan after the other where it is called. */
export async function familySession(
  sources: FamilySources,
  options: FamilyHereOptions,
): Promise<FamilyOutcome | { readonly kind: 'bad-input'; readonly issues: readonly Issue[] }> {
  const { programs, clock, steps, ...rest } = options;
  const { inputs, shared, issues } = readFamilySources(sources, steps);
  if (inputs === undefined || shared === undefined) return { kind: 'bad-input', issues };
  const { stopRequested } = rest;
  const known = new KnownFacts();
  const run: RunTask = (task) =>
    Promise.resolve().then(() => carryOut(task, { ...shared, programs, known, clock, stopRequested }));
  return planReadFamily(inputs, run, rest);
}

import { z } from 'zod';
import { canonicalText } from '../io/canonical.js';
import { digest } from '../io/digest.js';
import { buildPatternSchema } from '../model/build-pattern.js';
import { limitSchema } from '../model/family-result.js';
import { geometricPlanSchema } from '../model/plan.js';
import type { FamilyTask, FamilyTaskResult } from './task.js';

const FORMAT = 'tackwright-family-task';

const resultSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('planned'),
    plan: geometricPlanSchema,
    pattern: buildPatternSchema,
    leastSaving: z.number().optional(),
  }),
  z.strictObject({
    kind: z.enum(['impossible', 'none-found', 'bad-input', 'other-pattern']),
    reasons: z.array(limitSchema),
  }),
]);

const keptSchema = z.strictObject({
  format: z.literal(FORMAT),
  key: z.string(),
  digest: z.string(),
  result: resultSchema,
});

/**
 * What a task is known by: the digest of all that its result depends on, which is the task, as the pattern of it whatever
 * that is called in this run, and what all tasks of the run share, as cell, settings and the build of the tool.
 */
export const taskKey = (task: FamilyTask, shared: unknown): string => digest({ task: known(task), shared });

function known(task: FamilyTask): object {
  const { kind, variant } = task;
  const { name, text } = variant;
  return task.kind === 'own'
    ? { kind, name, text, like: task.like?.map(({ stages }) => stages), quick: task.quick }
    : { kind, name, text, stages: task.pattern.stages };
}

/** A finished task as the text of a file, which says of itself whether it is whole. */
export const keptText = (key: string, result: FamilyTaskResult): string =>
  canonicalText({ format: FORMAT, key, digest: digest(result), result });

/**
 * The result that a file keeps, by the names of this run's pattern; undefined where the file is not of this task or not
 * whole, so that the task is done again.
 */
export function readKept(text: string, key: string, task: FamilyTask): FamilyTaskResult | undefined {
  const read = keptSchema.safeParse(jsonOf(text));
  if (!read.success || read.data.key !== key || read.data.digest !== digest(read.data.result))
    return undefined;
  const { result } = read.data;
  return result.kind === 'planned' && task.kind === 'follow' ? { ...result, pattern: task.pattern } : result;
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/**
 * A result as it is after it was kept and read: without members that are undefined. What was just made is handed on in this
 * form too, so that a run that was taken up cannot differ from one that was not.
 */
export const asKept = (result: FamilyTaskResult): FamilyTaskResult =>
  JSON.parse(canonicalText(result)) as FamilyTaskResult;

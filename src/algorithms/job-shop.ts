import { fail, ok, type Result } from '../base/result.js';
import type { DisjunctiveProblem } from './disjunctive-problem.js';

export interface JobShopIssue {
  /** Line of the file, from 1. */
  readonly line: number;
  readonly problem: string;
}

/** One operation of a job, on a machine numbered from 0. */
interface Task {
  readonly machine: number;
  readonly duration: number;
}

/**
 * Reads a job-shop instance in the usual text form: the numbers of jobs and machines, then a line for each job with
 * a machine (from 0) and a duration for each of its operations in their order. Every job visits as many
 * operations as there are machines. Gives the problem, operations numbered job by job, or every issue found.
 */
export function parseJobShop(text: string): Result<DisjunctiveProblem, readonly JobShopIssue[]> {
  const rows = text
    .split(/\r?\n/)
    .map((row, index) => ({ words: row.trim().split(/\s+/), line: index + 1 }))
    .filter(({ words }) => words[0] !== '');
  const issues: JobShopIssue[] = [];
  const head = rows[0];
  const [jobs, machines] = head?.words.map(Number) ?? [];
  if (head?.words.length !== 2 || !isCount(jobs) || !isCount(machines)) {
    const found = head === undefined ? 'nothing' : `"${head.words.join(' ')}"`;
    const problem = `the numbers of jobs and machines should stand here, found ${found}`;
    return fail([{ line: head?.line ?? 1, problem }]);
  }
  if (rows.length - 1 !== jobs)
    issues.push({ line: rows.at(-1)!.line, problem: `${rows.length - 1} jobs instead of ${jobs}` });
  const tasks = rows.slice(1).map((row) => readJob(row, machines, issues));
  return issues.length > 0 ? fail(issues) : ok(jobShopProblem(tasks, machines));
}

const isCount = (value: number | undefined): value is number => Number.isInteger(value) && value! > 0;

function readJob(
  { words, line }: { readonly words: readonly string[]; readonly line: number },
  machines: number,
  issues: JobShopIssue[],
): Task[] {
  if (words.length !== 2 * machines) {
    const problem = `${words.length} numbers instead of a machine and a duration for each of ${machines} operations`;
    issues.push({ line, problem });
    return [];
  }
  return Array.from({ length: machines }, (_, i) => {
    const [machine, duration] = [Number(words[2 * i]), Number(words[2 * i + 1])];
    if (!(Number.isInteger(machine) && machine >= 0 && machine < machines))
      issues.push({ line, problem: `"${words[2 * i]}" is not a machine; they go from 0 to ${machines - 1}` });
    if (!(Number.isInteger(duration) && duration >= 0))
      issues.push({ line, problem: `"${words[2 * i + 1]}" is not a duration; use a whole number from 0` });
    return { machine, duration };
  });
}

function jobShopProblem(jobs: readonly (readonly Task[])[], machines: number): DisjunctiveProblem {
  const tasks = jobs.flat();
  const arcs = jobs.flatMap((job, j) =>
    job.slice(1).map((_, i) => {
      const from = j * machines + i;
      return { from, to: from + 1, lag: tasks[from]!.duration };
    }),
  );
  const resources = Array.from({ length: machines }, (_, machine) => ({
    spans: tasks.flatMap((task, i) => (task.machine === machine ? [{ first: i, last: i }] : [])),
  }));
  return { durations: tasks.map(({ duration }) => duration), arcs, resources };
}

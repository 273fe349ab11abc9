import { createHash } from 'node:crypto';
import { basename, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { fail, ok, type Result } from '../base/result.js';
import type { Issue } from '../model/issue.js';
import { plain } from '../report/plain.js';
import type { GridSolver } from '../study/grid.js';
import type { RunTask } from '../study/run-task.js';
import { STUDY_SOLVERS } from '../study/study-solvers.js';
import { readSource } from './files.js';

/** A solver of a study, and what a thread needs to know of it. */
export interface AskedSolver extends GridSolver {
  readonly task: RunTask['solver'];
}

/** Solvers of ours by their names, as `beam,best-first`. */
export function readSolverNames(text: string): Result<readonly AskedSolver[], string> {
  const names = text.split(',').map((name) => name.trim());
  const unknown = names.find((name) => !STUDY_SOLVERS.has(name));
  if (unknown !== undefined)
    return fail(`there is no solver "${plain(unknown)}"; there are ${[...STUDY_SOLVERS.keys()].join(', ')}`);
  return ok(
    names.map((name) => ({
      ...{ name, digest: '', random: STUDY_SOLVERS.get(name)!.random, task: { name } },
    })),
  );
}

/** A user's heuristic: called by the name of its file, told from others of that name by its content. */
export function readHeuristic(path: string): Result<AskedSolver, Issue> {
  if (!/\.m?js$/i.test(path))
    return fail({
      ...{ code: 'file', severity: 'error', file: path, line: 0, path: '' },
      problem: 'this is no module for --heuristic',
      remedy:
        'end its name in .mjs, and name the instances before --heuristic, which takes all that follows it',
    });
  const source = readSource(path);
  if (!source.ok) return source;
  const digest = createHash('sha256').update(source.value.text, 'utf8').digest('hex');
  const module = pathToFileURL(resolve(path)).href;
  return ok({ name: plain(basename(path)), digest, random: true, task: { module } });
}

import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { DisjunctiveProblem } from '../../src/algorithms/disjunctive-problem.js';
import { leastMakespan } from '../../src/algorithms/disjunctive.js';
import { parseJobShop } from '../../src/algorithms/job-shop.js';
import { Budget } from '../../src/base/budget.js';
import { faultsOf } from './small-disjunctive.js';

// Job-shops of Fisher and Thompson (1963) and Lawrence (1984); files and best-known values in ../shared/data/SOURCES.md.
const FOLDER = new URL('../../../shared/data/jsp/', import.meta.url);
const present = existsSync(FOLDER);
const SOLVED_TO_PROOF = ['ft06', 'la01', 'la02', 'la03', 'la04', 'la05', 'la16', 'la17', 'ft20', 'ft10'];
const BOUNDED = ['la19', 'abz5', 'orb01', 'orb03'];

function instance(name: string): DisjunctiveProblem {
  const parsed = parseJobShop(readFileSync(new URL(`${name}.txt`, FOLDER), 'utf8'));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

/** Both bounds are the optimum for every instance that is used here. */
function optimum(name: string): number {
  const rows = readFileSync(new URL('best-known.csv', FOLDER), 'utf8').trim().split('\n');
  const found = rows.map((row) => row.split(',')).find((row) => row[0] === name);
  expect(found?.[3]).toBe(found?.[4]);
  return Number(found?.[3]);
}

describe('published job-shops', () => {
  it.skipIf(!present).each(SOLVED_TO_PROOF)('proves the optimum of %s', (name) => {
    const problem = instance(name);
    const report = leastMakespan(problem, { budget: new Budget({ steps: 100_000 }) });
    const known = optimum(name);
    expect(known).toBeGreaterThan(0);
    expect(report).toMatchObject({ outcome: 'optimal', best: { makespan: known }, bound: known });
    expect(faultsOf(problem, report.best!)).toEqual([]);
  });

  it.skipIf(!present).each(BOUNDED)('encloses the optimum of %s in a small budget', (name) => {
    const problem = instance(name);
    const report = leastMakespan(problem, { budget: new Budget({ steps: 1500 }) });
    expect(report.bound).toBeLessThanOrEqual(optimum(name));
    expect(report.best!.makespan).toBeGreaterThanOrEqual(optimum(name));
    expect(report.best!.makespan).toBeLessThan(1.15 * optimum(name));
    expect(faultsOf(problem, report.best!)).toEqual([]);
  });
});

describe('parseJobShop', () => {
  it('makes a chain of each job and a resource of each machine', () => {
    expect(parseJobShop('2 2\n1 5 0 4\n\n0 3 1 2\n')).toEqual({
      ok: true,
      value: {
        durations: [5, 4, 3, 2],
        arcs: [
          { from: 0, to: 1, lag: 5 },
          { from: 2, to: 3, lag: 3 },
        ],
        resources: [
          { spans: [1, 2].map((i) => ({ first: i, last: i })) },
          { spans: [0, 3].map((i) => ({ first: i, last: i })) },
        ],
      },
    });
  });

  it.each([
    ['', [{ line: 1, problem: 'the numbers of jobs and machines should stand here, found nothing' }]],
    ['2 x', [{ line: 1, problem: 'the numbers of jobs and machines should stand here, found "2 x"' }]],
    ['2 1\n0 4', [{ line: 2, problem: '1 jobs instead of 2' }]],
    [
      '1 2\n0 4 1',
      [{ line: 2, problem: '3 numbers instead of a machine and a duration for each of 2 operations' }],
    ],
    [
      '1 2\n2 4 1 1.5',
      [
        { line: 2, problem: '"2" is not a machine; they go from 0 to 1' },
        { line: 2, problem: '"1.5" is not a duration; use a whole number from 0' },
      ],
    ],
  ])('refuses %j', (text, error) => {
    expect(parseJobShop(text)).toEqual({ ok: false, error });
  });
});

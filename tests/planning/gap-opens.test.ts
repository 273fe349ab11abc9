import { beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readFileSync } from 'node:fs';
import type { Refusal } from '../../src/model/verdict.js';
import { refusalText } from '../../src/report/refusal-text.js';
import { orderPaths, orderProblemOf } from '../support/order-paths.js';
import { Planner, type CellEntries, type Files, type WeldmentEntries } from '../support/planned.js';

let planner: Planner;

beforeAll(async () => {
  planner = await Planner.load();
});

const stories = new URL('../stories/', import.meta.url);
const read = (path: string): unknown => parse(readFileSync(new URL(path, stories), 'utf8'));

/** The post between stay and rib, with another fit-up gap. */
const files = (gap: number): Files => ({
  weldment: {
    ...(read('gap-forces-the-stay-first/weldment.yaml') as WeldmentEntries),
    'fit-up': { gap },
  },
  cell: read('bench.cell.yaml') as CellEntries,
});

/** For each order of parts, whether some way of it is completed, or why not. */
function judged(
  gap: number,
): ReadonlyMap<string, { readonly depth: number; readonly reason: Refusal } | 'legal'> {
  const problem = orderProblemOf(files(gap), planner.programs);
  const parts = Object.keys(files(gap).weldment.parts).sort();
  const said = new Map<string, { readonly depth: number; readonly reason: Refusal } | 'legal'>();
  for (const moves of orderPaths(problem)) {
    const order = moves.map(({ step }) => parts[step.part]!).join(' ');
    if (said.get(order) === 'legal') continue;
    const completed = problem.complete(moves.map(({ step }) => step));
    if (completed.kind === 'legal') said.set(order, 'legal');
    else said.set(order, { depth: completed.depth, reason: completed.reason as Refusal });
  }
  return said;
}

describe('an order in which a seam stands open too far before it is tacked', () => {
  it('is refused with the stage in which that is so, and another one is left', () => {
    const said = judged(0.6);
    const refused = said.get('base post rib stay');
    expect(refused).toMatchObject({ depth: 3, reason: { code: 'gap-opens', limit: 0.6, unit: 'mm' } });
    expect(said.get('base post stay rib')).toBe('legal');
    if (refused === undefined || refused === 'legal') return;
    expect(refused.reason.value!).toBeGreaterThan(0.6);
    expect(refusalText(refused.reason)).toMatch(
      /^rib, J4\.\d, J4\.\d@\d+: earlier tacks are predicted to open a seam too far before it is tacked: open by 0\.\d+ mm, limit 0\.6 mm$/,
    );
  });

  it('is as good as any where the gap may be wider', () => {
    expect([...judged(1).values()].every((verdict) => verdict === 'legal')).toBe(true);
  });
});

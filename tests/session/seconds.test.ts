import { readFileSync } from 'node:fs';
import { stringify } from 'yaml';
import { expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Sources } from '../../src/session/inputs.js';
import { planSession } from '../../src/session/plan.js';

const block = (x: number, y: number): object => ({
  block: { length: 100, width: 100, height: 50 },
  at: [x, y, 35],
});

/** Blocks on a base, one with a limit that no order keeps, so that one search is not enough; our own invention. */
const sources: Sources = {
  weldment: {
    name: 'weldment.yaml',
    text: stringify({
      weldment: 'blocks',
      units: 'mm kg N s deg',
      parts: {
        base: { plate: { length: 400, width: 340, thickness: 10 }, at: [0, 0, 5] },
        one: block(-100, 60),
        two: block(100, 60),
        three: block(100, -80),
      },
      joints: ['one', 'two', 'three'].map((other) => ({ between: ['base', other], sides: 'both' })),
      tolerances: [{ name: 'place', from: 'base', to: 'one', 'iso-13920': 'A' }],
      first: 'base',
    }),
  },
  cell: {
    name: 'cell.yaml',
    text: readFileSync(new URL('../stories/bench.cell.yaml', import.meta.url), 'utf8'),
  },
  settings: {
    name: 'settings.yaml',
    text: stringify({ distortion: { 'limit-share': 0.001, 'orders-judged': 4 } }),
  },
};

it('has one limit in seconds for all searches together', async () => {
  const programs = await loadLinearPrograms();
  /** How often a clock is read that goes on by a second each time; a search reads it a few times a step. */
  const read = (seconds: number): number => {
    let now = 0;
    const clock = (): number => (now += 1);
    expect(planSession(sources, { programs, seconds, clock }).kind).toBe('planned');
    return now;
  };
  expect(read(80)).toBeLessThan(80 + 40);
});

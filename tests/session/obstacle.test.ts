import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { compareVectors } from '../../src/base/order.js';
import type { PlanOutcome } from '../../src/session/plan.js';
import { example, Planner, type Files, type KeepOutEntry } from '../support/planned.js';
import { withKeepOut } from './changed-files.js';
import { provedTerms } from './proved-terms.js';
import { anyStand, stand } from './small-stands.js';

let planner: Planner;

beforeAll(async () => {
  planner = await Planner.load();
});

/** A box within reach of what happens above the work table. */
const anyBox = (): fc.Arbitrary<KeepOutEntry> =>
  fc.record({
    at: fc.tuple(
      fc.integer({ min: -350, max: 350 }),
      fc.integer({ min: -350, max: 350 }),
      fc.integer({ min: 520, max: 950 }),
    ),
    size: fc.tuple(
      fc.integer({ min: 20, max: 200 }),
      fc.integer({ min: 20, max: 200 }),
      fc.integer({ min: 20, max: 200 }),
    ),
    turn: fc.integer({ min: 0, max: 90 }),
  });

/** The proved regrips and tool changes; undefined for what cannot be planned, which is worse than any plan. */
function counts(outcome: PlanOutcome): number[] | undefined {
  if (outcome.kind === 'impossible') return undefined;
  const proved = provedTerms(outcome).map(({ value }) => value);
  expect(proved.length).toBeGreaterThanOrEqual(2);
  return proved.slice(0, 2);
}

function expectNoBetter(files: Files, box: KeepOutEntry): void {
  const before = counts(planner.outcome(files))!;
  const after = counts(planner.outcome(withKeepOut(files, box)));
  expect(before).toBeDefined();
  if (after) expect(compareVectors(after, before), `${after} for ${before}`).toBeGreaterThanOrEqual(0);
}

describe('an obstacle more', () => {
  it('never saves a regrip or a tool change', () => {
    fc.assert(
      fc.property(anyStand(), anyBox(), (sizes, box) => expectNoBetter(stand(sizes), box)),
      { numRuns: 5, seed: 5, endOnFailure: true },
    );
  });

  it('makes a plan impossible when it stands where the weldment shall be', () => {
    const inTheWay: KeepOutEntry = { at: [0, 0, 600], size: [100, 100, 100] };
    const files = stand({ height: 200, aside: 90, extras: ['gusset'] });
    expect(planner.outcome(withKeepOut(files, inTheWay)).kind).toBe('impossible');
  });

  it.each(['roller-stand', 'box-beam'] as const)('never saves a regrip or a tool change of %s', (name) => {
    expectNoBetter(example(name), { at: [-40, 230, 700], size: [300, 60, 200], turn: 20 });
  });
});

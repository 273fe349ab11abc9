import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { CoveringProgram } from '../../src/algorithms/covering.js';
import { cover, respected } from '../../src/algorithms/covering.js';
import type { LinearPrograms, Program } from '../../src/algorithms/linear-program.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';

/** Random programs of the tack kind: rows "at least k of", conflicts "at most one of", small whole costs. */
const covering = (items: number): fc.Arbitrary<CoveringProgram> => {
  const members = fc.uniqueArray(fc.integer({ min: 0, max: items - 1 }), { minLength: 1, maxLength: 6 });
  return fc.record({
    costs: fc.array(fc.integer({ min: 0, max: 20 }), { minLength: items, maxLength: items }),
    choices: fc.array(
      fc.oneof(
        fc.record({ members, atLeast: fc.integer({ min: 1, max: 3 }) }),
        fc.record({ members, atMost: fc.integer({ min: 1, max: 2 }) }),
        fc.record({ members, atLeast: fc.constant(1), atMost: fc.constant(2) }),
      ),
      { maxLength: 14 },
    ),
  });
};

/** The least cost by looking at all subsets; Infinity when none is legal. */
function leastByEnumeration({ costs, choices }: CoveringProgram): number {
  let least = Infinity;
  for (let mask = 0; mask < 2 ** costs.length; mask += 1) {
    const chosen = costs.flatMap((_, item) => ((mask >> item) & 1 ? [item] : []));
    if (!choices.every((choice) => respected(choice, chosen))) continue;
    least = Math.min(
      least,
      chosen.reduce((sum, item) => sum + costs[item]!, 0),
    );
  }
  return least;
}

const asMixedInteger = ({ costs, choices }: CoveringProgram): Program => ({
  columns: costs.map((cost) => ({ cost, lower: 0, upper: 1, integer: true })),
  rows: choices.map(({ members, atLeast, atMost }) => ({
    lower: atLeast ?? 0,
    upper: atMost ?? Infinity,
    entries: members.map((item) => [item, 1] as const),
  })),
});

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

describe('small covering programs', () => {
  it('takes the fewest sites that keep to a greatest spacing and a least distance', () => {
    // Sites 0 to 6 on a line; every window of three needs one, neighbours exclude each other, both ends are wanted.
    const windows = [0, 1, 2, 3, 4].map((i) => ({ members: [i, i + 1, i + 2], atLeast: 1 }));
    const conflicts = [0, 1, 2, 3, 4, 5].map((i) => ({ members: [i, i + 1], atMost: 1 }));
    const ends = [0, 6].map((i) => ({ members: [i], atLeast: 1 }));
    const outcome = cover({
      costs: new Array<number>(7).fill(1),
      choices: [...windows, ...conflicts, ...ends],
    });
    expect(outcome).toEqual({ status: 'optimal', cost: 3, chosen: [0, 3, 6] });
  });

  it('says infeasible as a value, and refuses programs that make no sense', () => {
    const both = [
      { members: [0], atLeast: 1 },
      { members: [1], atLeast: 1 },
      { members: [0, 1], atMost: 1 },
    ];
    expect(cover({ costs: [1, 1], choices: both })).toEqual({ status: 'infeasible' });
    expect(cover({ costs: [1], choices: [{ members: [0], atLeast: 2 }] })).toEqual({ status: 'infeasible' });
    expect(cover({ costs: [], choices: [{ members: [], atLeast: 1 }] })).toEqual({ status: 'infeasible' });
    expect(cover({ costs: [], choices: [] })).toEqual({ status: 'optimal', cost: 0, chosen: [] });
    expect(cover({ costs: [0.5], choices: [] }).status).toBe('failed');
    expect(cover({ costs: [1], choices: [{ members: [1], atLeast: 1 }] }).status).toBe('failed');
    expect(cover({ costs: [1], choices: [{ members: [0, 0], atLeast: 2 }] }).status).toBe('failed');
  });

  it('agrees with the enumeration of all subsets, and repeats itself', () => {
    let infeasible = 0;
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10 }).chain(covering), (program) => {
        const outcome = cover(program);
        const least = leastByEnumeration(program);
        if (least === Infinity) infeasible += 1;
        expect(outcome.status).toBe(least === Infinity ? 'infeasible' : 'optimal');
        if (outcome.status !== 'optimal') return;
        expect(outcome.cost).toBe(least);
        expect(program.choices.every((choice) => respected(choice, outcome.chosen))).toBe(true);
        expect(cover(program)).toEqual(outcome);
      }),
      { numRuns: 600, seed: 21 },
    );
    expect(infeasible).toBeGreaterThan(50);
  });

  it('agrees with HiGHS on programs of the size of a joint', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 36 }).chain(covering), (program) => {
        const [outcome, witness] = [cover(program), programs.solve(asMixedInteger(program))];
        expect(outcome.status).toBe(witness.status);
        if (outcome.status === 'optimal' && witness.status === 'optimal')
          expect(outcome.cost).toBe(Math.round(witness.objective));
      }),
      { numRuns: 200, seed: 22 },
    );
  });
});

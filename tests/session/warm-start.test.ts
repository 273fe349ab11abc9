import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { compareVectors } from '../../src/base/order.js';
import { canonicalText } from '../../src/io/canonical.js';
import { planSession, type PlanOutcome } from '../../src/session/plan.js';
import { sourcesOf, story } from '../support/planned.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

type Planned = PlanOutcome & { kind: 'planned' };
const planned = (outcome: PlanOutcome): Planned => {
  if (outcome.kind !== 'planned') throw new Error(`got ${outcome.kind}`);
  return outcome;
};
const values = ({ plan }: Planned): number[] => plan.objective.map(({ value }) => value);
const asSource = ({ plan }: Planned) => ({ text: canonicalText(plan), name: 'old.plan.json' });

/** A weldment without shapes as a file: parts that each have some grippers, and a chain of needs. */
const abstractFile = (grippers: readonly (readonly number[])[], wishes = ''): string =>
  `weldment: many\nunits: mm kg N s deg\nparts:\n${grippers
    .map(
      (own, i) =>
        `  p${i}: { ways: [${own.map((g, k) => `{ gripper: g${g}, regrips: ${(g + i + k) % 2}, seconds: ${1 + ((g * 7 + i) % 5)} }`).join(', ')}] }\n`,
    )
    .join('')}${wishes}`;

describe('a warm start without shapes', () => {
  const sources = (text: string) => ({ weldment: { text, name: 'w.yaml' } });

  it('is never worse than the plan it starts from, however few steps there are', () => {
    fc.assert(
      fc.property(
        fc.array(fc.uniqueArray(fc.nat({ max: 4 }), { minLength: 1, maxLength: 3 }), {
          minLength: 4,
          maxLength: 9,
        }),
        (grippers) => {
          const old = planned(planSession(sources(abstractFile(grippers)), { programs, steps: 500 }));
          const again = planned(
            planSession(sources(abstractFile(grippers)), { programs, steps: 1, from: asSource(old) }),
          );
          expect(compareVectors(values(again), values(old))).toBeLessThanOrEqual(0);
          expect(again.start?.legal).toBe(true);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('says which rule the old plan breaks under a new wish, and finds another plan', () => {
    const grippers = [[0], [1], [2]];
    const old = planned(planSession(sources(abstractFile(grippers)), { programs }));
    const [first, second] = old.plan.stages.map(({ part }) => part);
    const text = abstractFile(grippers, `wishes: [{ before: [${second}, ${first}] }]\n`);
    const next = planned(planSession(sources(text), { programs, from: asSource(old) }));
    expect(next.start).toMatchObject({ legal: false, kept: false, stoppedBy: { rule: 'wishes-true' } });
    expect(next.plan.wishes![0]!.kept).toBe(true);
  });

  it('refuses what is no plan, and warns of a plan for another weldment', () => {
    const text = abstractFile([[0], [1]]);
    const broken = planSession(sources(text), { programs, from: { text: '{', name: 'old.plan.json' } });
    expect(broken.kind).toBe('bad-input');
    const old = planned(planSession(sources(text.replace('many', 'others')), { programs }));
    const next = planned(planSession(sources(text), { programs, from: asSource(old) }));
    expect(next.warnings.map(({ code }) => code)).toContain('plan-of-other-weldment');
  });
});

describe('a warm start with shapes', () => {
  it('is never worse under a single step, and the same byte for byte when made again', () => {
    const files = sourcesOf(story('one-tool-change'));
    const old = planned(planSession(files, { programs, steps: 400 }));
    const again = [1, 2].map(() => planned(planSession(files, { programs, steps: 1, from: asSource(old) })));
    expect(compareVectors(values(again[0]!), values(old))).toBeLessThanOrEqual(0);
    expect(canonicalText(again[1]!.plan)).toBe(canonicalText(again[0]!.plan));
  });

  it('takes up order, grips, holds and tacks where a change leaves them legal', () => {
    const files = sourcesOf(story('one-tool-change'));
    const wished = { text: 'wishes: [{ before: [north, south] }]\n', name: 's.yaml' };
    const old = planned(planSession({ ...files, settings: wished }, { programs, steps: 400 }));
    const next = planned(planSession(files, { programs, steps: 1, from: asSource(old) }));
    const order = ({ plan }: Planned): string[] => plan.stages.map(({ part }) => part);
    expect(order(next)).toEqual(order(old));
  });
});

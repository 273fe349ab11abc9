import { beforeAll, expect, it } from 'vitest';
import { blocksOnABase } from '../../benchmarks/blocks-on-a-base.js';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { checkPlan } from '../../src/session/check.js';
import { planSession } from '../../src/session/plan.js';

const PARTS = 12;

let programs: LinearPrograms;

beforeAll(async () => {
  programs = await loadLinearPrograms();
});

it('comes to a first plan with few of the parts judged in each state, and the plan keeps every rule', () => {
  const sources = blocksOnABase(PARTS);
  const firsts: number[] = [];
  const outcome = planSession(sources, {
    programs,
    stopRequested: () => firsts.length > 0,
    onProgress: ({ best, steps }) => {
      if (best) firsts.push(steps);
    },
  });
  if (outcome.kind !== 'planned' || outcome.plan.kind !== 'geometric') throw new Error(outcome.kind);
  // Of 12 * 11 / 2 parts that may come in the states on the way: one a stage, and a few at dead ends.
  expect(firsts[0]).toBeLessThanOrEqual(3 * PARTS);
  expect(outcome.plan.proof.states).toBe(firsts[0]);
  expect(outcome.plan.stages).toHaveLength(PARTS);
  expect(outcome.plan.proof.outcome).toBe('feasible');
  for (const { value, bound } of outcome.plan.objective) expect(bound).toBeLessThanOrEqual(value);
  const plan = { name: 'plan.json', text: JSON.stringify(outcome.plan) };
  expect(checkPlan(plan, sources, programs)).toMatchObject({ kind: 'judged', findings: [] });
});

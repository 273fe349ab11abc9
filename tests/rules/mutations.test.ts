import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { geometricPlanSchema, type GeometricPlan } from '../../src/model/plan.js';
import { checkGeometric, RULES } from '../../src/rules/check.js';
import { testCell } from '../support/cell.js';
import { contextOf, handMadePlan } from '../support/hand-made-plan.js';
import { standWeldment } from '../support/stand-weldment.js';
import { MUTATIONS } from './mutations.js';

let programs: LinearPrograms;
let plan: GeometricPlan;

beforeAll(async () => {
  programs = await loadLinearPrograms();
  plan = handMadePlan(programs);
});

describe('a sound plan made by hand', () => {
  it('is one by the schema', () => {
    expect(geometricPlanSchema.safeParse(plan).error).toBeUndefined();
  });

  it('breaks no rule', () => {
    expect(checkGeometric(contextOf(plan, programs))).toEqual([]);
  });

  it('has what the mutations need: a tool change, a regrip, holds, both phases of tacks', () => {
    const steps = plan.programs.flatMap((program) => program.steps.map((step) => step.do));
    expect(new Set(steps)).toEqual(
      new Set(
        'move,change-gripper,part-present,grip,set-down,clamp,hold,proof-pull,let-go,earth-check,tack,wire-check,accept,enter,leave,signal,await,hand-over'.split(
          ',',
        ) as typeof steps,
      ),
    );
    expect(new Set(plan.stages.flatMap(({ tacks }) => tacks.map(({ phase }) => phase))).size).toBe(2);
  });
});

describe('mutations', () => {
  it('are there for every rule', () => {
    expect(new Set(MUTATIONS.map(({ rule }) => rule))).toEqual(new Set(RULES.map(({ id }) => id)));
  });

  it.each(MUTATIONS)('$rule: $name', ({ rule, also, mutate }) => {
    const original = structuredClone(plan);
    const mutated = mutate({ weldment: standWeldment(), cell: testCell(), plan });
    expect(plan).toEqual(original);
    expect(mutated).toBeDefined();
    const { weldment, cell, plan: spoiled } = mutated!;
    const findings = checkGeometric(contextOf(spoiled, programs, weldment, cell));
    const rules = new Set(findings.map((finding) => finding.rule));
    expect(rules).toContain(rule);
    for (const other of rules) expect([rule, ...also]).toContain(other);
  });
});

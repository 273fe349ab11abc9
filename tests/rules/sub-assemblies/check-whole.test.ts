import { beforeAll, describe, expect, it } from 'vitest';
import { findMaterial } from '../../../src/model/material.js';
import { geometricPlanSchema, type GeometricPlan, type PlanSubAssembly } from '../../../src/model/plan.js';
import type { Weldment } from '../../../src/model/weldment.js';
import { checkWhole, SUB_ASSEMBLY_RULES } from '../../../src/rules/sub-assemblies/check-whole.js';
import type { WholePlan } from '../../../src/rules/sub-assemblies/split-context.js';
import { Planner } from '../../support/planned.js';
import { stackedPlan } from './stacked.js';

let whole: WholePlan;

beforeAll(async () => {
  whole = stackedPlan(await Planner.load());
});

/** A way to spoil the sound plan or its weldment, on copies. */
interface Spoil {
  readonly rule: string;
  readonly name: string;
  /** Where each finding of the rule is. */
  readonly where: string;
  /** Rules that cannot help but speak too. */
  readonly also?: readonly string[];
  readonly plan?: (plan: GeometricPlan, group: PlanSubAssembly) => unknown;
  readonly weldment?: (weldment: Weldment) => Weldment;
}

const asked = (...groups: { readonly name: string; readonly parts: readonly string[] }[]) => ({
  weldment: (weldment: Weldment): Weldment => ({ ...weldment, subAssemblies: groups }),
});

const partly = (id: string, change: object) => ({
  weldment: (weldment: Weldment): Weldment => ({
    ...weldment,
    parts: weldment.parts.map((part) => (part.id === id ? { ...part, ...change } : part)),
  }),
});

const TRUE = 'sub-assemblies-true';
const STAND = { name: 'stand', parts: ['cap', 'riser'] };
/** Nothing is asked for by name, so that only what is stated is judged. */
const auto = { weldment: (weldment: Weldment): Weldment => ({ ...weldment, subAssemblies: 'auto' }) };

const SEARCH = { liftable: 1, largest: 4, cut: false, promising: 1, tried: [], most: 6 };

const SPOILS: readonly Spoil[] = [
  {
    ...{ rule: TRUE, name: 'the weldment asks for none', where: 'subAssemblies' },
    weldment: (weldment) => ({ ...weldment, subAssemblies: 'off' }),
  },
  {
    ...{ rule: TRUE, name: 'one that is asked for is missing', where: 'subAssemblies' },
    plan: (plan) => {
      delete plan.subAssemblies;
    },
  },
  {
    ...{ rule: TRUE, name: 'another one is asked for too', where: 'subAssemblies' },
    ...asked(STAND, { name: 'plinth', parts: ['base', 'riser'] }),
  },
  {
    ...{ rule: TRUE, name: 'nobody asks for it', where: 'subAssemblies[0]' },
    ...asked(STAND),
    plan: ({ subAssemblies }) => {
      subAssemblies![0]!.name = 'stack';
      subAssemblies!.push({ ...structuredClone(subAssemblies![0]!), name: 'stand', parts: ['cap', 'riser'] });
    },
    also: [TRUE],
  },
  {
    ...{ rule: TRUE, name: 'it is asked for of other parts', where: 'subAssemblies[0].parts' },
    ...asked({ name: 'stand', parts: ['base', 'riser'] }),
  },
  {
    ...{ rule: TRUE, name: 'it is asked for on another rest', where: 'subAssemblies[0].rest' },
    weldment: (weldment) => ({ ...weldment, subAssemblies: [{ ...STAND, rest: 'cap/+z' }] }),
  },
  {
    ...{
      rule: TRUE,
      name: 'its parts may be farther off than is asked for',
      where: 'subAssemblies[0].within',
    },
    plan: (_, group) => {
      group.within = 0.8;
    },
  },
  {
    ...{ rule: TRUE, name: 'it is said to be asked for by name, and is not', where: 'whole.asked' },
    ...auto,
  },
  {
    ...{ rule: TRUE, name: 'the planner is said to have looked for it', where: 'whole.asked' },
    plan: (plan) => {
      plan.whole!.asked = 'auto';
    },
  },
  {
    ...{ rule: TRUE, name: 'a search is told that nobody made', where: 'whole.search' },
    plan: (plan) => {
      plan.whole!.search = SEARCH;
    },
  },
  {
    ...{ rule: TRUE, name: 'it is compared with one piece, and nobody asked', where: 'whole.inOnePiece' },
    plan: (plan) => {
      plan.whole!.inOnePiece = { outcome: 'none-found' };
    },
  },
  {
    ...{ rule: TRUE, name: 'its name is that of a part', where: 'subAssemblies[0].name' },
    ...auto,
    plan: (_, group) => {
      group.name = 'base';
    },
  },
  {
    ...{ rule: TRUE, name: 'a part is in it twice', where: 'subAssemblies[0].parts[2]' },
    ...auto,
    plan: (_, { parts }) => parts.push('cap'),
  },
  {
    ...{ rule: TRUE, name: 'it has all parts', where: 'subAssemblies' },
    ...auto,
    plan: (_, { parts }) => parts.push('base'),
  },
  {
    ...{ rule: TRUE, name: 'it has a part that nobody knows', where: 'subAssemblies[0].parts' },
    ...auto,
    plan: (_, { parts }) => {
      parts[0] = 'stranger';
    },
  },
  {
    ...{ rule: TRUE, name: 'it lies on a face that it does not have', where: 'subAssemblies[0].rest' },
    plan: (_, group) => {
      group.rest = 'riser/-w';
    },
  },
  {
    ...{ rule: TRUE, name: 'a part of it is set by hand', where: 'subAssemblies[0].parts' },
    ...partly('cap', { manual: { seconds: 300, within: 0.5 } }),
  },
  {
    ...{ rule: TRUE, name: 'magnets do not hold a part of it', where: 'subAssemblies[0].parts' },
    ...partly('cap', { material: findMaterial('aluminium')! }),
  },
  {
    ...{ rule: TRUE, name: 'its plan is for another file', where: 'subAssemblies[0].plan.weldment' },
    plan: (_, { plan }) => {
      plan.weldment.digest = '0'.repeat(64);
    },
  },
  {
    ...{
      rule: TRUE,
      name: 'its plan is that of another sub-assembly',
      where: 'subAssemblies[0].plan.weldment',
    },
    plan: (_, { plan }) => {
      plan.weldment.name = 'stool';
    },
  },
  {
    ...{ rule: TRUE, name: 'its plan is for another cell', where: 'subAssemblies[0].plan.cell' },
    plan: (_, { plan }) => {
      plan.cell.digest = '0'.repeat(64);
    },
  },
  {
    ...{ rule: TRUE, name: 'its plan was made with other settings', where: 'subAssemblies[0].plan.settings' },
    plan: (_, { plan }) => {
      plan.settings.budget.steps = 12345;
    },
  },
  {
    ...{
      rule: 'sub-assembly-lifts',
      name: 'it is said to be lifted more surely',
      where: 'subAssemblies[0].lift',
    },
    plan: (_, { lift }) => {
      lift.reserve += 1;
    },
  },
  ...(
    [
      ['on another grip', { grip: 9 }],
      ['under a load that nobody knows', { case: 'a mere feather' }],
    ] as const
  ).map(([name, change]) => ({
    ...{ rule: 'sub-assembly-lifts', name: `it is said to be least sure ${name}` },
    where: 'subAssemblies[0].lift',
    plan: (_: GeometricPlan, { lift }: PlanSubAssembly) => Object.assign(lift, change),
  })),
  {
    ...{ rule: 'sub-assembly-lifts', name: 'its tacks are too weak for it', where: 'subAssemblies[0].lift' },
    plan: (_, { plan }) => {
      for (const { tacks } of plan.stages) for (const tack of tacks) tack.strength = 10;
    },
    // The plan of the sub-assembly states another strength than its tacks have, and what follows from it.
    also: ['tack-rules', 'reserves-hold', 'reserves-true', 'proof-pull'],
  },
];

/** A copy in which no two places share an object: the settings of both plans are one. */
const copyOf = (plan: GeometricPlan): GeometricPlan => JSON.parse(JSON.stringify(plan)) as GeometricPlan;

function spoiled({ plan: change, weldment }: Spoil): WholePlan {
  const plan = copyOf(whole.plan);
  if (change) change(plan, plan.subAssemblies![0]!);
  return { ...whole, plan, weldment: weldment ? weldment(whole.weldment) : whole.weldment };
}

describe('a plan with a sub-assembly', () => {
  it('is one by the schema, and breaks no rule', () => {
    expect(geometricPlanSchema.safeParse(whole.plan).error).toBeUndefined();
    expect(checkWhole(whole)).toEqual([]);
  });

  it('has a spoil for every rule that only such plans have', () => {
    expect(new Set(SPOILS.map(({ rule }) => rule))).toEqual(new Set(SUB_ASSEMBLY_RULES.map(({ id }) => id)));
  });

  it.each(SPOILS)('is not legal where $name', (spoil) => {
    const { rule, where, also = [] } = spoil;
    const findings = checkWhole(spoiled(spoil));
    const own = findings.filter((finding) => finding.rule === rule);
    expect(own.map((finding) => finding.where)).toContain(where);
    for (const finding of findings) expect([rule, ...also]).toContain(finding.rule);
  });

  it('is judged by every rule for the plan in it, with where it is and of what', () => {
    const plan = copyOf(whole.plan);
    const [nested] = plan.subAssemblies!;
    nested!.plan.stages[1]!.tacks[0]!.order = 3;
    const findings = checkWhole({ ...whole, plan });
    expect(findings.length).toBeGreaterThan(0);
    for (const { where, message } of findings) {
      expect(where).toMatch(/^subAssemblies\[0\]\.plan\./);
      expect(message).toMatch(/^stand: /);
    }
    expect(findings.map(({ rule }) => rule)).toContain('tack-rules');
  });

  it('is judged by every rule with the sub-assembly as a part', () => {
    const plan = copyOf(whole.plan);
    plan.stages[1]!.handling[0]!.grip.face = 'cap/+q';
    expect(new Set(checkWhole({ ...whole, plan }).map(({ rule }) => rule))).toContain('grip-fits');
  });

  it('joins the member that is asked for: a seam on the other one is none of it', () => {
    const plan = copyOf(whole.plan);
    const [joint] = plan.joints;
    for (const seam of joint!.seams) {
      seam.from[2] += 40;
      seam.to[2] += 40;
    }
    const found = checkWhole({ ...whole, plan }).filter(({ rule }) => rule === 'joints-true');
    expect(found.map(({ message }) => message)).toContain(
      'the fillet joint of base and riser of stand with leg 5 mm is missing',
    );
  });
});

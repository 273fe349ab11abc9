import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { eachPartOnce } from '../../src/rules/each-part-once.js';
import { firstPartStands } from '../../src/rules/first-part-stands.js';
import { joinedToWeldment } from '../../src/rules/joined-to-weldment.js';
import { jointsTrue } from '../../src/rules/joints-true.js';
import { orderRelations } from '../../src/rules/order-relations.js';
import { barePlan } from '../support/bare-plan.js';
import { contextOf } from '../support/hand-made-plan.js';
import { plateShape, standJoints, standWeldment, steelPart } from '../support/stand-weldment.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

const of = (plan: GeometricPlan, weldment = standWeldment()) => contextOf(plan, programs, weldment);

describe('each-part-once', () => {
  it('tells a part that comes twice from one that never comes', () => {
    const findings = eachPartOnce.judge(of(barePlan('base', 'wall', 'wall')));
    expect(findings.map(({ where }) => where)).toEqual(['stages[2].part', 'stages']);
    expect(findings[1]!.message).toContain('rib never joins');
  });
});

describe('order-relations', () => {
  it('speaks of blocking and needs by stage', () => {
    const weldment = { ...standWeldment(), blocking: [{ part: 'rib', by: ['wall'] }] };
    const [blocked] = orderRelations.judge(of(barePlan('base', 'wall', 'rib'), weldment));
    expect(blocked).toMatchObject({ where: 'stages[1].part', value: 2, limit: 3 });
    const [needed] = orderRelations.judge(of(barePlan('base', 'rib', 'wall')));
    expect(needed).toMatchObject({ where: 'stages[1].part', value: 2, limit: 3 });
    expect(orderRelations.judge(of(barePlan('base', 'wall', 'rib')))).toEqual([]);
  });
});

describe('first-part-stands', () => {
  it('wants it on the table', () => {
    const weldment = standWeldment();
    const plan = barePlan('wall', 'base', 'rib');
    expect(firstPartStands.judge(of(plan, weldment)).map(({ where }) => where)).toEqual(['stages[0].part']);
    expect(firstPartStands.judge(of(barePlan('base', 'wall'), weldment))).toEqual([]);
  });
});

describe('joined-to-weldment', () => {
  it('wants a joint with what stands, and a hold for securing tacks', () => {
    const plan = barePlan('base', 'wall', 'rib');
    plan.joints = standJoints().filter(({ id }) => id !== 'J1');
    plan.stages[2]!.held = 'handler';
    const wheres = joinedToWeldment.judge(of(plan)).map(({ where }) => where);
    expect(wheres).toEqual([
      'stages[2].tacks',
      'stages[2].stands',
      'stages[1].standsOn',
      'stages[2].standsOn',
    ]);
  });

  it('lets a part without a joint stand only by itself, on what bears it', () => {
    const plan = barePlan('base', 'wall', 'rib');
    plan.joints = standJoints().filter(({ id }) => id !== 'J1');
    const wall = plan.stages[1]!;
    const wheresOf = () =>
      joinedToWeldment
        .judge(of(plan))
        .map(({ where }) => where)
        .filter((where) => where.startsWith('stages[1]'));
    expect(wheresOf()).toEqual(['stages[1].standsOn', 'stages[1].part']);
    wall.standsOn = { table: true, parts: ['base'] };
    expect(wheresOf()).toEqual(['stages[1].standsOn', 'stages[1].part']);
    wall.standsOn = { table: false, parts: ['base'] };
    expect(wheresOf()).toEqual(['stages[1].part']);
    wall.stands = 'tacked';
    expect(wheresOf()).toEqual(['stages[1].part', 'stages[1].stands', 'stages[1].standsOn']);
  });
});

describe('joints-true', () => {
  const withJoints = (change: (joints: GeometricPlan['joints']) => void): GeometricPlan => {
    const plan = barePlan('base', 'wall', 'rib');
    plan.joints = standJoints();
    change(plan.joints);
    return plan;
  };
  const judge = (change: (joints: GeometricPlan['joints']) => void) =>
    jointsTrue.judge(of(withJoints(change)));

  it('accepts the seams of the stand', () => {
    expect(judge(() => undefined)).toEqual([]);
  });

  it('measures how far a seam is off a part', () => {
    const findings = judge(([first]) => {
      first!.seams[0]!.from[2] += 5;
      first!.seams[0]!.to[2] += 5;
    });
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({ where: 'joints[0].seams[0]', limit: 1 });
    expect(findings[0]!.value).toBeCloseTo(5, 6);
  });

  it('wants the open side open', () => {
    const findings = judge(([first]) => {
      first!.seams[0]!.open = [0, Math.SQRT1_2, -Math.SQRT1_2];
    });
    expect(findings).toMatchObject([{ where: 'joints[0].seams[0].open', value: 0 }]);
    expect(findings[0]!.message).toContain('base');
  });

  it('wants each name once, and a seam on the side that was asked for', () => {
    const findings = judge(([, second, third]) => {
      second!.seams[0]!.from[0] = second!.seams[0]!.to[0] = 4;
      second!.seams[0]!.open[0] *= -1;
      third!.seams[0]!.id = 'J2.1';
    });
    expect(findings.map(({ where }) => where)).toEqual(['joints[2].seams[0].id', 'joints[1].seams[0].open']);
  });

  it('misses a joint that was given, and one that nobody asked for', () => {
    const findings = judge((joints) => {
      joints[2]!.leg = 5;
      joints.push({ ...joints[0]!, id: 'J9', between: ['rib', 'stranger'], seams: [] });
    });
    expect(findings.map(({ message }) => message)).toEqual([
      'part stranger of joint J9 is not in the weldment',
      'joint J9 has no seam',
      'joint J9 of rib and stranger is not asked for',
      'the fillet joint of wall and rib with leg 4 mm is missing',
    ]);
  });

  it('lets a seam bridge the fit-up gap but no more', () => {
    const gapped = (gap: number) => {
      const weldment = standWeldment();
      const parts = [
        weldment.parts[0]!,
        steelPart('wall', plateShape(300, 120, 8), [0, 0, 70 + gap], [-90, 0, 0]),
      ];
      const plan = withJoints((joints) => joints.splice(1));
      return jointsTrue.judge(of(plan, { ...weldment, parts, joints: weldment.joints!.slice(0, 1) }));
    };
    expect(gapped(0.9)).toEqual([]);
    expect(gapped(1.2)).toHaveLength(2);
  });
});

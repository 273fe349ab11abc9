import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { lyingPose } from '../../src/model/placement.js';
import { gripCarries } from '../../src/rules/grip-carries.js';
import { gripFits } from '../../src/rules/grip-fits.js';
import { gripperClear } from '../../src/rules/gripper-clear.js';
import { handlingContinuous } from '../../src/rules/handling-continuous.js';
import { reach } from '../../src/rules/reach.js';
import type { Rule } from '../../src/rules/rule.js';
import { restsStable } from '../../src/rules/rests-stable.js';
import { testCell } from '../support/cell.js';
import { contextOf, handMadePlan } from '../support/hand-made-plan.js';
import { planPose } from '../support/stage-maker.js';
import { standWeldment } from '../support/stand-weldment.js';

let programs: LinearPrograms;
let plan: GeometricPlan;
beforeAll(async () => {
  programs = await loadLinearPrograms();
  plan = handMadePlan(programs);
});

const judge = (
  rule: Rule,
  change: (plan: GeometricPlan) => void,
  { weldment = standWeldment(), cell = testCell() } = {},
) => {
  const copy = structuredClone(plan);
  change(copy);
  return rule.judge(contextOf(copy, programs, weldment, cell));
};
const nothing = (): void => undefined;
/** The arm never speeds up. */
const still = ({ settings: { loads } }: GeometricPlan): void => {
  loads['stop-acceleration'] = loads['transport-acceleration'] = 0;
};
const first = (copy: GeometricPlan) => copy.stages[0]!.handling[0]!;

describe('grip-fits', () => {
  it('wants whole pads on the face', () => {
    // Pads of radius 22.5 at +-40 on a wall of 300: centre up to 150 - 62.5 = 87.5.
    expect(judge(gripFits, (copy) => (copy.stages[1]!.handling[0]!.grip.position = [87.5, 0]))).toEqual([]);
    const over = judge(gripFits, (copy) => (copy.stages[1]!.handling[0]!.grip.position = [88, 0]));
    expect(over.map(({ message }) => message.slice(0, 13))).toEqual(['pad 2 of wide']);
  });

  it('weighs part and gripper, and takes their moment about the wrist centre', () => {
    // Base 320 x 320 x 10 of steel: 8.0384 kg; centre 165 mm under the flange, which is 120 mm from the wrist centre.
    const cell = testCell();
    const payload = { ...cell.handlers[0]!.payload, mass: 10, moment: 13_000 };
    const findings = judge(gripFits, nothing, {
      cell: { ...cell, handlers: [{ ...cell.handlers[0]!, payload }] },
    });
    const base = findings.filter(({ where }) => where.startsWith('stages[0]'));
    expect(base).toHaveLength(2);
    expect(base[0]!.value).toBeCloseTo(8.0384 + 2.5, 6);
    expect(base[1]!.value).toBeCloseTo(9.80665 * (8.0384 * (165 + 120) + 2.5 * (80 + 120)), 3);
  });

  it('limits the inertia about axes 4, 5 and 6', () => {
    // Base and gripper box of 60 x 60 x 160, both in line with the flange axis, by m (b2 + c2) / 12 and m r2.
    const cell = testCell();
    const about6 = (8.0384 * (320 ** 2 + 320 ** 2) + 2.5 * (60 ** 2 + 60 ** 2)) / 12;
    const across =
      8.0384 * ((320 ** 2 + 10 ** 2) / 12 + 285 ** 2) + 2.5 * ((60 ** 2 + 160 ** 2) / 12 + 200 ** 2);
    const findings = (inertia: [number, number, number]) => {
      const handler = cell.handlers[0]!;
      const handlers = [{ ...handler, payload: { ...handler.payload, inertia } }];
      return judge(gripFits, nothing, { cell: { ...cell, handlers } }).filter(({ where }) =>
        where.startsWith('stages[0]'),
      );
    };
    const over = findings([across * 1e-6 - 0.001, across * 1e-6 - 0.001, about6 * 1e-6 - 0.001]);
    expect(over.map(({ value }) => value!.toFixed(5))).toEqual(
      [across, across, about6].map((value) => (value * 1e-6).toFixed(5)),
    );
    expect(findings([across * 1e-6 + 0.001, across * 1e-6 + 0.001, about6 * 1e-6 + 0.001])).toEqual([]);
  });

  it('keeps to the grips that the file gives, whole turns aside', () => {
    const weldment = standWeldment();
    const given = (position: [number, number], turn: number) => ({
      weldment: {
        ...weldment,
        parts: weldment.parts.map((part) =>
          part.id === 'base'
            ? { ...part, grips: [{ gripper: 'single', face: '+z' as const, position, turn }] }
            : part,
        ),
      },
    });
    expect(judge(gripFits, nothing, given([0, 0], 2 * Math.PI))).toEqual([]);
    expect(judge(gripFits, nothing, given([0, 0], 0.1))).toHaveLength(1);
    expect(judge(gripFits, nothing, given([0, 1], 0))).toHaveLength(1);
  });
});

describe('grip-carries', () => {
  // 600 N x gap 0.75 x thickness 1 x reduction 0.6 = 270 N straight down against the weight of 30 kg.
  it.each([
    ['one magnet', 1e4, 270],
    ['a weak arm', 196, 196],
  ])('finds the reserve of a plate hanging on %s', (_, force, carried) => {
    const weldment = standWeldment();
    const cell = testCell();
    const parts = weldment.parts.map((part) => (part.id === 'base' ? { ...part, massGiven: 30 } : part));
    const handler = { ...cell.handlers[0]!, payload: { ...cell.handlers[0]!.payload, force } };
    const changed = { weldment: { ...weldment, parts }, cell: { ...cell, handlers: [handler] } };
    const findings = judge(gripCarries, still, changed).filter(({ where }) => where.startsWith('stages[0]'));
    expect(findings).toHaveLength(1);
    expect(findings[0]!.value).toBeCloseTo(carried / (30 * 9.80665), 4);
  });

  it('finds the sudden stop at which a plate slides off one magnet', () => {
    // A plate of 4 kg hangs level with its centre on the pad's axis, 5 mm below the pad of radius 30. The pad presses with
    // 270 - 39.2 N or more as the stop goes on, but friction counts the pull alone: 0.15 x 270 = 40.5 N, less by the
    // tilting moment that the rim takes (m a x 5 mm against friction points at 20 mm).
    const weldment = standWeldment();
    const parts = weldment.parts.map((part) => (part.id === 'base' ? { ...part, massGiven: 4 } : part));
    const findings = judge(
      gripCarries,
      (copy) => {
        copy.settings.loads['stop-acceleration'] = 12;
      },
      { weldment: { ...weldment, parts }, cell: testCell() },
    );
    const found = findings.find(({ where }) => where === 'stages[0].handling[0]')!;
    expect(found.message).toContain('emergency stop level');
    expect(found.value! * 4 * 12).toBeLessThanOrEqual(40.5);
    expect(found.value! * 4 * 12).toBeGreaterThan(0.85 * (40.5 - 0.15 * 4 * 9.80665));
  });
});

describe('rests-stable', () => {
  it('wants a part to come back from a tilt of ten degrees', () => {
    const onEdge = judge(restsStable, (copy) => (copy.stages[1]!.handling[0]!.take.rest = '+y'));
    expect(onEdge).toMatchObject([{ where: 'stages[1].handling[0].take.rest', value: 4 }]);
    // The wall stands 120 mm high: its centre of mass must be 60 tan 10 = 10.58 mm inside the edge.
    expect(onEdge[0]!.limit).toBeCloseTo(60 * Math.tan(Math.PI / 18), 9);
  });

  it('finds a rest that the part does not have', () => {
    const nowhere = judge(restsStable, (copy) => (copy.stages[1]!.handling[0]!.take.rest = 'toes-1'));
    expect(nowhere).toMatchObject([{ where: 'stages[1].handling[0].take.rest' }]);
  });

  it('lets nothing hang over the regrip table', () => {
    const over = judge(restsStable, (copy) => (copy.stages[2]!.handling[0]!.put.part.at[0] += 195));
    // The rib lies across, 120 mm in x: its edge is at 60 + 195 mm, the table's at 250.
    expect(over[0]!.value).toBeCloseTo(5, 3);
  });
});

describe('handling-continuous', () => {
  it('accepts any turn about the vertical at the regrip table, and no other place', () => {
    const { shape } = standWeldment().parts[2]!;
    for (const rest of ['-z', '+z', '+x', '-x', '+y', '-y'] as const)
      for (const degrees of [0, 37, 90, 180, -125]) {
        const pose = planPose(lyingPose(shape, rest, testCell().regrip.pose, (degrees * Math.PI) / 180));
        const set = (copy: GeometricPlan, dx: number): void => {
          const [before, after] = copy.stages[2]!.handling;
          const part = { ...pose, at: [pose.at[0] + dx, pose.at[1], pose.at[2]] as [number, number, number] };
          before!.put = { ...before!.put, rest, part };
          after!.take = { ...after!.take, rest, part };
        };
        expect(judge(handlingContinuous, (copy) => set(copy, 0))).toEqual([]);
        const aside = judge(handlingContinuous, (copy) => set(copy, 0.5));
        expect(aside).toMatchObject([{ where: 'stages[2].handling[0].put.part', limit: 0.05 }]);
        expect(aside[0]!.value).toBeCloseTo(0.5, 6);
      }
  });

  it('misses the second grip', () => {
    const findings = judge(handlingContinuous, (copy) => copy.stages[2]!.handling.pop());
    expect(findings.map(({ where }) => where)).toEqual(
      ['part', 'to', 'rest'].map((field) => `stages[2].handling[0].put.${field}`),
    );
  });
});

describe('gripper-clear', () => {
  it('says where the gripper would go below a station', () => {
    const low = judge(gripperClear, (copy) => (first(copy).take.part.at[2] -= 15));
    expect(low[0]).toMatchObject({ where: 'stages[0].handling[0].take', limit: 0 });
    // The pad plane is on top of the 10 mm base.
    expect(low[0]!.value).toBeCloseTo(-5, 3);
  });

  it('meets the wall when the rib is taken by its other face from above', () => {
    const other = judge(gripperClear, (copy) => {
      copy.stages[2]!.handling[1]!.grip.position = [-60, 0];
    });
    expect(other.some(({ message }) => message.includes('meets wall'))).toBe(true);
  });
});

describe('reach', () => {
  it('measures by how much stated joints miss the pose', () => {
    const off = judge(reach, (copy) => (first(copy).take.joints[5] += 1));
    expect(off).toMatchObject([{ where: 'stages[0].handling[0].take.joints', limit: 0.2 }]);
    expect(off[0]!.message).toContain('0 mm and 1 degrees');
  });

  it('tells a joint past its limit from another branch', () => {
    const past = judge(reach, (copy) => (first(copy).take.joints[4] = 126));
    expect(past[0]).toMatchObject({ where: 'stages[0].handling[0].take.joints' });
    expect(past[0]!.limit).toBeCloseTo(125, 9);
    expect(past[0]!.value).toBeCloseTo(126, 9);
    const flipped = judge(reach, (copy) => {
      const { take } = first(copy);
      take.approach = [...take.approach];
      take.approach[3] += take.approach[3] > 0 ? -180 : 180;
      take.approach[4] *= -1;
      take.approach[5] += take.approach[5] > 0 ? -180 : 180;
    });
    // The pose is right, but the stroke from it ends in another branch.
    expect(flipped).toHaveLength(1);
    expect(flipped[0]!.where).toBe('stages[0].handling[0].take.joints');
    expect(flipped[0]!.message).toContain('another branch');
  });

  it('looks at the stand where a gripper is changed', () => {
    const findings = judge(reach, (copy) => {
      const steps = copy.programs[0]!.steps;
      const change = steps.findIndex((step) => step.do === 'change-gripper');
      const move = steps[change - 1]!;
      if (move.do === 'move') move.to[0] += 1;
    });
    expect(findings).toHaveLength(1);
    expect(findings[0]!.where).toMatch(/^programs\[0\]\.steps\[\d+\]\.to$/);
  });
});

import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { multiply, rotate, turnAbout } from '../../src/geometry/pose.js';
import { subtract, unit } from '../../src/geometry/vector.js';
import type { Cell } from '../../src/model/cell.js';
import type { GeometricPlan, PlanTack } from '../../src/model/plan.js';
import type { WeldingPosition } from '../../src/model/welding-position.js';
import { judgedReserves } from '../../src/rules/judged-reserves.js';
import { magnetDistance } from '../../src/rules/magnet-distance.js';
import { poseOf } from '../../src/rules/plan-frames.js';
import { SeamPlaces } from '../../src/rules/seam-places.js';
import { seamDemand } from '../../src/rules/tack-layout.js';
import { tackRules } from '../../src/rules/tack-rules.js';
import { tackSides } from '../../src/rules/tack-sides.js';
import { stepTimes } from '../../src/rules/step-times.js';
import { torchAccess } from '../../src/rules/torch-access.js';
import { weldingPositionTrue } from '../../src/rules/welding-position.js';
import { testCell } from '../support/cell.js';
import { contextOf, handMadePlan } from '../support/hand-made-plan.js';
import { DEGREE, planPose } from '../support/stage-maker.js';
import { standWeldment } from '../support/stand-weldment.js';

let programs: LinearPrograms;
let plan: GeometricPlan;
beforeAll(async () => {
  programs = await loadLinearPrograms();
  plan = handMadePlan(programs);
});

const changed = (change: (plan: GeometricPlan) => void): GeometricPlan => {
  const copy = structuredClone(plan);
  change(copy);
  return copy;
};
const wall = (copy: GeometricPlan): PlanTack[] => copy.stages[1]!.tacks;

describe('what a seam demands', () => {
  const demand = (length: number, change: (plan: GeometricPlan) => void = () => undefined) => {
    const copy = changed((other) => {
      other.joints[0]!.seams[0]!.to[0] = other.joints[0]!.seams[0]!.from[0] + length;
      change(other);
    });
    const context = contextOf(copy, programs);
    const seams = new SeamPlaces(context).all();
    return seamDemand(context, seams[0]!, seams);
  };

  // Base 10 mm, wall 8 mm: EN 1090-2 asks for min(4 x 10, 50) = 40 mm; pitch min(30 x 8, 300) = 240 mm.
  it.each([
    [300, 2, undefined],
    [100, 2, undefined],
    [99.97, 1, undefined],
    [99, 1, undefined],
    [60, 1, undefined],
    [59, 1, 39],
    [30, 1, 10],
    [22, 1, 10],
    [8, 1, 8],
  ])('of %d mm: %d tacks', (length, number, single) => {
    expect(demand(length)).toMatchObject({ least: 40, pitch: 240, endDistance: 10, number });
    if (single === undefined) expect(demand(length).single).toBeUndefined();
    else expect(demand(length).single).toBeCloseTo(single, 9);
  });

  it('follows the settings', () => {
    const other = demand(300, ({ settings }) => {
      settings.tacks['pitch-most'] = 120;
      settings.tacks['least-number'] = 9;
      settings.tacks['end-distance'] = 20;
    });
    expect(other).toMatchObject({ pitch: 120, number: 6, endDistance: 20 });
  });
});

describe('tack-rules', () => {
  const judge = (change: (plan: GeometricPlan) => void) =>
    tackRules.judge(contextOf(changed(change), programs));

  it('measures length, end distance, pitch and overlap', () => {
    expect(judge((copy) => (wall(copy)[0]!.start = 7))).toMatchObject([
      { where: 'stages[1].tacks[0].start', value: 7, limit: 10 },
      { where: 'stages[1].tacks', value: 243, limit: 240 },
    ]);
    expect(judge((copy) => (wall(copy)[2]!.start = 30))).toMatchObject([
      { where: 'stages[1].tacks', value: 250, limit: 240 },
      { where: 'stages[1].tacks[2].start', value: -20, limit: 0 },
    ]);
    const short = judge((copy) => (wall(copy)[0]!.length = 30));
    expect(short).toContainEqual(
      expect.objectContaining({ where: 'stages[1].tacks[0].length', value: 30, limit: 40 }),
    );
  });

  it('wants one centred tack on a seam that is too short for a whole one', () => {
    // A seam of 50 mm with 10 mm kept free at both ends: one tack of 30 mm from 10 to 40.
    const on = (start: number, length: number) =>
      judge((copy) => {
        const seam = copy.joints[0]!.seams[0]!;
        seam.to[0] = seam.from[0] + 50;
        copy.stages[1]!.tacks = wall(copy).filter(({ id }) => id !== 'J1.1@250');
        Object.assign(wall(copy)[0]!, { start, length });
      }).filter(({ where }) => /tacks\[0\]\.(start|length)/.test(where));
    expect(on(10, 30)).toEqual([]);
    expect(on(12, 30)).toMatchObject([{ where: 'stages[1].tacks[0].start', value: 2, limit: 0 }]);
    expect(on(11, 28)).toMatchObject([{ where: 'stages[1].tacks[0].length', value: 28, limit: 30 }]);
  });

  it('counts the tacks of a seam at the stage of its later part', () => {
    expect(judge((copy) => wall(copy).splice(2, 1))).toContainEqual(
      expect.objectContaining({ where: 'stages[1].tacks', value: 1, limit: 2 }),
    );
    const moved = judge((copy) => copy.stages[2]!.tacks.push({ ...wall(copy).pop()!, order: 5 }));
    expect(moved.map(({ where }) => where)).toEqual(['stages[2].tacks[4].joint', 'stages[1].tacks']);
  });

  it('holds leg and strength against the model', () => {
    // 40 mm x 4 / sqrt 2 mm x 360 / (sqrt 3 x 0.8 x 1.25) MPa = 23,515 N.
    const [finding] = judge((copy) => (wall(copy)[0]!.strength = 30_000));
    expect(finding).toMatchObject({ where: 'stages[1].tacks[0].strength', value: 30_000 });
    expect(finding!.limit).toBeCloseTo((40 * 4 * 360) / Math.SQRT2 / Math.sqrt(3), 3);
  });

  it('wants securing tacks first, numbers without gaps and known seams', () => {
    const [first] = judge((copy) => {
      const [a, , b] = wall(copy);
      [a!.order, b!.order] = [b!.order, a!.order];
    });
    expect(first).toMatchObject({ where: 'stages[1].tacks', value: 1, limit: 3 });
    expect(judge((copy) => (wall(copy)[3]!.order = 7))).toMatchObject([{ value: 7, limit: 4 }]);
    expect(judge((copy) => (wall(copy)[3]!.seam = 'J2.1'))[0]!.message).toContain('not in the plan');
  });
});

describe('what a plan says of its tacks', () => {
  const judge = (change: (plan: GeometricPlan) => void) =>
    tackRules.judge(contextOf(changed(change), programs));

  it('a tack keeps off a corner where another seam meets its seam', () => {
    const near = (x: number) =>
      judge((copy) => {
        const [joint] = copy.joints;
        const { from } = joint!.seams[0]!;
        // A seam of another joint that stands up from this one, x mm along it.
        const other = copy.joints.find(({ id }) => id === 'J3')!.seams[0]!;
        other.from = [from[0] + x, from[1], from[2]];
        other.to = [from[0] + x, from[1], from[2] + 90];
      }).filter(({ message }) => message.includes('from a corner'));
    const { start, length } = wall(plan).find(({ seam }) => seam === 'J1.1')!;
    expect(near(start + length + 10)).toEqual([]);
    expect(near(start + length + 9)[0]).toMatchObject({ limit: 10 });
    expect(near(start + length + 9)[0]!.value).toBeCloseTo(9, 6);
    expect(near(start + 5)[0]).toMatchObject({ value: 0, limit: 10 });
  });

  it('own rule: its own least length', () => {
    const own = (least: number) =>
      judge((copy) => {
        copy.settings.tacks.rule = 'own';
        copy.settings.tacks['least-length'] = least;
      }).filter(({ where }) => where.endsWith('.length'));
    expect(own(25)).toEqual([]);
    expect(own(41)[0]).toMatchObject({ value: 40, limit: 41 });
  });

  it('the code strength, why it is none, the effective length and the heat are recomputed', () => {
    const one = (change: (tack: PlanTack) => void) =>
      judge((copy) => change(wall(copy)[0]!)).map(({ where }) => where);
    expect(one((tack) => (tack.codeStrength *= 1.01))).toEqual(['stages[1].tacks[0].codeStrength']);
    expect(one((tack) => (tack.codeReason = 'too-short'))).toEqual(['stages[1].tacks[0].codeReason']);
    expect(one((tack) => (tack.effectiveLength = 40))).toEqual(['stages[1].tacks[0].effectiveLength']);
    expect(one((tack) => (tack.hot.factor = 1))).toEqual(['stages[1].tacks[0].hot']);
    expect(one((tack) => (tack.hot.temperature -= 1))).toEqual(['stages[1].tacks[0].hot']);
    // S235, leg 4: throat 2.83, 40 mm less two throats, 587.9 N/mm (EN 1993-1-8 4.5.3.3, as in check-values section 2).
    expect(wall(plan)[0]!.effectiveLength).toBeCloseTo(34.343, 3);
    expect(wall(plan)[0]!.codeStrength / 34.343).toBeCloseTo(207.85 * (4 / Math.SQRT2), 0);
  });

  it('a larger leg than the final weld covers is told as that', () => {
    const [finding] = judge((copy) => (wall(copy)[0]!.leg = 9));
    expect(finding!.message).toContain('does not cover');
  });

  it('a tack without one opposite is told, and only such a one', () => {
    const sides = (change: (copy: GeometricPlan) => void) =>
      tackSides.judge(contextOf(changed(change), programs)).map(({ message }) => message);
    expect(sides(() => undefined)).toEqual([]);
    const moved = (copy: GeometricPlan): void => {
      wall(copy).find(({ seam }) => seam === 'J1.1')!.start += 60;
    };
    expect(sides(moved).length).toBeGreaterThan(0);
    expect(
      sides((copy) => {
        moved(copy);
        copy.settings.tacks.sides = 'free';
      }),
    ).toEqual([]);
    expect(sides((copy) => (copy.settings.tacks.sides = 'staggered')).length).toBeGreaterThan(0);
  });
});

describe('torch-access', () => {
  const judge = (change: (plan: GeometricPlan) => void) =>
    torchAccess.judge(contextOf(changed(change), programs));

  it('measures how far the wire tip is off the tack, and the angle of the wire', () => {
    expect(judge((copy) => (wall(copy)[0]!.torch.end.at[1] += 2))).toMatchObject([
      { where: 'stages[1].tacks[0].torch.end', limit: 0.05 },
    ]);
    const rolled = judge((copy) => {
      const { start, end } = wall(copy)[0]!.torch;
      for (const pose of [start, end]) pose.turn[2] += 40;
    });
    // A wire at 45 degrees to the vertical, turned by 40 about it: sin(travel) = sin 45 sin 40 along the seam, and its
    // shadow across the seam stands at atan(cos 40) instead of 45 degrees, which is inside the work angle.
    const along = rolled.filter(({ limit }) => limit === 15);
    expect(along.map(({ where }) => where)).toEqual(['stages[1].tacks[0].torch.start']);
    expect(along[0]!.message).toMatch(/^the travel angle of tack J1\.1@10 is 27\.03\d* degrees; at most 15$/);
    expect(along[0]!.value).toBeCloseTo(Math.asin(Math.SQRT1_2 * Math.sin(40 * DEGREE)) / DEGREE, 3);
    expect(rolled.filter(({ message }) => message.includes('work angle'))).toEqual([]);
  });

  it('judges the work angle by its own window', () => {
    const narrow = changed((copy) => (copy.settings.torch['work-angle'] = 0));
    expect(torchAccess.judge(contextOf(narrow, programs))).toEqual([]);
    const across = (degrees: number) =>
      judge((copy) => {
        const { start, end } = wall(copy)[0]!.torch;
        const [seam] = copy.joints.find(({ id }) => id === 'J1')!.seams;
        const way = rotate(testCell().weldmentPose.turn, unit(subtract(seam!.to, seam!.from)));
        for (const pose of [start, end]) {
          const turned = multiply(turnAbout(way, degrees * DEGREE), poseOf(pose).turn);
          pose.turn = planPose({ at: pose.at, turn: turned }).turn;
        }
      }).filter(({ message }) => message.includes('work angle'));
    expect(across(9.9)).toEqual([]);
    expect(across(-10.2)).toMatchObject([{ where: 'stages[1].tacks[0].torch.start', limit: 10 }]);
    expect(across(-10.2)[0]!.value).toBeCloseTo(10.2, 3);
  });

  it('takes a tack that runs the other way', () => {
    const turned = changed((copy) => {
      const { torch } = wall(copy)[0]!;
      [torch.start, torch.end] = [torch.end, torch.start];
    });
    expect(torchAccess.judge(contextOf(turned, programs))).toEqual([]);
  });

  it('keeps the torch off the gripper while it holds, not when it is away', () => {
    const nearGripper = (phase: PlanTack['phase']) =>
      judge((copy) => {
        const tack = wall(copy)[1]!;
        const by = 90;
        tack.phase = phase;
        tack.start -= by;
        for (const pose of [tack.torch.start, tack.torch.end]) pose.at[1] -= by;
      }).filter(({ message }) => message.includes('gripper'));
    expect(nearGripper('completing')).toEqual([]);
    expect(nearGripper('securing').length).toBeGreaterThan(0);
  });
});

describe('welding-position', () => {
  const judge = (cell: Cell, change: (plan: GeometricPlan) => void = () => undefined) =>
    weldingPositionTrue.judge(contextOf(changed(change), programs, standWeldment(), cell));
  const allowing = (...positions: WeldingPosition[]): Cell => {
    const cell = testCell();
    const allowed = Object.fromEntries(positions.map((one) => [one, {}]));
    return { ...cell, process: { ...cell.process, positions: allowed } };
  };
  // Fillets on the base are PB; the rib stands on it, and its seam to the wall is laid upward.
  const upright = 'stages[2].tacks[1].position';

  it('is that of the poses stated, and one that the cell allows', () => {
    expect(judge(testCell())).toEqual([]);
    expect(judge(allowing('PB', 'PF'))).toEqual([]);
    const [finding, ...others] = judge(allowing('PB'));
    expect(finding).toMatchObject({ where: upright });
    expect(finding!.message).toBe('tack J3.1@70 is laid in position PF, which the cell does not allow');
    expect(others.map(({ where }) => where)).toEqual(['stages[2].tacks[3].position']);
  });

  it('turns with the run of the torch, whatever the plan says', () => {
    const downward = (copy: GeometricPlan): void => {
      const { torch } = copy.stages[2]!.tacks[1]!;
      [torch.start, torch.end] = [torch.end, torch.start];
    };
    expect(judge(testCell(), downward)[0]!.message).toBe('tack J3.1@70 is laid in position PG, not in PF');
    const stated = (copy: GeometricPlan): void => {
      downward(copy);
      copy.stages[2]!.tacks[1]!.position = 'PG';
    };
    expect(judge(allowing('PB', 'PF', 'PG'), stated)).toEqual([]);
    expect(judge(allowing('PB', 'PF'), stated).map(({ where }) => where)).toEqual([upright]);
  });

  it('sets the speed of a tack, and so its time', () => {
    const slow = testCell();
    const cell = { ...slow, process: { ...slow.process, positions: { PB: {}, PF: { speed: 4 } } } };
    const times = (of: Cell) => {
      const { steps } = plan.programs.find(({ duty }) => duty === 'weld')!;
      const all = stepTimes(of, of.welders[0]!, plan, steps);
      return steps.flatMap((step, i) => (step.do === 'tack' ? [[step.tack, all[i]!] as const] : []));
    };
    const plain = new Map(times(slow));
    // 40 mm at 8 mm/s takes 5 s, at 4 mm/s 10 s.
    for (const [tack, seconds] of times(cell))
      expect(seconds - plain.get(tack)!).toBeCloseTo(tack.startsWith('J3') ? 5 : 0, 9);
  });
});

describe('magnet-distance', () => {
  it('measures from the rim of the nearest pad to the nearest point of the tack', () => {
    // Pads at x = +-40, 95 mm above the base on the side y = +4; tack J1.2 from x = 100 to 140 on that side.
    const expected = Math.hypot(60, 95) - 22.5;
    const at = (distance: number) => {
      const cell = testCell();
      const grippers = cell.grippers.map((one) => ({ ...one, arcDistance: distance }));
      return magnetDistance
        .judge(contextOf(plan, programs, standWeldment(), { ...cell, grippers }))
        .filter(({ where }) => where === 'stages[1].tacks[1]');
    };
    expect(at(expected - 0.1)).toEqual([]);
    expect(at(expected + 0.1)[0]!.value).toBeCloseTo(expected, 3);
  });
});

describe('reserves', () => {
  it('let a wall fall that is tacked on one side only', () => {
    const oneSided = changed((copy) => {
      wall(copy)[1]!.phase = 'completing';
      wall(copy)[2]!.phase = 'securing';
    });
    const letGo = judgedReserves(contextOf(oneSided, programs)).filter(
      ({ stage, state, family }) => stage.index === 1 && state === 'let-go' && family === 'push',
    );
    expect(letGo).toHaveLength(1);
    // Weight 22.2 N at 4 mm from the hinge against 15 N at 120 mm: far below one.
    expect(letGo[0]!.reserve).toBeLessThan(0.1);
  });

  it('have every state and family once, with forces that keep the equations', () => {
    const all = judgedReserves(contextOf(plan, programs));
    const keys = all.map(({ stage, state, family }) => `${stage.index} ${state} ${family}`);
    expect(new Set(keys).size).toBe(keys.length);
    const first = [
      'let-go gravity',
      'let-go push',
      'let-go let-go pull',
      'complete gravity',
      'complete push',
    ];
    const later = [
      ...['gravity', 'seating push'].map((family) => `arriving ${family}`),
      ...['gravity', 'push', 'seating push', 'torch touch'].map((family) => `held ${family}`),
      ...['gravity', 'frozen wire', 'torch touch'].map((family) => `tacking ${family}`),
      ...['gravity', 'push', 'let-go pull', 'torch touch', 'frozen wire', 'proof pull'].map(
        (family) => `let-go ${family}`,
      ),
      ...['gravity', 'push'].map((family) => `complete ${family}`),
    ];
    // The rib slides along the wall; after it the tack-up is finished.
    const last = [...later, 'arriving sliding drag', 'lifted-out gravity', 'lifted-out lift-out'];
    const expected = [first, later, last].flatMap((list, stage) => list.map((key) => `${stage} ${key}`));
    expect([...keys].sort()).toEqual(expected.sort());
    expect(all.every(({ residual }) => residual === 0)).toBe(true);
  });
});

import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { fromRollPitchYaw, NO_TURN, type Pose } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import type { Cell, Handler, Welder } from '../../src/model/cell.js';
import type { Finding } from '../../src/model/finding.js';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { armsClear } from '../../src/rules/arms-clear.js';
import { barePlan } from '../support/bare-plan.js';
import { testCell } from '../support/cell.js';
import { contextOf, handMadePlan } from '../support/hand-made-plan.js';
import { jointsFor } from '../support/stage-maker.js';
import { standWeldment } from '../support/stand-weldment.js';
import type { Six } from '../support/step-writer.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

type Triple = [number, number, number];
type Untold<T> = T extends unknown ? Omit<T, 'n' | 'start' | 'end' | 'stage'> : never;
type Draft = Untold<Step>;

const steps = (drafts: readonly Draft[]): Step[] =>
  drafts.map((draft, i) => ({ ...draft, n: i + 1, stage: 1, start: 0, end: 0 }) as Step);

/** Of a move the rule reads path and joints only. */
const told = {
  ...({ tool: 'flange', frame: 'cell', speed: 1, place: 'there' } as const),
  pose: { at: [0, 0, 0], turn: [0, 0, 0] } as { at: Triple; turn: Triple },
  branch: { shoulder: 'front', elbow: 'up', wrist: 'plain' } as const,
};
const joint = (to: Six): Draft => ({ do: 'move', path: 'joint', to, ...told });
const straightVia = (to: Six): Draft => ({ do: 'move', path: 'straight', to, ...told, via: true });
const signal = (handshake: string): Draft => ({ do: 'signal', handshake });
const wait = (handshake: string): Draft => ({ do: 'await', handshake, at: 'home' });

/** Forearm and wrist level at 1420 mm, the flange 1220 mm before the base, turned by `first` about it. */
const level = (first: number): Six => [first, 0, 0, 0, 0, 0];

/** Two arms with forearms in line with their upper ends, each level at home, turned by `turns` about its base. */
function levelCell(handlerAt: Pose, welderAt: Pose, turns: readonly [number, number]): Cell {
  const cell = testCell();
  const posed = <R extends Handler | Welder>(robot: R, base: Pose, turn: number): R => ({
    ...robot,
    base,
    arm: { ...robot.arm, a2: 0 },
    radii: { column: 150, upperArm: 100, forearm: 80, wrist: 60, dressPack: undefined },
    home: level(turn).map((value) => (value * Math.PI) / 180) as unknown as R['home'],
  });
  return {
    ...cell,
    handlers: [posed(cell.handlers[0]!, handlerAt, turns[0])],
    welders: [posed(cell.welders[0]!, welderAt, turns[1])],
    keepOuts: [],
  };
}

const at = (x: number, y: number, yaw = 0): Pose => ({ at: [x, y, 0], turn: fromRollPitchYaw(0, 0, yaw) });
const FAR = at(6000, 6000);

const keepOut = (cell: Cell, size: Vec3, where: Vec3): Cell => ({
  ...cell,
  keepOuts: [{ size, pose: { at: where, turn: NO_TURN } }],
});

/** Judges programs alone: no part is brought. */
function judged(
  cell: Cell,
  handler: readonly Draft[],
  welder: readonly Draft[] = [],
  clearance = 10,
): Finding[] {
  const plan: GeometricPlan = barePlan();
  plan.settings.motion.clearance = clearance;
  plan.programs = [
    { robot: 'handler', duty: 'handle', steps: steps(handler) },
    { robot: 'welder', duty: 'weld', steps: steps(welder) },
  ];
  return armsClear.judge(contextOf(plan, programs, standWeldment(), cell));
}

describe('an arm and what stands', () => {
  /** A block under the middle of the forearm, so much below it; the forearm is 80 mm thick about its line. */
  const under = (gap: number): Cell =>
    keepOut(levelCell(at(0, 0), FAR, [-40, 0]), [200, 60, 100], [700, 0, 1420 - 80 - gap - 50]);

  it('is told by the distance of the link on its way, with step and robot', () => {
    expect(judged(under(6), [joint(level(35))])).toEqual([
      {
        rule: 'arms-clear',
        where: 'programs[0].steps[0]',
        message: 'step 1 of handler: its forearm comes within 6 mm of keep-out 1; 10 mm is asked for',
        value: 6,
        limit: 10,
      },
    ]);
  });

  it('allows a third of a millimetre for rounding and nothing beyond', () => {
    expect(judged(under(9.75), [joint(level(35))])).toEqual([]);
    expect(judged(under(9.55), [joint(level(35))])).toMatchObject([{ value: 9.55 }]);
  });

  it('still sees what meets where next to no clearance is asked for', () => {
    expect(judged(under(-5), [joint(level(35))], [], 0.1)).toMatchObject([{ value: 0, limit: 0.1 }]);
    expect(judged(under(0.2), [joint(level(35))], [], 0.1)).toEqual([]);
  });

  it('is clear where it does not come, and beside its own column', () => {
    expect(judged(under(6), [joint(level(-100))])).toEqual([]);
    const beside = keepOut(levelCell(at(0, 0), FAR, [-40, 0]), [50, 50, 300], [0, 0, 150]);
    expect(judged(beside, [joint(level(35))])).toEqual([]);
  });

  it('meets the regrip table too', () => {
    const cell = levelCell(at(0, 0), FAR, [-40, 0]);
    const regrip = { ...cell.regrip, pose: { at: [800, 0, 1420 - 80 - 4] as Vec3, turn: NO_TURN } };
    expect(judged({ ...cell, regrip }, [joint(level(35))])).toMatchObject([
      { value: 4, message: expect.stringContaining('the regrip table') as string },
    ]);
  });

  it('is not judged beyond its limits, which is for the rule on reach', () => {
    expect(judged(under(6), [joint(level(400))])).toEqual([]);
  });
});

describe('an arm and a table that turns', () => {
  /** 200 mm wide along a forearm of 80 mm radius, 70 mm aside of it and 6 mm below; a quarter turn takes it under. */
  const turning = (): Cell => {
    const cell = levelCell(at(0, 0), FAR, [0, 0]);
    const turntable = {
      ...{ angles: [0, 90, 180], axis: [700, 250] as const, speed: 30, acceleration: 30, settle: 1 },
      commander: 'welder',
    };
    const pose = { at: [700, 250, 1420 - 80 - 6] as Vec3, turn: NO_TURN };
    return { ...cell, table: { ...cell.table, pose, size: [600, 200], turntable } };
  };
  const turn = (to: number): Draft => ({ do: 'turn', to });
  const still = joint(level(0));
  const aside = joint(level(-60));
  const told = (handler: readonly Draft[], welder: readonly Draft[]): string[] =>
    judged(turning(), handler, welder).map(({ where, message }) => `${where} ${message}`);

  it('keep clear at the index angle that there is', () => {
    expect(told([still], [])).toEqual([]);
    expect(told([still, aside, signal('A')], [wait('A'), turn(180)])).toEqual([]);
    const after = [aside, signal('A'), wait('B'), still, aside];
    expect(told(after, [wait('A'), turn(180), signal('B')])).toEqual([]);
    expect(told(after, [wait('A'), turn(90), signal('B')])).toEqual(
      [3, 4].map(
        (i) =>
          `programs[0].steps[${i}] step ${i + 1} of handler: its forearm comes within 6 mm of the table; 10 mm is asked for`,
      ),
    );
  });

  it('keep clear of all the room of its round while it may turn, also when the arm stands', () => {
    const [finding] = told([wait('A'), aside], [turn(180), signal('A')]);
    expect(finding).toBe(
      'programs[0].steps[0] step 1 of handler: its forearm comes within 6 mm of the table; 10 mm is asked for',
    );
    expect(told([aside], [turn(180)])).not.toEqual([]);
  });
});

describe('what is fixed to a flange', () => {
  /** The gripper looks straight down; its tip is 160 mm below the flange. */
  const robot = levelCell(at(0, 0), FAR, [0, 0]).handlers[0]!;
  const down = fromRollPitchYaw(180, 0, 0);
  const flange = (z: number): Pose => ({ at: [900, 0, z], turn: down });
  const [upper, lower] = jointsFor(robot, flange(1300), [flange(1200)]) as [Six, Six];
  const cellWith = (top: number): Cell => {
    const cell = keepOut(levelCell(at(0, 0), FAR, [0, 0]), [300, 300, 100], [900, 0, top - 50]);
    const home = upper.map((value) => (value * Math.PI) / 180) as unknown as Handler['home'];
    return { ...cell, handlers: [{ ...cell.handlers[0]!, home }] };
  };
  const TIP = 1200 - 160;
  const mounted: Draft = { do: 'change-gripper', to: 'wide' };

  it('keeps the clearance in joint moves', () => {
    expect(judged(cellWith(TIP - 6), [mounted, joint(lower)])).toMatchObject([
      { where: 'programs[0].steps[1]', message: expect.stringContaining('its gripper wide') as string },
    ]);
    // What is told is met in truth, and the least to a millimetre.
    const { value } = judged(cellWith(TIP - 6), [mounted, joint(lower)])[0]!;
    expect(value).toBeGreaterThan(6 - 0.01);
    expect(value).toBeLessThan(6 + 1);
    expect(judged(cellWith(TIP - 11), [mounted, joint(lower)])).toEqual([]);
    expect(judged(cellWith(TIP - 6), [joint(lower)])).toEqual([]);
  });

  it('may touch on a straight leg of a way, but reach into nothing', () => {
    const leg = [mounted, straightVia(lower)];
    expect(judged(cellWith(TIP - 0.5), leg)).toEqual([]);
    expect(judged(cellWith(TIP + 0.02), leg)).toEqual([]);
    const [finding] = judged(cellWith(TIP + 3), leg);
    expect(finding!.message).toMatch(/^step 2 of handler: its gripper wide reaches .* into keep-out 1$/);
    expect(finding!.value).toBeGreaterThan(0.05);
  });

  it('is left to the stage on strokes', () => {
    const stroke: Draft = { do: 'move', path: 'straight', to: lower, ...told };
    expect(judged(cellWith(TIP + 3), [mounted, stroke])).toEqual([]);
    // After a via point it is the last leg of a way.
    const leg = [mounted, { ...joint(upper), via: true } as Draft, stroke];
    expect(judged(cellWith(TIP + 3), leg)).toHaveLength(1);
  });
});

describe('two arms', () => {
  /** Side by side with level forearms that point past one another, their lines `apart` mm from each other. */
  const facing = (apart: number, turn = 0): Cell => levelCell(at(0, 0), at(1700, apart, 180), [turn, 0]);
  const still: Draft = { do: 'enter', zone: 'work' };

  it('keep the clearance between parallel forearms of 80 mm radius', () => {
    expect(judged(facing(167), [still], [still])).toMatchObject([
      {
        where: 'programs[0].steps[0]',
        message:
          'step 1 of handler and step 1 of welder can be at the same time: forearm comes within 7 mm of forearm; 10 mm is asked for',
        value: 7,
        limit: 10,
      },
    ]);
    expect(judged(facing(171), [still], [still])).toEqual([]);
  });

  const aside = joint(level(-80));
  const back = joint(level(0));

  it('may pass the same place one after the other, if signals say so', () => {
    const cell = facing(120, -80);
    const [away, there] = [joint([-80, 0, 0, 0, 0, 0]), joint(level(0))];
    const leaving = { ...cell, welders: [{ ...cell.welders[0]!, home: cell.handlers[0]!.home }] };
    // The welding arm starts turned aside, comes, and goes; then the handling arm comes.
    const ordered = judged(leaving, [wait('A'), there, away], [there, away, signal('A')]);
    expect(ordered).toEqual([]);
    const free = judged(leaving, [there, away], [there, away]);
    expect(free.length).toBeGreaterThan(0);
    expect(free[0]!.message).toContain('can be at the same time');
  });

  it('are where they wait all the while', () => {
    const cell = facing(120, -80);
    // The welding arm stands in the way until it is told that the handling arm has come: too late.
    const findings = judged(cell, [back, signal('A'), aside], [wait('A'), aside]);
    expect(findings[0]).toMatchObject({ where: 'programs[0].steps[0]' });
  });
});

describe('the hand-made plan', () => {
  const judge = (plan: GeometricPlan, cell = testCell()): Finding[] =>
    armsClear.judge(contextOf(plan, programs, standWeldment(), cell));

  it('keeps clear, and no longer without its via points', () => {
    const plan = handMadePlan(programs);
    expect(judge(plan)).toEqual([]);
    for (const program of plan.programs) {
      program.steps = program.steps.filter((step) => !(step.do === 'move' && step.via));
      program.steps.forEach((step, i) => {
        const before = program.steps[i - 1];
        const after = program.steps[i + 1];
        if (step.do === 'move' && after?.do === 'move' && before?.do !== 'tack' && program.duty === 'weld')
          step.path = 'joint';
      });
    }
    const findings = judge(plan);
    expect(findings.length).toBeGreaterThan(3);
    expect(findings.some(({ message }) => /torch .* of wall/.test(message))).toBe(true);
  });

  it('does not keep clear with links like barrels', () => {
    const cell = testCell();
    const thick = {
      ...cell,
      handlers: cell.handlers.map((one) => ({ ...one, radii: { ...one.radii, forearm: 350, wrist: 250 } })),
    };
    const findings = judge(handMadePlan(programs), thick);
    expect(findings.some(({ message }) => message.includes('its wrist comes within'))).toBe(true);
  });

  it('has arms that meet once no signal orders them', () => {
    const plan = handMadePlan(programs);
    for (const program of plan.programs)
      program.steps = program.steps.filter(({ do: kind }) => kind !== 'signal' && kind !== 'await');
    expect(judge(plan).some(({ message }) => message.includes('can be at the same time'))).toBe(true);
  });

  it('has no other arm at home in its way, though that one does nothing', () => {
    const plan = handMadePlan(programs);
    plan.programs.unshift({ robot: 'idle', duty: 'handle', steps: [] });
    const cell = testCell();
    const [handler] = cell.handlers;
    const withIdle = (at: Vec3) => {
      const base = { ...handler!.base, at: at };
      return judge(plan, { ...cell, handlers: [{ ...handler!, id: 'idle', base }, ...cell.handlers] });
    };
    const far: Vec3 = [handler!.base.at[0] - 9000, handler!.base.at[1], handler!.base.at[2]];
    expect(withIdle(far)).toEqual([]);
    const [finding] = withIdle(handler!.base.at);
    expect(finding!.where).toBe('programs[0].steps');
    expect(finding!.message).toMatch(/^idle at home and step \d+ of \w+ can be at the same time: /);
  });
});

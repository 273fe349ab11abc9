import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { robotsOf } from '../../src/model/cell.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { replay, type ArmStep, type Replay } from '../../src/rules/arm-replay.js';
import { ArmsInTime } from '../../src/rules/arms-in-time.js';
import { contextOf, handMadePlan } from '../support/hand-made-plan.js';

let programs: LinearPrograms;
let plan: GeometricPlan;
beforeAll(async () => {
  programs = await loadLinearPrograms();
  plan = handMadePlan(programs);
});

interface Played {
  readonly plan: GeometricPlan;
  readonly replays: readonly Replay[];
  readonly time: ArmsInTime;
}

function played(of: GeometricPlan): Played {
  const context = contextOf(of, programs);
  const replays = robotsOf(context.cell).map((who, i) => replay(context, i, who, of.programs[i]!.steps));
  const time = ArmsInTime.of(
    of.programs.map(({ steps }) => steps),
    replays,
  )!;
  return { plan: of, replays, time };
}

/** The step of a robot that ends at the n-th action of a kind. */
function stepOf({ plan: of, replays }: Played, robot: number, kind: string, n: number): ArmStep {
  const all = of.programs[robot]!.steps.flatMap((step, i) => (step.do === kind ? [i] : []));
  return replays[robot]!.steps.find(({ first, last }) => first <= all[n]! && all[n]! <= last)!;
}

const BASE = 0;
const WALL = 1;
const RIB = 2;

describe('parts in place during a step', () => {
  it('are those that the signals put there before it, or may', () => {
    const run = played(plan);
    const inPlace = (robot: number, kind: string, n: number) =>
      [...run.time.inPlace(stepOf(run, robot, kind, n))].sort();
    // The first tacks wait for the wall, and the rib waits for the last of its stage.
    expect(inPlace(1, 'tack', 0)).toEqual([BASE, WALL]);
    expect(inPlace(1, 'tack', 3)).toEqual([BASE, WALL]);
    expect(inPlace(1, 'tack', 4)).toEqual([BASE, WALL, RIB]);
    // A robot's own parts are there once it has brought them.
    expect(inPlace(0, 'grip', 0)).toEqual([]);
    expect(inPlace(0, 'grip', 2)).toEqual([BASE, WALL]);
  });

  it('are all that may be there when no signal says otherwise', () => {
    const free = structuredClone(plan);
    for (const program of free.programs)
      program.steps = program.steps.filter(({ do: kind }) => kind !== 'signal' && kind !== 'await');
    const run = played(free);
    expect([...run.time.inPlace(stepOf(run, 1, 'tack', 0))].sort()).toEqual([BASE, WALL, RIB]);
  });
});

describe('steps of two robots', () => {
  it('are at the same time where one holds and the other tacks, though signals order all that is done', () => {
    const run = played(plan);
    const [hold, tack] = [stepOf(run, 0, 'hold', 0), stepOf(run, 1, 'tack', 0)];
    expect(run.time.mayMeet(hold, tack)).toBe(true);
    expect(run.time.mayMeet(tack, hold)).toBe(true);
    expect(hold.holds).toBe(true);
    expect(hold.own).toBe(WALL);
  });

  it('are not where the tacks come after the next fetch has begun, but before the part is brought', () => {
    const run = played(plan);
    const completing = stepOf(run, 1, 'tack', 2);
    const { brought } = run.replays[0]!;
    const place = brought.find(({ part }) => part === RIB)!.step;
    const bringing = run.replays[0]!.steps.find(({ first }) => first === place)!;
    expect(run.time.mayMeet(completing, bringing)).toBe(false);
    expect(run.time.surelyBefore(completing, bringing)).toBe(true);
    expect(run.time.mayMeet(completing, stepOf(run, 0, 'grip', 2))).toBe(true);
  });
});

describe('a robot that is done', () => {
  it('stays where it is, whatever comes later', () => {
    const early = structuredClone(plan);
    const last = early.programs[0]!.steps.findLast((step) => step.do === 'await')!;
    for (const program of early.programs)
      program.steps = program.steps.filter(
        (step) => step.do !== 'hand-over' && !('handshake' in step && step.handshake === last.handshake),
      );
    const run = played(early);
    const end = run.replays[0]!.steps.at(-1)!;
    const tack = run.replays[1]!.steps.findLast(({ kind }) => kind === 'stroke')!;
    expect(end.kind).toBe('stand');
    expect(run.time.surelyBefore(run.replays[0]!.steps.at(-2)!, tack)).toBe(true);
    expect(run.time.mayMeet(end, tack)).toBe(true);
  });
});

describe('a robot on its way', () => {
  it('carries from the grip to the let-go, and its own strokes are its own', () => {
    const run = played(plan);
    const { steps } = run.replays[0]!;
    const grip = stepOf(run, 0, 'grip', 1);
    const letGo = stepOf(run, 0, 'let-go', 1);
    const names = (step: ArmStep) =>
      new Set(
        step.course.movers.map(({ name }) => name).filter((name) => / /.test(name) && name !== 'upper arm'),
      );
    for (const step of steps.filter(({ first }) => first > grip.last && first < letGo.first))
      expect(names(step)).toEqual(new Set(['gripper wide', 'part wall']));
    const retreat = steps.find(({ first }) => first === letGo.last + 1)!;
    expect(retreat).toMatchObject({ kind: 'stroke', own: WALL, holds: false });
    expect(names(retreat)).toEqual(new Set(['gripper wide']));
    const home = steps.find(({ first }) => first === retreat.last + 1)!;
    expect(home).toMatchObject({ kind: 'joint', own: undefined });
  });

  it('has straight legs of its ways told from strokes', () => {
    const { steps } = played(plan).replays[1]!;
    const kinds = steps.filter(({ kind }) => kind !== 'stand').map(({ kind }) => kind);
    // Down beside the seam, onto it, along it, away, up again; by way of home to the next.
    expect(kinds.slice(0, 8)).toEqual([
      'joint',
      'leg',
      'stroke',
      'stroke',
      'stroke',
      'leg',
      'joint',
      'joint',
    ]);
  });
});

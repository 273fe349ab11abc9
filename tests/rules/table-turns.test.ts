import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { toDegrees } from '../../src/kinematics/arm.js';
import type { Cell } from '../../src/model/cell.js';
import { geometricPlanSchema, type GeometricPlan, type Stage } from '../../src/model/plan.js';
import { checkGeometric } from '../../src/rules/check.js';
import { handlerSteps, welderSteps } from '../../src/rules/expected-steps.js';
import { gripperClear } from '../../src/rules/gripper-clear.js';
import { provedProperties } from '../../src/rules/handshakes-safe.js';
import { familyOf } from '../../src/rules/load-cases.js';
import { seenStage } from '../../src/rules/seen-stage.js';
import { tableTurns } from '../../src/rules/table-turns.js';
import { contextOf } from '../support/hand-made-plan.js';
import { standWeldment } from '../support/stand-weldment.js';
import { turningCell, turningPlan } from '../support/turning-plan.js';
import {
  inCell,
  inPlan,
  inPoses,
  inPrograms,
  mutation,
  NOT_THERE,
  stepsOf,
  type Mutation,
} from './mutation.js';

let programs: LinearPrograms;
let plan: GeometricPlan;
let cell: Cell;

beforeAll(async () => {
  programs = await loadLinearPrograms();
  cell = turningCell();
  plan = turningPlan(programs);
});

const rulesOn = (changed: GeometricPlan, on: Cell): ReadonlySet<string> =>
  new Set(checkGeometric(contextOf(changed, programs, standWeldment(), on)).map(({ rule }) => rule));

const turntable = (change: Partial<NonNullable<Cell['table']['turntable']>>): Mutation['mutate'] =>
  inCell((one) => ({
    ...one,
    table: { ...one.table, turntable: { ...one.table.turntable!, ...change } },
  }));

const without = (id: string): Mutation['mutate'] =>
  inPrograms((all, { handshakes }) => {
    const at = handshakes.findIndex((one) => one.id === id);
    if (at < 0) return NOT_THERE;
    handshakes.splice(at, 1);
    for (const program of all)
      program.steps = program.steps.filter((step) => !('handshake' in step && step.handshake === id));
    return undefined;
  });

/** Ways to spoil the plan, and the rules that must and may speak. */
const SPOILT: readonly Mutation[] = [
  mutation('table-turns', 'an index angle that the table does not have', turntable({ angles: [0, 45] })),
  mutation(
    'table-turns',
    'a keep-out over which a corner of the table goes',
    inCell((one) => ({
      ...one,
      keepOuts: [
        { ...one.keepOuts[0]!, pose: { ...one.keepOuts[0]!.pose, at: [0, 540, 440] }, size: [40, 40, 60] },
      ],
    })),
  ),
  mutation(
    'programs-true',
    'the last turn is left out',
    inPrograms((all) => {
      const { steps } = all.find(({ robot }) => robot === 'welder')!;
      steps.splice(
        steps.findLastIndex((step) => step.do === 'turn'),
        1,
      );
    }),
    ['arms-clear'],
  ),
  mutation(
    'programs-true',
    'a turn that is made twice',
    inPrograms((all) => {
      const { steps } = all.find(({ robot }) => robot === 'welder')!;
      const turn = steps.findLastIndex((step) => step.do === 'turn');
      steps.splice(turn, 0, { ...steps[turn]! });
    }),
    ['timeline-true'],
  ),
  mutation('timeline-true', 'a table that settles a second longer', turntable({ settle: 2 })),
  mutation(
    'handshakes-safe',
    'a turn that does not wait for the handling robot',
    without('away before wall'),
    ['arms-clear'],
  ),
  mutation('handshakes-safe', 'a part that does not wait for the turn', without('turned for rib'), [
    'arms-clear',
  ]),
  mutation(
    'reserves-true',
    'what the turning table asks of the parts is not stated',
    inPlan((one) => {
      for (const stage of one.stages)
        stage.reserves = stage.reserves.filter(({ state }) => state !== 'turning');
    }),
  ),
  mutation('reserves-hold', 'a table that starts like a top', turntable({ acceleration: 20_000 }), [
    'reserves-true',
    'timeline-true',
  ]),
  mutation(
    'handling-continuous',
    'a final pose as if the table stood at 0',
    inPlan((one) => {
      const { put } = one.stages[2]!.handling.at(-1)!;
      [put.part.at[0], put.part.at[1]] = [60 - put.part.at[0], 40 - put.part.at[1]];
      put.part.turn[2] -= 180;
    }),
    ['reach'],
  ),
  mutation(
    'torch-access',
    'a wire tip as if the table stood at 0',
    inPoses((one) => {
      for (const { torch } of one.stages[2]!.tacks)
        for (const tip of [torch.start, torch.end]) {
          [tip.at[0], tip.at[1]] = [60 - tip.at[0], 40 - tip.at[1]];
          tip.turn[2] -= 180;
        }
    }),
    ['reach'],
  ),
];

describe('a plan whose parts join at three angles of the table', () => {
  it('is one by the schema and breaks no rule', () => {
    expect(geometricPlanSchema.safeParse(plan).error).toBeUndefined();
    expect(checkGeometric(contextOf(plan, programs, standWeldment(), cell))).toEqual([]);
  });

  it('turns before the second and the third stage, and states what the parts carry meanwhile', () => {
    const turns = stepsOf(plan).flatMap((step) => (step.do === 'turn' ? [[step.stage, step.to]] : []));
    expect(turns).toEqual([
      [2, 45],
      [3, 180],
    ]);
    const states = plan.stages.map(({ reserves }) =>
      reserves.filter(({ state }) => state === 'turning').map((one) => familyOf(one.case)),
    );
    expect(states).toEqual([['gravity', 'table turn'], ['gravity', 'table turn'], []]);
  });

  it.each(SPOILT)('is found out by $rule: $name', ({ rule, also, mutate }) => {
    const mutated = mutate({ weldment: standWeldment(), cell, plan });
    expect(mutated).toBeDefined();
    const rules = rulesOn(mutated!.plan, mutated!.cell);
    expect(rules).toContain(rule);
    for (const other of rules) expect([rule, ...also]).toContain(other);
  });

  it('has no station in the room in which the table turns', () => {
    const { regrip } = cell;
    const near = { ...cell, regrip: { ...regrip, pose: { ...regrip.pose, at: [0, 700, 470] as const } } };
    const told = tableTurns.judge(contextOf(plan, programs, standWeldment(), near));
    expect(told.map(({ message }) => message)).toContainEqual(
      expect.stringMatching(/^the table, turned before .* joins, may meet a station: its room goes/),
    );
  });

  it('holds nothing while the table turns', () => {
    const changed = structuredClone(plan);
    changed.stages[1]!.stands = 'held';
    expect(tableTurns.judge(contextOf(changed, programs, standWeldment(), cell))).toEqual([
      { rule: 'table-turns', where: 'stages[2].turn', message: 'the table turns while wall is held' },
    ]);
  });

  it('has stations that the table does not go over, at whatever angle it may stand while a part is taken', () => {
    const long = (turntable: Cell['table']['turntable']): Cell => ({
      ...cell,
      keepOuts: [],
      table: { ...cell.table, size: [3400, 600], turntable },
    });
    const judge = (one: Cell) => gripperClear.judge(contextOf(plan, programs, standWeldment(), one));
    const met = judge(long(cell.table.turntable)).map(({ where, message }) => [where, message]);
    expect(met).toContainEqual([
      'stages[0].handling[0].take',
      'single with base meets the table at the station',
    ]);
    const still = judge(long(undefined)).map(({ message }) => message);
    expect(still.filter((message) => message.includes('at the station'))).toEqual([]);
  });

  it('may have the table turned by the handling robot, after it fetched the part', () => {
    const commanded = {
      ...cell,
      table: { ...cell.table, turntable: { ...cell.table.turntable!, commander: 'handler' } },
    };
    const handler = handlerSteps(plan, commanded, commanded.handlers[0]!);
    const at = handler.findIndex((step) => step.do === 'turn');
    expect(handler[at]).toMatchObject({ stage: 2, fields: { to: 45 } });
    expect(handler[at - 1]).toMatchObject({ do: 'move', to: commanded.handlers[0]!.home.map(toDegrees) });
    expect(handler[at + 1]).toMatchObject({ do: 'enter', fields: { zone: 'work' } });
    expect(welderSteps(plan, commanded, commanded.welders[0]!).filter((step) => step.do === 'turn')).toEqual(
      [],
    );
  });

  it('is proved to have nobody in the work zone while the table turns', () => {
    expect(provedProperties(cell).at(-1)).toMatch(/^while the table turns, no robot is in the work zone/);
  });
});

describe('a stage as seen from the table', () => {
  const turned = (change: (stage: Stage) => void): Stage => {
    const stage = structuredClone(plan.stages[2]!);
    change(stage);
    return seenStage(cell, stage);
  };

  it('has its exclusion zone and its approach turned back, and the stations left alone', () => {
    const zone = { at: [100, 200] as [number, number], radius: 50 };
    const seen = turned((stage) => {
      stage.approach!.direction = [1, 0, 0];
      stage.powerLoss = [{ part: 'rib', gripper: 'single', kind: 'exclusion-zone', seconds: null, zone }];
    });
    // Half a turn about (30, 20).
    expect(seen.powerLoss[0]!.zone!.at).toEqual([-40, -160].map((x) => expect.closeTo(x, 9)));
    expect(seen.approach!.direction).toEqual([-1, 0, 0].map((x) => expect.closeTo(x, 9)));
    expect(seen.handling[0]).toEqual(plan.stages[2]!.handling[0]);
    expect(seen.handling.at(-1)!.take).toEqual(plan.stages[2]!.handling.at(-1)!.take);
  });

  it('is the stage itself at index angle 0', () => {
    expect(seenStage(cell, plan.stages[0]!)).toBe(plan.stages[0]);
  });
});

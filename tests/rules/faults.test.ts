import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Cell } from '../../src/model/cell.js';
import type { Fault, FaultKind } from '../../src/model/plan-safety.js';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { runFaults } from '../../src/rules/fault-run.js';
import { faultsEndSafe } from '../../src/rules/faults-end-safe.js';
import { testCell } from '../support/cell.js';
import { contextOf, handMadePlan } from '../support/hand-made-plan.js';
import { standWeldment } from '../support/stand-weldment.js';

let programs: LinearPrograms;
let plan: GeometricPlan;

beforeAll(async () => {
  programs = await loadLinearPrograms();
  plan = handMadePlan(programs);
});

const copy = (): GeometricPlan => structuredClone(plan);
const run = (of = plan, cell = testCell()) => runFaults(contextOf(of, programs, standWeldment(), cell))!;
const told = (of: GeometricPlan): readonly string[] =>
  faultsEndSafe.judge(contextOf(of, programs)).map(({ message }) => message);

/** Ends of one kind of fault, `state how gripper`, over all steps. */
const endsOf = (kind: FaultKind, faults: readonly Fault[] = run().faults): string[] => {
  const ends = faults
    .filter(({ fault }) => fault === kind)
    .flatMap((one) =>
      one.ends.map(({ state, stands, gripper, while: when }) =>
        [state, stands, gripper, when].filter((text) => text !== undefined).join(' '),
      ),
    );
  return [...new Set(ends)].sort();
};

const MAGNETS = ['held single', 'held wide'];
const STANDING = ['standing clamped', 'standing tacked'];

/** A cell whose grippers do something else when power is lost. */
const withKind = (kind: 'must-stand' | 'exclusion-zone'): Cell => {
  const cell = testCell();
  return { ...cell, grippers: cell.grippers.map((one) => ({ ...one, powerLoss: { kind, seconds: 0 } })) };
};

describe('the hand-made plan: base, wall and rib, held by magnets', () => {
  it.each<[FaultKind, readonly string[]]>([
    // A late signal changes nothing: in the end all is tacked. So does a bad tack that is repeated.
    ['signal-late', STANDING],
    ['signal-too-late', [...MAGNETS, ...STANDING, 'station']],
    ['signal-lost', [...MAGNETS, ...STANDING, 'station']],
    // Nothing hangs on a gripper that has no part, and no arm has another part meanwhile.
    ['part-missing', [...STANDING, 'station']],
    ['grip-unconfirmed', [...STANDING, 'station']],
    ['pull-moves', [...MAGNETS, ...STANDING, 'station']],
    ['wire-stuck', [...MAGNETS, ...STANDING, 'station']],
    ['robot-stopped', [...MAGNETS, ...STANDING, 'station']],
    ['power-lost', [...MAGNETS, ...STANDING, 'station']],
  ])('%s', (kind, ends) => {
    expect(endsOf(kind)).toEqual([...ends].sort());
  });

  it('repeats the one tack that has another site, and holds after any other', () => {
    const bad = run().faults.filter(({ fault }) => fault === 'tack-bad');
    const repeated = bad.filter(({ reaction }) => reaction.then === 'repeat-tack');
    expect(repeated.map(({ rows }) => rows)).toEqual([1]);
    expect(endsOf('tack-bad', repeated)).toEqual(STANDING);
    expect(bad.reduce((sum, { rows }) => sum + rows, 0)).toBe(8);
    expect(run().faults.filter(({ fault }) => fault === 'second-tack-bad')).toMatchObject([{ rows: 1 }]);
  });

  it('says how long a part is held without power', () => {
    const held = run()
      .faults.filter(({ fault }) => fault === 'power-lost')
      .flatMap(({ ends }) => ends.filter(({ state }) => state === 'held'));
    expect(new Set(held.map(({ seconds }) => seconds))).toEqual(new Set([null]));
    expect(run().dropZones).toEqual([]);
  });

  it('has a row for each fault at each step that it strikes', () => {
    // Counted from the programs by plain loops, with nothing of the rule.
    const steps: Step[] = plan.programs.flatMap((program) => program.steps);
    const count = (what: Step['do']): number => steps.filter((step) => step.do === what).length;
    const second = steps.filter((step) => step.do === 'accept' && step.rework.length > 0).length;
    const rows =
      2 * steps.length +
      3 * count('await') +
      (count('accept') + second) +
      (count('grip') + plan.stages.length) +
      count('seat') +
      count('proof-pull') +
      count('tack');
    expect(run().rows).toBe(rows);
    expect(plan.safety.faultRows).toBe(rows);
    const grouped = run().faults;
    expect(grouped.reduce((sum, one) => sum + one.rows, 0)).toBe(rows);
    const inRuns = grouped.flatMap((one) => one.steps.map(([from, to]) => to - from + 1));
    expect(inRuns.reduce((sum, one) => sum + one, 0)).toBe(rows);
  });
});

describe('without power', () => {
  it('a part in a gripper that keeps nothing falls into a zone, carried or held', () => {
    const changed = copy();
    for (const loss of changed.stages.flatMap(({ powerLoss }) => powerLoss))
      Object.assign(loss, { kind: 'exclusion-zone', seconds: null, zone: { at: [0, 0], radius: 300 } });
    const { faults, dropZones, unsafe } = run(changed, withKind('exclusion-zone'));
    expect(unsafe).toEqual([]);
    expect(endsOf('power-lost', faults).filter((end) => !STANDING.includes(end))).toEqual([
      ...['drop-zone single carried', 'drop-zone single held'],
      ...['drop-zone wide carried', 'drop-zone wide held', 'station'],
    ]);
    // One for each time that a part is carried: the rib is set down once.
    expect(dropZones.map(({ part }) => part)).toEqual(['base', 'wall', 'rib', 'rib']);
  });

  it('a held part whose stage states no zone is told', () => {
    const what = run(plan, withKind('exclusion-zone')).unsafe.map((one) => one.what);
    expect(new Set(what)).toEqual(
      new Set([
        'wall may fall from wide, and its stage states no zone for that',
        'rib may fall from single, and its stage states no zone for that',
      ]),
    );
  });

  it('a part that must stand, and of which nothing proves that it does, is told', () => {
    const what = run(plan, withKind('must-stand')).unsafe.map((one) => one.what);
    expect(what).toContain('wall is let go by wide, and nothing proves that it stands');
  });
});

describe('faults-end-safe', () => {
  it('says nothing of the sound plan', () => {
    expect(told(plan)).toEqual([]);
  });

  it('speaks when a part is let go before its tacks are laid', () => {
    const changed = copy();
    const { steps } = changed.programs[0]!;
    const wait = steps.findIndex((step) => step.do === 'await' && step.handshake === 'secured wall');
    const letGo = steps.findIndex((step) => step.do === 'let-go' && step.part === 'wall');
    steps.splice(letGo, 1, steps[letGo]!, steps[wait]!);
    steps.splice(wait, 1);
    steps.forEach((step, i) => (step.n = i + 1));
    const messages = told(changed);
    expect(messages).toHaveLength(2);
    expect(messages[0]).toMatch(
      /^robot stopped at step \d+ of handler: wall is let go, and tack J1.1@10 does not hold it, and so after \d+ more faults$/,
    );
  });

  it('speaks when a part is let go before it is clamped', () => {
    const changed = copy();
    const program = changed.programs[0]!;
    program.steps = program.steps.filter((step) => step.do !== 'clamp');
    program.steps.forEach((step, i) => (step.n = i + 1));
    expect(told(changed)[0]).toMatch(/: base is let go before it is clamped, and so after \d+ more faults$/);
  });

  it('tells how a line of the table differs from what executing the faults gives', () => {
    const without = copy();
    const { fault, robot, rows } = without.safety.faults.pop()!;
    expect(told(without)).toEqual([
      expect.stringMatching(
        new RegExp(
          `^executing the faults also gives ${fault} of ${robot}, ${rows} of them .*; the plan leaves it out$`,
        ),
      ),
    ]);
    const other = copy();
    other.safety.faults[0]!.reaction.person = !other.safety.faults[0]!.reaction.person;
    expect(told(other)).toEqual([
      expect.stringMatching(/: the plan differs in reaction; executing the faults gives \{"stop":/),
    ]);
  });

  it('leaves programs that block to the rule on handshakes', () => {
    const changed = copy();
    changed.programs[1]!.steps = changed.programs[1]!.steps.filter((step) => step.do !== 'signal');
    expect(told(changed)).toEqual([]);
  });
});

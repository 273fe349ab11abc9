import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { handshakesSafe } from '../../src/rules/handshakes-safe.js';
import { objectiveTrue, tenths } from '../../src/rules/objective-true.js';
import { programsTrue } from '../../src/rules/programs-true.js';
import { proofTrue } from '../../src/rules/proof-true.js';
import { timelineTrue } from '../../src/rules/timeline-true.js';
import { bareRun, type Bare } from '../support/bare-run.js';
import { contextOf, handMadePlan } from '../support/hand-made-plan.js';

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

describe('programs-true', () => {
  const judge = (change: (plan: GeometricPlan) => void) =>
    programsTrue.judge(contextOf(changed(change), programs));

  it('tells the first step that is not the one expected', () => {
    const missing = judge(({ programs: [handler] }) => handler!.steps.splice(4, 1));
    expect(missing.map(({ message }) => message)).toEqual([
      'step number 6 should be 5',
      'step 6 of handler: a joint move instead of a straight one',
    ]);
    const short = judge(({ programs: [, welder] }) => welder!.steps.splice(-2));
    expect(short).toHaveLength(1);
    expect(short[0]!.message).toContain('before leave of stage 3');
  });

  it('wants one program for each robot, with its duty', () => {
    expect(judge((copy) => copy.programs.pop())).toMatchObject([{ where: 'programs', value: 0, limit: 1 }]);
    expect(judge((copy) => (copy.programs[0]!.duty = 'weld'))).toMatchObject([{ where: 'programs[0].duty' }]);
    expect(judge((copy) => (copy.programs[0]!.robot = 'stranger')).map(({ where }) => where)).toEqual([
      'programs',
      'programs[0].robot',
    ]);
  });

  it('sees joints that are not those of the stage', () => {
    const [finding] = judge(({ programs: [handler] }) => {
      const move = handler!.steps[0]!;
      if (move.do === 'move') move.to[2] += 0.01;
    });
    expect(finding).toMatchObject({ where: 'programs[0].steps[0]' });
  });
});

describe('timeline-true', () => {
  const judge = (change: (plan: GeometricPlan) => void) =>
    timelineTrue.judge(contextOf(changed(change), programs));
  const index = (kind: Step['do'], p = 0): number =>
    plan.programs[p]!.steps.findIndex((step) => step.do === kind);

  it('knows the times of the cell', () => {
    const lengths = (kind: Step['do']): number[] =>
      plan.programs
        .flatMap(({ steps }) => steps)
        .filter((step) => step.do === kind)
        .map(({ start, end }) => end - start);
    // A tack of 40 mm at 8 mm/s, 0.6 s before and 0.8 s after the arc.
    for (const seconds of lengths('tack')) expect(seconds).toBeCloseTo(6.4, 2);
    const spans = [lengths('grip'), lengths('clamp'), lengths('change-gripper'), lengths('hold')];
    expect(spans.map(([first]) => Math.round(first! * 100) / 100)).toEqual([0.8, 1.5, 8, 0.5]);
    expect(judge(() => undefined)).toEqual([]);
  });

  it('measures a gap, a wrong length and a wait that ends before its signal', () => {
    const i = index('grip');
    const late = judge(({ programs: [handler] }) => (handler!.steps[i]!.start += 0.1));
    expect(late.map(({ where }) => where)).toEqual([
      `programs[0].steps[${i}].start`,
      `programs[0].steps[${i}].end`,
    ]);
    const wait = index('await', 1);
    const early = judge(({ programs: [, welder] }) => (welder!.steps[wait]!.end = 0));
    expect(early.map(({ where }) => where)).toEqual([
      `programs[1].steps[${wait}].end`,
      `programs[1].steps[${wait + 1}].start`,
    ]);
  });

  it('ends with the last step', () => {
    expect(judge((copy) => (copy.timeline.makespan += 1))).toMatchObject([{ where: 'timeline.makespan' }]);
    expect(judge((copy) => (copy.timeline.activities[0]!.robot = 'stranger'))).toHaveLength(1);
  });
});

/** Programs of a plan with one held part after the first: only what orders the robots, every step of no length. */
const run = (handler: readonly Bare[], welder: readonly Bare[]): GeometricPlan =>
  bareRun([
    { robot: 'handler', duty: 'handle', list: handler },
    { robot: 'welder', duty: 'weld', list: welder },
  ]);

describe('handshakes-safe', () => {
  const judge = (handler: readonly Bare[], welder: readonly Bare[]): string[] =>
    handshakesSafe.judge(contextOf(run(handler, welder), programs)).map(({ message }) => message);
  const bringing: readonly Bare[] = [
    ['enter'],
    ['hold'],
    ['signal', 'held'],
    ['await', 'secured'],
    ['let-go'],
  ];
  const leaving: readonly Bare[] = [['leave'], ['signal', 'away']];
  const securing: readonly Bare[] = [
    ['await', 'held'],
    ['enter'],
    ['tack', 'S'],
    ['leave'],
    ['signal', 'secured'],
  ];
  const completing: readonly Bare[] = [['await', 'away'], ['enter'], ['tack', 'C'], ['leave']];
  const handler = [...bringing, ...leaving];
  const welder = [...securing, ...completing];

  it('is content with a hold, its tacks, a let-go and the rest', () => {
    expect(judge(handler, welder)).toEqual([]);
  });

  it('finds a securing arc that may outlast the hold', () => {
    const early: readonly Bare[] = [
      ['await', 'held'],
      ['enter'],
      ['signal', 'secured'],
      ['tack', 'S'],
      ['leave'],
    ];
    expect(judge(handler, [...early, ...completing])).toContain(
      'nothing makes the arc of securing tack S end while wall is held',
    );
  });

  it('finds an arc before the part is still', () => {
    const hasty: readonly Bare[] = [
      ['signal', 'held'],
      ['enter'],
      ['hold'],
      ['await', 'secured'],
      ['let-go'],
    ];
    expect(judge([...hasty, ...leaving], welder)[0]).toBe(
      'nothing makes the arc of securing tack S begin while wall is held',
    );
  });

  it('finds completing arcs with the handling robot still there', () => {
    const still: readonly Bare[] = [...bringing, ['signal', 'away'], ['leave']];
    expect(judge(still, welder)).toEqual([
      "nothing makes the arc of completing tack C begin between the handler's leaving wall and its bringing the next part",
      'handler with wall and welder of stage 2 may be in the work zone at once, and neither keeps still',
    ]);
  });

  it('finds the next part coming while completing arcs burn', () => {
    const next: readonly Bare[] = [['enter'], ['let-go', 'rib'], ['leave']];
    expect(judge([...handler, ...next], welder)[0]).toContain('tack C end between');
    const ordered: readonly Bare[] = [['await', 'done'], ...next];
    expect(judge([...handler, ...ordered], [...welder, ['signal', 'done']])).toEqual([]);
  });

  it('finds two robots in the zone with no part held, without any arc', () => {
    const idle: readonly Bare[] = [['enter'], ['leave']];
    expect(judge([['enter'], ['leave']], idle)).toEqual([
      'handler of stage 2 and welder of stage 2 may be in the work zone at once, and neither keeps still',
    ]);
  });

  it('finds a deadlock', () => {
    const crossed: readonly Bare[] = [
      ['enter'],
      ['hold'],
      ['await', 'secured'],
      ['signal', 'held'],
      ['let-go'],
    ];
    const found = judge([...crossed, ...leaving], welder);
    expect(found).toHaveLength(1);
    expect(found[0]).toMatch(/^deadlock: /);
  });

  it('wants every signal listed, sent once and consumed once, where the list says', () => {
    const twice = run([...handler, ['signal', 'held']], welder);
    const found = handshakesSafe.judge(contextOf(twice, programs));
    expect(found).toMatchObject([{ where: 'handshakes[0]', value: 2, limit: 1 }]);
    const unlisted = run(handler, welder);
    unlisted.handshakes.shift();
    expect(handshakesSafe.judge(contextOf(unlisted, programs))).toHaveLength(2);
    const misplaced = run(handler, welder);
    misplaced.handshakes[0]!.to.step = 2;
    expect(handshakesSafe.judge(contextOf(misplaced, programs))).toMatchObject([{ value: 2, limit: 1 }]);
  });
});

describe('claims', () => {
  it('rounds seconds up to tenths, a last bit aside', () => {
    expect([10, 10.00000001, 10.01, 0].map(tenths)).toEqual([100, 100, 101, 0]);
  });

  it('objective-true counts from the plan itself', () => {
    const wrong = changed((copy) => copy.objective.forEach((term) => (term.value += 3)));
    const found = objectiveTrue.judge(contextOf(wrong, programs));
    expect(found.map(({ value, limit }) => value! - limit!)).toEqual([3, 3, 3, 3]);
    const turned = changed((copy) => copy.objective.reverse());
    expect(objectiveTrue.judge(contextOf(turned, programs))).toMatchObject([{ where: 'objective' }]);
  });

  it('proof-true wants leading terms whose bound is met, and optimal to mean all', () => {
    const judge = (change: (copy: GeometricPlan) => void) =>
      proofTrue.judge(contextOf(changed(change), programs)).map(({ where }) => where);
    expect(judge((copy) => copy.proof.provedTerms.reverse())).toEqual([
      'proof.provedTerms[0]',
      'proof.provedTerms[1]',
    ]);
    expect(judge((copy) => (copy.objective[0]!.bound -= 1))).toEqual(['proof.provedTerms[0]']);
    expect(judge((copy) => (copy.proof.outcome = 'optimal'))).toEqual(['proof.outcome']);
    const before = (change: (then: GeometricPlan['objective']) => void) =>
      judge((copy) => {
        const then = structuredClone(copy.objective);
        change(then);
        copy.proof.beforeReordering = { stages: 1, objective: then, provedTerms: copy.proof.provedTerms };
      });
    const last = (then: GeometricPlan['objective']) => then.at(-1)!;
    expect(before((then) => (last(then).value += 1))).toEqual([]);
    expect(before(() => undefined)).toEqual(['proof.beforeReordering']);
    expect(before((then) => then.reverse())).toEqual(['proof.beforeReordering.objective']);
    expect(before((then) => (last(then).bound = last(then).value + 2))).toEqual([
      'proof.beforeReordering',
      'proof.beforeReordering.objective[3].bound',
    ]);
  });
});

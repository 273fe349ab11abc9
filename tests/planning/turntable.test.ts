import { beforeAll, describe, expect, it } from 'vitest';
import { emptySet, withMember } from '../../src/base/part-set.js';
import { canonicalText } from '../../src/io/canonical.js';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { broughtAfter } from '../../src/planning/index-angles.js';
import { factsOf } from '../../src/planning/plan.js';
import type { Facts } from '../../src/facts/facts.js';
import { inputsOf, Planner, planIn, story, type Files } from '../support/planned.js';

const FILES = story('turntable-makes-the-last-two-seams-possible');
const [FOOT, FRONT] = [0, 1];

let planner: Planner;
beforeAll(async () => {
  planner = await Planner.load();
});

type Changes = Readonly<Record<string, unknown>>;

/** The story with another turntable, and with keep-outs. */
const changed = (turntable: Changes, keepOuts: Files['cell']['keep-outs'] = []): Files => {
  const { weldment, cell } = structuredClone(FILES);
  const { table } = cell.stations;
  table['turntable'] = { ...(table['turntable'] as Changes), ...turntable };
  return { weldment, cell: { ...cell, 'keep-outs': keepOuts } };
};

function factsFor(files: Files): Facts {
  const { weldment, cell, settings } = inputsOf(files);
  if (weldment.kind !== 'geometric' || !cell) throw new Error('no shapes');
  return factsOf(weldment, cell, settings, planner.programs);
}

/** Steps of a robot at a stage, waits and signals left out. */
const work = (plan: GeometricPlan, robot: string, stage: number): readonly Step['do'][] =>
  plan.programs
    .find((program) => program.robot === robot)!
    .steps.filter((step) => step.stage === stage && step.do !== 'signal' && step.do !== 'await')
    .map((step) => step.do);

describe('a plan with turns of the work table', () => {
  it('is the same to the byte when it is made twice', () => {
    const text = canonicalText(planner.plan(FILES));
    expect(canonicalText(planIn(planner.outcomeAnew(FILES)))).toBe(text);
  });

  it('turns once, before the third part, and says what it was planned by', () => {
    const { stages, programs, proof } = planner.plan(FILES);
    expect(stages.map(({ turn }) => turn)).toEqual([0, 0, 180, 180]);
    const turns = programs.flatMap(({ robot, steps }) =>
      steps.flatMap((step) => (step.do === 'turn' ? [[robot, step.stage, step.to]] : [])),
    );
    expect(turns).toEqual([['welder', 3, 180]]);
    // 180 / 45 + 45 / 30 s, and 1 s to settle.
    const [turn] = programs.flatMap(({ steps }) => steps.filter((step) => step.do === 'turn'));
    expect(turn!.end - turn!.start).toBeCloseTo(6.5, 3);
    expect(proof.policies.some((text) => text.includes('index angle'))).toBe(true);
    expect(proof.notChecked.some((text) => text.includes('index angle'))).toBe(true);
  });

  it('lets a handling robot turn the table after it fetched the part', () => {
    const plan = planner.plan(changed({ 'commanded-by': 'handler' }));
    const steps = work(plan, 'handler', 3);
    expect(steps.indexOf('grip')).toBeLessThan(steps.indexOf('turn'));
    expect(steps.indexOf('turn')).toBeLessThan(steps.indexOf('enter'));
    expect(work(plan, 'welder', 3)).not.toContain('turn');
  });

  it('lets a handling robot turn the table while another brings the part', () => {
    const { weldment, cell } = changed({ 'commanded-by': 'handler' });
    const { handler, welder } = cell.robots;
    const { helper } = story('two-robots-two-holds').cell.robots;
    const robots = { handler: handler!, helper: helper!, welder: welder! };
    const plan = planner.plan({ weldment, cell: { ...cell, robots } });
    expect(plan.stages.map(({ turn }) => turn)).toEqual([0, 0, 180, 180]);
    expect(plan.stages[2]!.robot).toBe('helper');
    expect(work(plan, 'handler', 3)).toEqual(['turn']);
  });

  it('states its poses in the cell at an angle that is no half turn, too', () => {
    const { stages } = planner.plan(changed({ angles: [0, 165] }));
    expect(stages.map(({ turn }) => turn)).toEqual([0, 0, 165, 165]);
  });
});

describe('a table that cannot turn', () => {
  it('rules a plan out, and says what is in its way', () => {
    // Beside the table, in the way of its corners, which go round at 500 mm.
    const outcome = planner.outcome(changed({}, [{ at: [0, 470, 480], size: [40, 40, 60] }]));
    expect(outcome).toMatchObject({
      kind: 'impossible',
      scope: 'candidates',
      reasons: expect.arrayContaining([
        expect.objectContaining({
          code: 'no-turning',
          nearest: { code: 'turn-blocked', subjects: ['the work table', 'keep-out 1'] },
        }),
      ]) as unknown,
    });
  });

  it('is told of by part, and only for parts that are on it', () => {
    // Over the table, where only the corners of the foot pass: they go round at 269 mm.
    const facts = factsFor(changed({}, [{ at: [0, 230, 506], size: [40, 60, 8] }]));
    const nothing = emptySet(4);
    expect(facts.turnBlocked(withMember(nothing, FRONT))).toBeUndefined();
    expect(facts.turnBlocked(withMember(nothing, FOOT))).toEqual({
      code: 'turn-blocked',
      subjects: ['foot', 'keep-out 1'],
    });
  });
});

describe('facts at an index angle', () => {
  it('share what does not depend on it, and have their own ways into place', () => {
    const facts = factsFor(FILES);
    const turned = facts.at(180);
    expect(facts.at(0)).toBe(facts);
    expect(turned.at(0)).toBe(facts);
    expect(turned).toBe(facts.at(180));
    expect(facts.everyAngle).toEqual([facts, turned]);
    expect(turned.joints).toBe(facts.joints);
    expect(turned.grips(FRONT)).toBe(facts.grips(FRONT));
    expect(turned.spots(FRONT)).toBe(facts.spots(FRONT));
    expect(turned.approaches(FRONT)).not.toBe(facts.approaches(FRONT));
  });
});

describe('when a part may be brought', () => {
  const TURN = 6500;
  const after = (commander: string, to: number, fetched: number, pending: number): number => {
    const facts = factsFor(changed({ 'commanded-by': commander }));
    const [bringer] = facts.scene.cell.handlers;
    return broughtAfter(facts, bringer!, { from: 0, to }, fetched, pending).brought;
  };

  it('is once it is fetched and the tacks are laid', () => {
    expect(after('welder', 0, 5000, 8000)).toBe(8000);
    expect(after('welder', 0, 9000, 8000)).toBe(9000);
  });

  it('is after the turn, which the welder makes after its tacks, and the bringer after fetching', () => {
    expect(after('welder', 180, 5000, 8000)).toBe(8000 + TURN);
    expect(after('welder', 180, 20_000, 8000)).toBe(20_000);
    expect(after('handler', 180, 5000, 8000)).toBe(8000 + TURN);
    expect(after('handler', 180, 20_000, 8000)).toBe(20_000 + TURN);
  });
});

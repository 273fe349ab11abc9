import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { canonicalText } from '../../src/io/canonical.js';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { checkPlan } from '../../src/session/check.js';
import { planIn, Planner, sourcesOf, type Files } from '../support/planned.js';

const yaml = (path: string): unknown => parse(readFileSync(new URL(`../${path}`, import.meta.url), 'utf8'));

type Six = [number, number, number, number, number, number];

/** Two cheeks on a base, on the bench of the stories, whose welding robot may clean its nozzle. */
function files(cleaning?: { joints: Six; every?: number; seconds?: number }): Files {
  const { weldment, cell } = structuredClone({
    weldment: yaml('stories/web-between-cheeks-is-held/weldment.yaml'),
    cell: yaml('stories/bench.cell.yaml'),
  }) as Files;
  delete weldment.parts['web'];
  delete weldment.needs;
  weldment.joints = weldment.joints.filter(({ between }) => !between.includes('web'));
  if (cleaning) cell.robots['welder']!['cleaning'] = cleaning;
  return { weldment, cell };
}

/** The home of the welding robot with axis 1 turned aside. */
const ASIDE: Six = [70, -45, 25, 0, 65, 0];

let planner: Planner;
let plain: GeometricPlan;
let cleaned: GeometricPlan;
beforeAll(async () => {
  planner = await Planner.load();
  plain = planner.plan(files());
  cleaned = planner.plan(files({ joints: ASIDE, every: 5, seconds: 9 }));
}, 300_000);

const stepsOf = (plan: GeometricPlan, robot: string): readonly Step[] =>
  plan.programs.find((program) => program.robot === robot)!.steps;

/** A robot's steps other than moves, signals and waits. */
const acts = (plan: GeometricPlan, robot: string): string[] =>
  stepsOf(plan, robot)
    .map((step) => step.do)
    .filter((kind) => !['move', 'signal', 'await'].includes(kind));

describe('a plan with floor steps', () => {
  it('asks for each part at the infeed before it is taken', () => {
    expect(acts(plain, 'handler').filter((kind) => kind === 'part-present' || kind === 'grip')).toEqual(
      plain.stages.flatMap(() => ['part-present', 'grip']),
    );
  });

  it('asks for the earth path once, before the first arc, and for the wire after each', () => {
    const welding = acts(plain, 'welder');
    expect(welding[0]).toBe('earth-check');
    expect(welding.filter((kind) => kind === 'earth-check')).toHaveLength(1);
    welding.forEach((kind, i) => expect(kind === 'tack').toBe(welding[i + 1] === 'wire-check'));
  });

  it('ends with the hand-over, when the torch is done', () => {
    const last = stepsOf(plain, 'handler').at(-1)!;
    expect(last).toMatchObject({ do: 'hand-over', stage: 0, resume: true });
    expect(last.end).toBe(plain.timeline.makespan);
    expect(last.start).toBeGreaterThanOrEqual(stepsOf(plain, 'welder').at(-1)!.start);
  });

  it('may be taken up again at home and while a part is held, and nowhere else', () => {
    const marked = stepsOf(plain, 'handler').filter(({ resume }) => resume);
    expect(marked.length).toBeGreaterThan(plain.stages.length);
    for (const { do: kind } of marked)
      expect(['move', 'await', 'enter', 'cool', 'proof-pull', 'let-go', 'hand-over']).toContain(kind);
    const steps = stepsOf(plain, 'handler');
    steps.forEach((step, i) => {
      if (step.do === 'hold') expect(steps.slice(i + 1).find(({ resume }) => resume)!.do).toBe('await');
    });
  });

  it('says that a nozzle without a cleaner is cleaned by hand', () => {
    expect(plain.warnings).toContain(
      'welder has no `cleaning`: its nozzle is cleaned by hand, after every 20 arcs at the latest (our choice)',
    );
    expect(cleaned.warnings.some((text) => text.includes('cleaning'))).toBe(false);
  });
});

describe('a welding robot with a cleaner', () => {
  it('goes there before more arcs than it may lay, from home and home again', () => {
    const steps = stepsOf(cleaned, 'welder');
    let arcs = 0;
    steps.forEach((step, i) => {
      if (step.do === 'tack') arcs += 1;
      if (step.do !== 'clean-nozzle') return;
      expect(arcs).toBeLessThanOrEqual(5);
      arcs = 0;
      expect(step.end - step.start).toBeCloseTo(9, 3);
      expect(steps[i - 1]).toMatchObject({ do: 'move', to: ASIDE, frame: 'cell', place: 'nozzle cleaner' });
      expect(steps[i + 1]).toMatchObject({ do: 'move', place: 'home' });
    });
    expect(steps.filter((step) => step.do === 'clean-nozzle').length).toBeGreaterThan(0);
  });

  it('has a plan that the rules pass, the same to the byte when made again', () => {
    const asked = files({ joints: ASIDE, every: 5, seconds: 9 });
    const text = canonicalText(cleaned);
    expect(canonicalText(planIn(planner.outcomeAnew(asked)))).toBe(text);
    const source = { text, name: 'plan.json' };
    expect(checkPlan(source, sourcesOf(asked), planner.programs)).toMatchObject({ findings: [] });
    // The same programs are not those of a robot that cleans less often.
    const seldom = sourcesOf(files({ joints: ASIDE, every: 50 }));
    const found = checkPlan(source, seldom, planner.programs);
    if (found.kind !== 'judged') throw new Error('the files are not read');
    expect(found.findings.some(({ rule }) => rule === 'programs-true')).toBe(true);
  });

  it('is refused a cleaner that it does not get to, with the reason', () => {
    const problems = (joints: Six): string[] => {
      const outcome = planner.outcome(files({ joints }));
      return outcome.kind === 'bad-input'
        ? outcome.issues.map(({ path, problem }) => `${path}: ${problem}`)
        : [];
    };
    const where = 'robots.welder.cleaning.joints: the cleaner is not reached';
    expect(problems([0, 40, 25, 0, 65, 0])[0]).toContain(
      `${where}: on the joint move from home the arm meets`,
    );
  });
});

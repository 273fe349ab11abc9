import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import type { GeometricPlan, Stage, Step } from '../../src/model/plan.js';
import { checkPlan } from '../../src/session/check.js';
import { canonicalText } from '../../src/io/canonical.js';
import {
  inputsOf,
  Planner,
  sourcesOf,
  story,
  type CellEntries,
  type Files,
  type PartEntry,
  type WeldmentEntries,
} from '../support/planned.js';
import { factsOf } from '../../src/planning/plan.js';

const yaml = (path: string): unknown => parse(readFileSync(new URL(`../${path}`, import.meta.url), 'utf8'));
const BENCH = yaml('stories/bench.cell.yaml') as CellEntries;

const block = (x: number, y: number, more: object = {}): PartEntry => ({
  block: { length: 100, width: 100, height: 50 },
  at: [x, y, 35],
  ...more,
});

/** Three blocks on a base, of which some are set by hand; our own invention. */
function blocks(
  byHand: Readonly<Record<string, unknown>>,
  needs: WeldmentEntries['needs'] = [],
): WeldmentEntries {
  const all: Record<string, PartEntry> = {
    base: { plate: { length: 400, width: 340, thickness: 10 }, at: [0, 0, 5] },
    one: block(-100, 60),
    two: block(100, 60),
    three: block(100, -80),
  };
  const parts = Object.entries(all).map(([id, part]) => [
    id,
    { ...part, ...(byHand[id] === undefined ? {} : { manual: byHand[id] }) },
  ]);
  return {
    weldment: 'blocks',
    units: 'mm kg N s deg',
    parts: Object.fromEntries(parts) as Record<string, PartEntry>,
    joints: ['one', 'two', 'three'].map((other) => ({ between: ['base', other], sides: 'both' })),
    first: 'base',
    needs,
  };
}

let planner: Planner;
beforeAll(async () => {
  planner = await Planner.load();
});

const stageOf = (plan: GeometricPlan, part: string): Stage =>
  plan.stages.find((stage) => stage.part === part)!;
const stepsOf = (plan: GeometricPlan): readonly Step[] => plan.programs.flatMap(({ steps }) => steps);
const manualStep = (plan: GeometricPlan, part: string): Extract<Step, { do: 'manual' }> =>
  stepsOf(plan).find((step) => step.do === 'manual' && step.part === part) as Extract<Step, { do: 'manual' }>;

/** The plan, judged once more from its text. */
function judged(files: Files): GeometricPlan {
  const plan = planner.plan(files);
  const text = { text: canonicalText(plan), name: 'plan.json' };
  expect(checkPlan(text, sourcesOf(files), planner.programs)).toMatchObject({ kind: 'judged', findings: [] });
  return plan;
}

describe('a part that a person sets', () => {
  const files = {
    weldment: blocks({ two: { seconds: 100 } }, [
      { part: 'two', after: ['one'] },
      { part: 'three', after: ['two'] },
    ]),
    cell: BENCH,
  };

  it('is in a stage without robots, with the tacks that its joints ask for', () => {
    const { manual, ...rest } = stageOf(judged(files), 'two');
    expect(rest).toMatchObject({
      ...{ robot: null, handling: [], approach: null, held: null, proofPull: null, stands: 'tacked' },
      ...{ powerLoss: [], remedies: [], accuracy: [], tacks: [], rework: [] },
    });
    expect(manual).toMatchObject({ seconds: 100, clamp: null });
    // Each of the two seams of 100 mm, less 10 at both ends, has room for one tack of 50.
    expect(manual!.tacks.map(({ seam, order }) => [seam, order])).toEqual([
      ['J2.1', 1],
      ['J2.2', 2],
    ]);
  });

  it('is judged once it has its tacks, and not while the person holds it', () => {
    const states = stageOf(planner.plan(files), 'two').reserves.map(({ state }) => state);
    expect([...new Set(states)]).toEqual(['complete']);
  });

  it('takes the stated seconds, in which nobody else does anything', () => {
    const plan = planner.plan(files);
    const { start, end, tacks, planned } = manualStep(plan, 'two');
    expect(end - start).toBeCloseTo(100, 3);
    expect(planned).toBe(100);
    expect(tacks).toEqual(stageOf(plan, 'two').manual!.tacks.map(({ id }) => id));
    const at = stepsOf(plan).filter((step) => step.do !== 'await' && step.end > step.start);
    expect(at.filter((step) => step.start < end && step.end > start).map((step) => step.do)).toEqual([
      'manual',
    ]);
  });

  it('makes the waits through it last longer, by the stated seconds', () => {
    const plan = planner.plan(files);
    const limits = plan.handshakes.map(({ meaning, timeLimit }) => [meaning, timeLimit] as const);
    // The welding robot waits through it for the next part; all others wait for what robots do.
    expect(new Map(limits).get('three held and still')).toBe(160);
    expect(new Map(limits).get('one held and still')).toBe(60);
  });

  it('comes with a policy, what is not checked, and a caution', () => {
    const plan = planner.plan(files);
    expect(plan.proof.policies.join()).toMatch(/leaves to a person is set, clamped and tacked by one/);
    expect(plan.proof.notChecked.join()).toMatch(/whether a person gets to the seams/);
    expect(plan.cautions.at(-1)).toMatch(
      /^A person works in the cell while robots wait: stop and lock them out/,
    );
    const without = planner.plan({ weldment: blocks({}), cell: BENCH });
    expect([...without.proof.policies, ...without.cautions].join()).not.toMatch(
      /person is set|A person works/,
    );
  });

  it('costs its seconds beside what the robots do, and the bound of the search knows them', () => {
    const { objective } = planner.plan(files);
    expect(objective.find(({ term }) => term === 'time')!.bound).toBeGreaterThan(1000);
  });

  it('counts in the chain of a later part as the file says that it is put', () => {
    const weldment = (within: number): WeldmentEntries => {
      const own = blocks({ one: { within } }, [{ part: 'two', after: ['one'] }]);
      own.parts['one'] = {
        block: { length: 100, width: 100, height: 100 },
        at: [-100, 60, 60],
        manual: { within },
      };
      own.parts['two'] = { ...own.parts['two']!, at: [0, 60, 35] };
      // The seams between the two and the base are on the sides away from each other.
      const away = { one: [-1, 0, 1], two: [1, 0, 1], three: [1, 0, 1] } as const;
      const joints = own.joints.map(({ between }) => {
        const open = away[between[1] as keyof typeof away];
        return { between, sides: 'one', open };
      });
      return { ...own, joints: [...joints, { between: ['one', 'two'], sides: 'one', open: [1, 0, 1] }] };
    };
    const chainOf = (within: number) =>
      stageOf(planner.plan({ weldment: weldment(within), cell: BENCH }), 'two').accuracy.flatMap(
        ({ chain }) => chain,
      );
    expect(chainOf(0.9)).toContainEqual({ source: 'place of one', mm: 0.9 });
    expect(chainOf(0.1)).toContainEqual({ source: 'place of one', mm: 0.1 });
  });
});

describe('a person among several robots', () => {
  const files = {
    cell: story('two-robots-two-holds').cell,
    weldment: blocks({ two: { seconds: 100 } }, [
      { part: 'two', after: ['one'] },
      { part: 'three', after: ['two'] },
    ]),
  };

  it('is waited for by the robot that would fetch ahead', () => {
    const plan = judged(files);
    const { start, end } = manualStep(plan, 'two');
    const working = plan.programs.flatMap(({ steps }) =>
      steps.filter((step) => step.do !== 'await' && step.do !== 'manual' && step.end > step.start),
    );
    expect(working.filter((step) => step.start < end && step.end > start)).toEqual([]);
    const told = plan.handshakes.find(
      ({ meaning }) => meaning === 'two set by hand, nobody left in the work zone',
    )!;
    expect(told.timeLimit).toBe(160);
    const { steps } = plan.programs.find(({ robot }) => robot === told.to.robot)!;
    expect(steps[told.to.step]).toMatchObject({ stage: stageOf(plan, 'three').number });
  });

  it('is proved to be apart from all of them', () => {
    expect(planner.plan(files).safety.properties.at(-1)).toMatch(
      /^while a person sets a part, every robot has ended/,
    );
  });
});

describe('a person and completing tacks', () => {
  it('comes when the torch has laid those of a part that stands by itself', () => {
    const files = story('wide-foot-never-needs-a-hold');
    const last: PartEntry = {
      block: { length: 60, width: 100, height: 40 },
      at: [-220, 0, 30],
      manual: { seconds: 50 },
    };
    const plan = judged({
      cell: files.cell,
      weldment: {
        ...files.weldment,
        parts: { ...files.weldment.parts, last },
        joints: [...files.weldment.joints, { between: ['base', 'last'], sides: 'both' }],
        needs: [{ part: 'last', after: ['block'] }],
      },
    });
    expect(stageOf(plan, 'block').tacks.map(({ phase }) => phase)).toContain('completing');
    const { start } = manualStep(plan, 'last');
    const arcs = stepsOf(plan).filter((step) => step.do === 'tack');
    expect(Math.max(...arcs.map((step) => step.end))).toBeLessThanOrEqual(start);
    expect(plan.handshakes.map(({ meaning }) => meaning)).toContain(
      'welder at home and stopped, out of the work zone, holding nothing',
    );
  });
});

describe('a first part that a person sets', () => {
  const plan = (): GeometricPlan => judged({ weldment: blocks({ base: true }), cell: BENCH });

  it('is clamped by the person, for the seconds that are planned by default', () => {
    const stage = plan().stages[0]!;
    expect(stage).toMatchObject({ part: 'base', stands: 'clamped', robot: null });
    expect(stage.manual).toEqual({ seconds: 300, clamp: 'table-magnets', tacks: [] });
    expect(manualStep(plan(), 'base')).toMatchObject({ clamp: stage.manual!.clamp, tacks: [] });
  });
});

describe('a weldment of which a person sets every part', () => {
  it('is planned without any work of robots', () => {
    const plan = judged({ weldment: blocks({ base: true, one: true, two: true, three: true }), cell: BENCH });
    expect(plan.objective.find(({ term }) => term === 'time')!.value).toBe(12_000);
    expect(new Set(stepsOf(plan).map((step) => step.do))).toEqual(new Set(['manual', 'hand-over']));
    expect(plan.handshakes).toEqual([]);
    expect(plan.objective.find(({ term }) => term === 'regrips')!.value).toBe(0);
  });
});

describe('a part that no person could tack', () => {
  it('is the reason, with the gap', () => {
    const weldment = { ...blocks({ one: true }), 'fit-up': { gap: 5 } };
    // It hovers 4.5 mm above the base: more than the leg of 4 mm, so that a tack there has no throat.
    weldment.parts['one'] = { ...weldment.parts['one']!, at: [-100, 60, 39.5] };
    const outcome = planner.outcome({ weldment, cell: BENCH });
    if (outcome.kind !== 'impossible') throw new Error(outcome.kind);
    const seam = outcome.reasons.find(({ fact }) => fact?.kind === 'torch');
    expect(seam).toMatchObject({
      code: 'no-securing',
      nearest: { code: 'gap-too-wide', value: 4.5, limit: 4 },
    });
    expect(seam!.subjects[0]).toBe('one');
  });
});

describe('facts', () => {
  it('have no grips, spots and approaches of a part that a person sets', () => {
    const { weldment, cell, settings } = inputsOf({ weldment: blocks({ two: true }), cell: BENCH });
    if (weldment.kind !== 'geometric' || !cell) throw new Error('no shapes');
    const facts = factsOf(weldment, cell, settings, planner.programs);
    const [one, two] = ['one', 'two'].map((id) => facts.scene.index.get(id)!) as [number, number];
    expect([facts.grips(two), facts.spots(two), facts.approaches(two)]).toEqual([[], [], []]);
    expect(facts.grips(one).length).toBeGreaterThan(0);
  });
});

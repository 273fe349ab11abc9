import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan, Handshake, Step } from '../../src/model/plan.js';
import { programsPnml } from '../../src/report/pnml.js';
import { barePlan } from '../support/bare-plan.js';
import { markingGraph, readNet, type MarkingGraph } from '../support/marking-graph.js';
import { grammarIsThere, pnmlGrammar } from '../support/pnml-grammar.js';
import { storyPlan } from '../support/story-plan.js';
import { allNodes, readXml, type XmlNode } from './xml.js';

const STORIES = [
  'one-tool-change',
  'seam-search-for-a-loose-datum',
  'two-robots-two-holds',
  'a-gusset-set-by-hand',
];
const HOSTILE = '</text><a> & "\' ]]> --> \u0007';

const plans = new Map<string, GeometricPlan>();
beforeAll(async () => {
  const programs = await loadLinearPrograms();
  for (const story of STORIES) plans.set(story, storyPlan(story, programs).plan);
});

const walk = (plan: GeometricPlan): MarkingGraph => markingGraph(readNet(programsPnml(plan)));
const nodes = (plan: GeometricPlan, name: string): XmlNode[] =>
  allNodes(readXml(programsPnml(plan))).filter((node) => node.name === name);
const ids = (plan: GeometricPlan, name: string): string[] =>
  nodes(plan, name).map(({ attributes }) => attributes.get('id')!);

/** Ids of the places that the net itself says are marked at the end. */
const stated = (plan: GeometricPlan): string[] =>
  nodes(plan, 'final').map(({ attributes }) => attributes.get('place')!);

const doing = (n: number, what: object): Step => ({ n, stage: 1, start: n, end: n + 1, ...what }) as Step;
/** A step for each of its transitions: itself, and with rework itself again and all that follows when it is bad. */
function transitionsOf(step: Step, before = ''): { n: string; step: Step }[] {
  const { rework = [] } = step as { readonly rework?: readonly Step[] };
  const own = { n: `${before}${step.n}`, step };
  if (rework.length === 0) return [own];
  return [own, own, ...rework.flatMap((inner) => transitionsOf(inner, `${own.n}.`))];
}

const signal = (n: number, handshake: string): Step => doing(n, { do: 'signal', handshake });
const wait = (n: number, handshake: string): Step => doing(n, { do: 'await', handshake });
const hold = (n: number, part: string): Step => doing(n, { do: 'hold', part });
const program = (robot: string, ...steps: Step[]) => ({ robot, duty: 'handle' as const, steps });

const shake = (id: string, more: object = {}): Handshake =>
  ({
    ...{ id, name: id, kind: 'single-use', waiting: 'empty', timeLimit: 60 },
    ...{ from: { robot: 'left', step: 1 }, to: { robot: 'right', step: 1 } },
    ...{ meaning: `${id} is said`, guards: 'all', reaction: 'keep holding, stop all robots' },
    ...more,
  }) as Handshake;

const made = (programs: GeometricPlan['programs'], ...handshakes: Handshake[]): GeometricPlan => ({
  ...barePlan(),
  programs,
  handshakes,
});

describe.skipIf(!grammarIsThere)(
  'the grammar of ISO/IEC 15909-2 (skipped without ../shared/data/pnml-grammar)',
  () => {
    const grammar = grammarIsThere ? pnmlGrammar() : () => undefined;

    it.each(STORIES)('accepts the net of %s', (story) => {
      expect(grammar(programsPnml(plans.get(story)!))).toBeUndefined();
    });

    it('accepts branches, rings, hostile names and programs without steps', () => {
      const rework = [hold(3, HOSTILE)];
      const accepted = doing(2, { do: 'accept', tack: 'J1', rework });
      const plan = made(
        [program(HOSTILE, signal(1, 'H1'), accepted), program('right', wait(1, 'H1')), program('idle')],
        shake('H1', { kind: 'four-phase', meaning: HOSTILE }),
      );
      plan.weldment.name = HOSTILE;
      plan.cautions.push(HOSTILE);
      expect(grammar(programsPnml(plan))).toBeUndefined();
    });

    it('refuses what is no such net', () => {
      const pnml = programsPnml(made([program('left', hold(1, 'a'))]));
      expect(grammar(pnml.replace('<place ', '<spot ').replace('</place>', '</spot>'))).toContain('spot');
      expect(grammar(pnml.replace('id="r1-p1"', 'id="r1-p0"'))).toBeDefined();
    });
  },
);

describe('the net of a plan', () => {
  it.each(STORIES)('of %s is safe, ends in its final marking only, and has no dead transition', (story) => {
    const plan = plans.get(story)!;
    const { bound, ends, dead } = walk(plan);
    const last = plan.programs.map(({ steps }, i) => `r${i + 1}-p${steps.length}`);
    expect({ bound, dead }).toEqual({ bound: 1, dead: [] });
    expect(ends.length).toBe(1);
    expect([...ends[0]!].sort()).toEqual([...last].sort());
    expect([...stated(plan)].sort()).toEqual([...last].sort());
  });

  it.each(STORIES)('of %s has each step once, with its times, and no two nodes in one spot', (story) => {
    const plan = plans.get(story)!;
    const steps = nodes(plan, 'step').map(({ attributes }) => attributes);
    const all = plan.programs.flatMap(({ robot, steps: own }) =>
      own.flatMap((step) => transitionsOf(step)).map(({ n, step }) => ({ robot, n, step })),
    );
    expect(steps.map((step) => [step.get('robot'), step.get('n'), step.get('do')])).toEqual(
      all.map(({ robot, n, step }) => [robot, n, step.do]),
    );
    steps.forEach((step, i) => {
      const { do: kind, start, end } = all[i]!.step;
      expect(Number(step.get('duration'))).toBeCloseTo(kind === 'await' ? 0 : end - start, 3);
      expect(Number(step.get('start'))).toBeCloseTo(start, 3);
    });
    const spots = nodes(plan, 'position').map(
      ({ attributes }) => `${attributes.get('x')} ${attributes.get('y')}`,
    );
    expect(new Set(spots).size).toBe(spots.length);
  });

  it('is the same bytes for equal plans', () => {
    const plan = plans.get('one-tool-change')!;
    expect(programsPnml(structuredClone(plan))).toBe(programsPnml(plan));
  });

  it('of programs that wait for each other stops before the end', () => {
    const plan = made(
      [
        program('left', wait(1, 'H1'), signal(2, 'H2')),
        program('right', wait(1, 'H2'), signal(2, 'H1'), hold(3, 'a')),
      ],
      shake('H1'),
      shake('H2'),
    );
    expect(walk(plan)).toMatchObject({ ends: [['r1-p0', 'r2-p0']] });
    expect(walk(plan).dead).toHaveLength(5);
  });

  it('shows a signal that nobody takes, and one that is sent twice', () => {
    const lost = made([program('left', signal(1, 'H1')), program('right', hold(1, 'a'))], shake('H1'));
    expect(walk(lost).ends).toEqual([['r1-p1', 'r2-p1', 'h1']]);
    const twice = made([program('left', signal(1, 'H1'), signal(2, 'H1'))]);
    expect(walk(twice).bound).toBe(2);
  });
});

describe('what a net is made of', () => {
  it('has identifiers of our own, whatever the names are', () => {
    const plan = made([program(HOSTILE, hold(1, HOSTILE)), program(HOSTILE, hold(1, HOSTILE))]);
    expect(ids(plan, 'place')).toEqual(['r1-p0', 'r1-p1', 'r2-p0', 'r2-p1']);
    const [first] = nodes(plan, 'transition');
    expect(first!.children[0]!.children[0]!.text).toBe(
      '</text><a> & "\' ]]> --> \\u0007: 1 hold </text><a> & "\' ]]> --> \\u0007',
    );
  });

  it('has the lines of a four-phase handshake as a ring that is idle at both ends', () => {
    const plan = made(
      [program('left', signal(1, 'H1')), program('right', wait(1, 'H1'))],
      shake('H1', { kind: 'four-phase' }),
    );
    const ring = ['line1-idle', 'line1-requested', 'line1-acknowledged', 'line1-released'];
    expect(ids(plan, 'place').slice(4)).toEqual(ring);
    // Request, acknowledge, request off, acknowledge off: the textbook order, so each marking has one way on.
    expect(walk(plan)).toEqual({ markings: 5, bound: 1, ends: [['r1-p1', 'r2-p1', 'line1-idle']], dead: [] });
    expect(stated(plan)).toEqual(['r1-p1', 'r2-p1', 'line1-idle']);
  });

  it('has one ring for handshakes on the same lines, one after another', () => {
    const kind = { kind: 'four-phase', line: 1 };
    const plan = made(
      [program('left', signal(1, 'H1'), signal(2, 'H2')), program('right', wait(1, 'H1'), wait(2, 'H2'))],
      shake('H1', kind),
      shake('H2', kind),
    );
    expect(ids(plan, 'place').slice(6)).toHaveLength(4);
    expect(walk(plan)).toMatchObject({ bound: 1, ends: [['r1-p2', 'r2-p2', 'line1-idle']], dead: [] });
  });

  it('takes a step with rework as two transitions that meet again', () => {
    const accept = doing(1, { do: 'accept', tack: 'J1@1', rework: [hold(1, 'a'), hold(2, 'a')] });
    const plan = made([program('left', accept, hold(2, 'b'))]);
    expect(ids(plan, 'transition')).toEqual(['r1-t1', 'r1-t1-bad', 'r1-t1-bad-t1', 'r1-t1-bad-t2', 'r1-t2']);
    expect(nodes(plan, 'step').map(({ attributes }) => attributes.get('outcome') ?? '')).toEqual([
      'good',
      'bad',
      '',
      '',
      '',
    ]);
    const numbers = nodes(plan, 'step').map(({ attributes }) => attributes.get('n'));
    expect(numbers).toEqual(['1', '1', '1.1', '1.2', '2']);
    expect(walk(plan)).toEqual({ markings: 5, bound: 1, ends: [['r1-p2']], dead: [] });
  });

  it('tells the time limit and the reaction at a wait', () => {
    const plan = made([program('left', signal(1, 'H1')), program('right', wait(1, 'H1'))], shake('H1'));
    const [found] = nodes(plan, 'wait');
    expect(found!.attributes.get('time-limit')).toBe('60');
    expect(found!.text).toBe('keep holding, stop all robots');
    expect(nodes(plan, 'wait')).toHaveLength(1);
  });
});

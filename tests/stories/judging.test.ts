import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { planSession, type PlanOutcome } from '../../src/session/plan.js';
import { readExpectation } from './expectation.js';
import { storyPlan } from '../support/story-plan.js';
import { differences } from './judging.js';

const text = (path: string): string => readFileSync(new URL(path, import.meta.url), 'utf8');
const programs = await loadLinearPrograms();
const outcomeOf = (story: string): PlanOutcome =>
  planSession(
    {
      weldment: { text: text(`${story}/weldment.yaml`), name: 'weldment.yaml' },
      cell: { text: text('bench.cell.yaml'), name: 'cell.yaml' },
    },
    { programs },
  );

/** An upright plate on a base: held, two sides, no regrip, no tool change. */
const plate = outcomeOf('plate-tacked-on-both-sides');
const expecting = (lines: string) => readExpectation(`why: a wish that does not come true\n${lines}`);

describe('every kind of wish can be disappointed', () => {
  it.each([
    'held: []',
    'held: [base, plate]',
    'stands: { plate: free-standing }',
    'before: [[plate, base]]',
    'regrips: { plate: 1 }',
    'objective: { tool-changes: 1 }',
    'securing: { plate: { at-least: 9 } }',
    'securing: { plate: { at-least: 0, each-side: 9 } }',
    'securing: { base: { at-least: 1 } }',
    'seams-open: { base: [0, 0, 1] }',
    'seams-open: { plate: [0, 1, 0] }',
    'handshakes: [base]',
    'torches-at-once: { plate: [welder, other] }',
    'tacked-by: { plate: { J1.1: other } }',
    'tacked-by: { base: { J1.1: welder } }',
    'faults: { signal-lost: { ends: [drop-zone] } }',
    'faults: { signal-lost: { times: 99, ends: [station, held, standing] } }',
    'drop-zones: [plate]',
    'gives-way: [welder to handler]',
    'repeated: { plate: 99 }',
  ])('of a plan: %s', (line) => {
    expect(differences(plate, expecting(`kind: planned\n${line}`))).toHaveLength(1);
  });

  it('of sides: a joint with one seam has no two sides', () => {
    const wish = expecting('kind: planned\nsecuring: { inner: { at-least: 0, each-side: 0 } }');
    expect(differences(outcomeOf('blind-seam-before-cover'), wish)).toHaveLength(1);
  });

  it.each([
    'scope: any\nreasons: [{ code: no-approach, names: [lying] }]',
    'scope: candidates\nreasons: [{ code: needs, names: [lying] }]',
    'scope: candidates\nreasons: [{ code: no-approach, names: [lying, base] }]',
    'scope: candidates\nno-other-reason: true\nreasons: [{ code: no-approach, names: [lying] }]',
  ])('of reasons: %s', (lines) => {
    expect(differences(outcomeOf('linked-rings'), expecting(`kind: impossible\n${lines}`))).toHaveLength(1);
  });

  it.each(['kind: bad-input\nissues: [x]', 'kind: planned\nheld: []'])('of outcomes: %s', (lines) => {
    expect(differences(outcomeOf('gripper-that-nobody-has'), expecting(lines))).toHaveLength(1);
  });
});

describe('two torches at once', () => {
  const wish = expecting('kind: planned\ntorches-at-once: { plate: [left, right] }');

  it.each([
    [0, 0],
    [100, 1],
  ])('are missed where the arcs of one come later, by %d s', (later, differing) => {
    const { plan } = storyPlan('two-torches-on-opposed-sides', programs);
    for (const { robot, steps } of plan.programs)
      for (const step of steps)
        if (robot === 'right') [step.start, step.end] = [step.start + later, step.end + later];
    const outcome = { kind: 'planned' as const, plan, contacts: undefined, warnings: [] };
    expect(differences(outcome, wish)).toHaveLength(differing);
  });
});

describe('signals around securing tacks', () => {
  const wish = expecting('kind: planned\nhandshakes: [plate]');

  /** The plan of the plate after a change to the steps of one robot. */
  function changed(duty: string, change: (steps: Step[]) => Step[]): PlanOutcome {
    if (plate.kind !== 'planned' || plate.plan.kind !== 'geometric') throw new Error('not planned');
    const plan: GeometricPlan = {
      ...plate.plan,
      programs: plate.plan.programs.map((program) =>
        program.duty === duty ? { ...program, steps: change([...program.steps]) } : program,
      ),
    };
    return { ...plate, plan };
  }

  it('are as wished when nothing is changed', () => {
    expect(
      differences(
        changed('handle', (steps) => steps),
        wish,
      ),
    ).toEqual([]);
  });

  const ofPlate = (step: Step): boolean => !('part' in step) || step.part === 'plate';

  it.each([
    ['handle', 'signal'],
    ['handle', 'await'],
    ['handle', 'hold'],
    ['handle', 'let-go'],
    ['weld', 'await'],
    ['weld', 'tack'],
    ['weld', 'signal'],
  ] as const)('are missed when the %s program lacks its first %s for it', (duty, what) => {
    const without = (steps: Step[]): Step[] =>
      steps.filter((_, i) => i !== steps.findIndex((step) => step.do === what && ofPlate(step)));
    expect(differences(changed(duty, without), wish)).toHaveLength(1);
  });

  it('are missed when the let-go comes before the wait for the tacks', () => {
    const early = (steps: Step[]): Step[] => {
      const letGo = steps.find((step) => step.do === 'let-go' && step.part === 'plate')!;
      const rest = steps.filter((step) => step !== letGo);
      return rest.flatMap((step) => (step.do === 'hold' && step.part === 'plate' ? [step, letGo] : [step]));
    };
    expect(differences(changed('handle', early), wish)).toHaveLength(1);
  });
});

it('a misspelt or empty wish is not read', () => {
  expect(() => expecting('kind: planned\nhold: [plate]')).toThrow('hold');
  expect(() => expecting('kind: planned')).toThrow('says nothing');
});

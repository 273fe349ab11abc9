import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { geometricPlanSchema, type GeometricPlan, type Step } from '../../src/model/plan.js';
import { checkGeometric } from '../../src/rules/check.js';
import { peopleApart } from '../../src/rules/people-apart.js';
import { runOf } from '../../src/rules/program-run.js';
import { exploreRun } from '../../src/rules/run-witness.js';
import { waitLimit } from '../../src/rules/waiting.js';
import { contextOf } from '../support/hand-made-plan.js';
import { storyPlan, type StoryPlan } from '../support/story-plan.js';
import { inPlan, inPrograms, type Mutation } from './mutation.js';

let programs: LinearPrograms;
let sound: StoryPlan;
beforeAll(async () => {
  programs = await loadLinearPrograms();
  sound = storyPlan('a-gusset-set-by-hand', programs);
}, 120_000);

type Manual = Extract<Step, { do: 'manual' }>;

const isManual = (step: Step): step is Manual => step.do === 'manual';
const rulesOf = (mutate: Mutation['mutate']): string[] => {
  const { weldment, cell, plan } = mutate(sound)!;
  const findings = checkGeometric(contextOf(plan, programs, weldment, cell));
  return [...new Set(findings.map(({ rule }) => rule))].sort();
};
const stageOf = (plan: GeometricPlan) => plan.stages.find(({ manual }) => manual !== undefined)!;

describe('a plan with a part set by hand', () => {
  it('breaks no rule, and every handshake is needed', () => {
    expect(rulesOf(inPlan(() => undefined))).toEqual([]);
  });

  it('must not leave the part to the robots in its file', () => {
    const plain = ({ weldment, ...rest }: StoryPlan): StoryPlan => ({
      ...rest,
      weldment: { ...weldment, parts: weldment.parts.map((part) => ({ ...part, manual: undefined })) },
    });
    expect(rulesOf(plain)).toEqual(['manual-stages']);
  });

  it('plans the seconds of the file, in stage and step', () => {
    const shorter = inPrograms((all, plan) => {
      stageOf(plan).manual!.seconds = 100;
      for (const step of all.flatMap(({ steps }) => steps))
        if (isManual(step)) {
          step.planned = 100;
          step.start = step.end - 100;
        }
    });
    expect(rulesOf(shorter)).toContain('manual-stages');
    const stepOnly = inPlan((plan) => {
      plan.programs.flatMap(({ steps }) => steps).find(isManual)!.planned = 100;
    });
    expect(rulesOf(stepOnly)).toEqual(['programs-true', 'timeline-true']);
  });

  it('closes no clamp on a later part', () => {
    const clamped = inPlan((plan) => {
      stageOf(plan).manual!.clamp = 'table-magnets';
      plan.programs.flatMap(({ steps }) => steps).find(isManual)!.clamp = 'table-magnets';
    });
    expect(rulesOf(clamped)).toEqual(['manual-stages']);
  });

  it('names the tacks in the step that the stage has', () => {
    const fewer = inPlan((plan) => {
      plan.programs
        .flatMap(({ steps }) => steps)
        .find(isManual)!
        .tacks.pop();
    });
    expect(rulesOf(fewer)).toEqual(['steps-complete']);
  });

  it('has its tacks by the rules for all others', () => {
    const shorter = inPlan((plan) => {
      stageOf(plan).manual!.tacks[0]!.length /= 2;
    });
    expect(rulesOf(shorter)).toContain('tack-rules');
    const stronger = inPlan((plan) => {
      stageOf(plan).manual!.tacks[0]!.strength *= 2;
    });
    expect(rulesOf(stronger)).toContain('tack-rules');
  });

  it('says how the part stands once the person has left', () => {
    const loose = inPlan((plan) => {
      stageOf(plan).stands = 'clamped';
    });
    expect(rulesOf(loose)).toEqual(['faults-end-safe', 'joined-to-weldment']);
  });

  it('does not let a robot fetch before the person has confirmed', () => {
    const early = inPrograms((all) => {
      const handler = all.find(({ steps }) => steps.some(isManual))!;
      const at = handler.steps.findIndex(isManual);
      const next = handler.steps.slice(at + 1).find((step) => step.do === 'move')!;
      const [moved] = handler.steps.splice(at, 1);
      handler.steps.splice(handler.steps.indexOf(next) + 1, 0, moved!);
    });
    expect(rulesOf(early)).toContain('programs-true');
  });
});

describe('people apart', () => {
  /** The welding robot cleans its nozzle for a later stage before it waits, and so perhaps while the person is there. */
  const unguarded = (plan: GeometricPlan): GeometricPlan => {
    const spoiled = structuredClone(plan);
    const { number } = stageOf(spoiled);
    const { steps } = spoiled.programs.find(({ duty }) => duty === 'weld')!;
    const wait = steps.findIndex(({ do: what, stage }) => what === 'await' && stage > number);
    const { n, stage, start } = steps[wait]!;
    steps.splice(wait, 0, { do: 'clean-nozzle', n, stage, start, end: start });
    return spoiled;
  };

  it('is broken by a robot that begins a later stage, as both witnesses say', () => {
    const { weldment, cell, plan } = sound;
    const spoiled = unguarded(plan);
    const findings = checkGeometric(contextOf(spoiled, programs, weldment, cell));
    const told = findings.find(
      ({ rule, message }) => rule === 'handshakes-safe' && message.includes('still while'),
    );
    expect(told?.message).toBe('nothing keeps welder still while a person sets gusset in stage 3');
    expect(exploreRun(runOf(spoiled))).toMatchObject({
      verdict: 'violated',
      problem: 'welder does something while a person is at work',
    });
  });

  it('lets a robot stand only between the end of earlier stages and the begin of later ones', () => {
    const run = runOf(sound.plan);
    const [{ manual, rests } = {}] = peopleApart(run);
    expect(manual).toMatchObject({ part: 'gusset', stage: 3 });
    expect(rests).toHaveLength(1);
    const { program, from, to } = rests![0]!;
    const { steps } = run.robots[program]!;
    const { first, last } = run.programs[program]!;
    expect(steps[last.indexOf(from - 1)]).toMatchObject({ do: 'leave', stage: 2 });
    expect(steps[first.indexOf(to)]!.stage).toBe(4);
  });
});

describe('the time limit of a wait', () => {
  const people = [
    { number: 2, seconds: 100 },
    { number: 4, seconds: 30 },
  ];
  const enter = { do: 'enter', n: 1, zone: 'work', stage: 1 } as const;

  it('grows by the seconds of the people through whose stages it may last', () => {
    expect(waitLimit(60, people, [enter], 1)).toBe(60);
    expect(waitLimit(60, people, [enter], 2)).toBe(160);
    expect(waitLimit(60, people, [enter], 5)).toBe(190);
    expect(waitLimit(60, people, [{ ...enter, stage: 3 }], 4)).toBe(90);
    expect(waitLimit(60, people, [], 1)).toBe(60);
  });
});

describe('the schema of a stage', () => {
  const told = (change: (plan: GeometricPlan) => void): string[] => {
    const plan = structuredClone(sound.plan);
    change(plan);
    return (geometricPlanSchema.safeParse(plan).error?.issues ?? []).map(
      ({ path, message }) => `${path.slice(2).join('.')} ${message}`,
    );
  };

  it('has robots or a person, never both or neither', () => {
    expect(told(() => undefined)).toEqual([]);
    expect(told((plan) => (stageOf(plan).robot = 'handler'))).toEqual([
      'robot must be null in a stage that is `manual`',
    ]);
    expect(told((plan) => (stageOf(plan).tacks = plan.stages[1]!.tacks))).toEqual([
      'tacks must be empty in a stage that is `manual`',
    ]);
    expect(told((plan) => delete stageOf(plan).manual)).toEqual([
      'robot must be given in a stage that is not `manual`',
      'approach must be given in a stage that is not `manual`',
      'handling must be given in a stage that is not `manual`',
    ]);
  });
});

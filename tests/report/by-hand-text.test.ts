import { beforeAll, describe, expect, it } from 'vitest';
import { stepLines } from '../../examples/generator/step-lines.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { dryRunSchema } from '../../src/model/dry-run.js';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { buildScene } from '../../src/model/scene.js';
import { checklistText } from '../../src/report/checklist-text.js';
import { dryRun } from '../../src/report/dry-run.js';
import { planPictures } from '../../src/report/pictures.js';
import { planText } from '../../src/report/plan-text.js';
import { storyPlan, type StoryPlan } from '../support/story-plan.js';

let told: StoryPlan;
let plan: GeometricPlan;
let manual: Extract<Step, { do: 'manual' }>;
beforeAll(async () => {
  told = storyPlan('a-gusset-set-by-hand', await loadLinearPrograms());
  ({ plan } = told);
  manual = plan.programs.flatMap(({ steps }) => steps).find((step) => step.do === 'manual') as typeof manual;
}, 120_000);

const words = (text: string): string => text.replace(/\s+/g, ' ');

describe('a plan with a part set by hand', () => {
  it('says in its text who sets it, for how long, with which tacks', () => {
    const text = planText(plan);
    expect(text).toMatch(/^ +3 +gusset +a person, 240 s, 4 +by a person, then/m);
    expect(words(text)).toContain('by hand: J2.1 10-50, J2.2 10-50, J3.1 10-50,');
    expect(words(text)).toContain('the person does not confirm');
    expect(words(text)).toContain('m set by hand');
    expect(text).toMatch(/^robot .* by hand .*\n.*\nwelder|^robot .* by hand /m);
  });

  it('has the step in its checklist, with a stop where nothing is tacked', () => {
    const text = words(checklistText(plan));
    expect(text).toMatch(/a person: set gusset by hand, lay 4 tacks,/);
    expect(text).toMatch(/STOP without tacks: no tack holds/);
  });

  it('keeps the step in a first try without arc', () => {
    const tried = dryRun(plan);
    expect(dryRunSchema.safeParse(tried).error).toBeUndefined();
    const steps = tried.programs.flatMap((program) => program.steps);
    expect(steps.filter((step) => step.do === 'manual')).toHaveLength(1);
    expect(tried.stops.map(({ step }) => step)).toContain(manual.n);
  });

  it('becomes lines of the small generator', () => {
    expect(stepLines(manual, plan)).toEqual([
      'let a person set part "gusset", all robots at home, stopped and empty-handed',
      ...manual.tacks.map((tack) => `  the person lays tack "${tack}"`),
      '  go on when: confirmed by the person from outside the work zone, planned after 240 s',
    ]);
    expect(stepLines({ ...manual, clamp: 'vise', tacks: [] }, plan)[1]).toBe(
      '  the person closes clamp "vise"',
    );
  });

  it('is drawn without a way that the part comes, and with the tacks of the person', () => {
    const scene = buildScene(told.weldment, told.cell, plan.settings);
    const pictures = planPictures(plan, scene);
    expect(pictures[3]!.svg).toContain('Stage 3: gusset joins');
    expect(pictures[3]!.svg).toContain('by a person, then tacked; 4 tacks');
    expect(pictures[3]!.svg).not.toContain('comes from');
    expect(pictures[4]!.svg).toContain('comes from');
  });
});

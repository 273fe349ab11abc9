import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Answer } from '../../src/explain/why/answer.js';
import { canonicalText } from '../../src/io/canonical.js';
import type { AbstractPlan } from '../../src/model/plan.js';
import { readInputs, type Source } from '../../src/session/inputs.js';
import { planSession } from '../../src/session/plan.js';
import { quickAnswers } from '../../src/session/quick-why.js';
import { reportPlan, type ReportOutcome } from '../../src/session/report.js';
import { whySession } from '../../src/session/why.js';
import { tagsOf, textIn, valuesIn } from '../report/page/markup.js';
import { ASSETS } from '../report/page/page-of.js';

const path = '../../examples/ring-of-six/ring-of-six.weldment.yaml';
const weldment: Source = {
  text: readFileSync(new URL(path, import.meta.url), 'utf8'),
  name: 'ring-of-six.weldment.yaml',
};

let programs: LinearPrograms;
let plan: AbstractPlan;
let source: Source;
beforeAll(async () => {
  programs = await loadLinearPrograms();
  const outcome = planSession({ weldment }, { programs });
  if (outcome.kind !== 'planned' || outcome.plan.kind !== 'abstract') throw new Error(outcome.kind);
  ({ plan } = outcome as { readonly plan: AbstractPlan });
  source = { text: canonicalText(plan), name: 'ring-of-six.plan.json' };
});

const report = (answers?: Source, why = true): ReportOutcome =>
  reportPlan(source, { weldment, answers }, { programs, assets: ASSETS, judge: true, why });

const pageIn = (outcome: ReportOutcome): string => {
  if (outcome.kind !== 'reported' || outcome.page === undefined)
    throw new Error(JSON.stringify(outcome).slice(0, 500));
  return outcome.page;
};

describe('the page of a weldment without shapes', () => {
  it('has its stages with the numbers of the plan, and nothing that needs shapes', () => {
    const page = pageIn(report());
    expect(textIn(page, 'first')).toContain('none is broken');
    const terms = plan.objective.flatMap(({ value, bound }) => [value, bound]);
    const stages = plan.stages.flatMap(({ regrips, tacks, seconds }) => [regrips, tacks, seconds]);
    expect(valuesIn(page, 'proved')).toEqual([...terms, ...stages]);
    const ids = tagsOf(page).map(({ attributes }) => attributes.get('id'));
    expect(ids).not.toContain('sheets');
    expect(ids).not.toContain('handshakes');
  });
});

describe('what of a plan is forced', () => {
  const told = (): readonly Answer[] => {
    const { inputs } = readInputs({ weldment });
    return quickAnswers(plan, inputs!, programs);
  };

  it('is what the files say, and all of it is what asking says', () => {
    const answers = told();
    expect(answers.length).toBeGreaterThan(0);
    const asked = whySession(
      source,
      { weldment },
      answers.map(({ question }) => question),
      { programs },
    );
    expect(asked.kind === 'answered' && asked.answers).toEqual(answers);
    expect(new Set(answers.map(({ verdict }) => verdict.kind))).toEqual(new Set(['forced']));
  });

  it('leaves out what follows from other pairs', () => {
    const pairs = told().flatMap(({ has }) => (has.of === 'before' ? [[has.first, has.second]] : []));
    for (const [first, second] of pairs)
      for (const [from, to] of pairs)
        if (from === first) expect(pairs).not.toContainEqual([to === second ? 'nobody' : to, second]);
  });

  it('stands beside the stages, unless it is not wanted', () => {
    expect(textIn(pageIn(report()), 'proved')).toContain('What rules it out:');
    expect(textIn(pageIn(report(undefined, false)), 'proved')).not.toContain('What rules it out:');
  });
});

describe('answers that are given', () => {
  const file = (value: unknown): Source => ({ text: JSON.stringify(value), name: 'why.json' });
  const answersTo = (part: string): unknown => {
    const asked = whySession(source, { weldment }, [{ ask: 'not-first', part }], { programs });
    if (asked.kind !== 'answered') throw new Error(asked.kind);
    return JSON.parse(canonicalText({ kind: asked.kind, answers: asked.answers }));
  };
  const linesOf = (outcome: ReportOutcome): readonly string[] =>
    outcome.kind === 'bad-input' ? outcome.issues.map(({ path: at, problem }) => `${at}: ${problem}`) : [];

  it('are shown beside the stage of the part', () => {
    const last = plan.stages.at(-1)!.part;
    const page = pageIn(report(file(answersTo(last))));
    expect(textIn(page, 'proved')).toContain(`Why is ${last} not the first part?`);
  });

  it('must be about this plan', () => {
    const answers = answersTo(plan.stages.at(-1)!.part) as { answers: { has: { stage: number } }[] };
    answers.answers[0]!.has.stage = 2;
    expect(linesOf(report(file(answers)))).toEqual(['answers[0]: answers a question about another plan']);
  });

  it('are refused with a line for each thing that is wrong, whatever the file is', () => {
    const wrong = { kind: 'answered', answers: [{ question: { ask: 'why' }, has: {}, verdict: {} }] };
    expect(linesOf(report(file(wrong))).length).toBeGreaterThan(1);
    for (const value of [null, 7, [], {}, { kind: 'impossible' }, { kind: 'answered', answers: {} }])
      expect(report(file(value)).kind).toBe('bad-input');
    expect(report({ text: '{', name: 'why.json' }).kind).toBe('bad-input');
  });
});

import { beforeAll, describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import type { Answer } from '../../src/explain/why/answer.js';
import { canonicalText } from '../../src/io/canonical.js';
import { keepsWish } from '../../src/rules/wish-kept.js';
import { wishStages } from '../../src/rules/wishes-true.js';
import { planSession } from '../../src/session/plan.js';
import { whySession } from '../../src/session/why.js';
import { ENOUGH_STEPS, exampleWith, inputsOf, planIn, Planner, sourcesOf } from '../support/planned.js';
import { everyQuestion } from './why-questions.js';

let planner: Planner;
beforeAll(async () => {
  planner = await Planner.load();
});

/** Three plates of the roller stand: one lies on the table, two stand on it and against each other. */
const files = exampleWith('roller-stand', 'base', 'cheek-left', 'gusset');

describe('why, of weldments with shapes', () => {
  it('answers every choice, each price as two solved plans differ', () => {
    const { programs } = planner;
    const sources = sourcesOf(files);
    const given = planner.plan(files);
    const source = { text: canonicalText(given), name: 'p.json' };
    const questions = everyQuestion(given, inputsOf(files).weldment);
    const outcome = whySession(source, sources, questions, { programs });
    if (outcome.kind !== 'answered') throw new Error(JSON.stringify(outcome));
    expect(outcome.answers).toHaveLength(questions.length);
    const kinds = outcome.answers.map((answer) => answer.verdict.kind);
    for (const kind of kinds) expect(['forced', 'choice', 'equal', 'better', 'refused']).toContain(kind);
    const priced = outcome.answers.find(({ verdict }) => verdict.kind === 'choice')!;
    const wishes = { text: stringify({ wishes: [priced.wish] }), name: 'settings.yaml' };
    const other = planIn(planSession({ ...sources, settings: wishes }, { programs, steps: ENOUGH_STEPS }));
    expect(keepsWish(priced.wish!, wishStages(other))).toBe(true);
    const differing = given.objective.flatMap(({ term, value }, i) =>
      value === other.objective[i]!.value ? [] : [{ term, given: value, wished: other.objective[i]!.value }],
    );
    expect((priced.verdict as Answer['verdict'] & { kind: 'choice' }).price.terms).toEqual(differing);
  }, 900_000);
});

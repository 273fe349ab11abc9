import { beforeAll, describe, expect, it } from 'vitest';
import { canonicalText } from '../../src/io/canonical.js';
import type { Question } from '../../src/explain/why/question.js';
import { exampleWith, inputsOf, Planner, sourcesOf } from '../support/planned.js';
import { askedAll, confirmAnswer } from './why-confirmed.js';
import { everyQuestion } from './why-questions.js';

let planner: Planner;
beforeAll(async () => {
  planner = await Planner.load();
});

/** Three plates of the roller stand: one lies on the table, two stand on it and against each other. */
const files = exampleWith('roller-stand', 'base', 'cheek-left', 'gusset');
const sources = sourcesOf(files);

describe('why, of weldments with shapes', () => {
  it('answers every choice, each price as two solved plans differ', () => {
    const { programs } = planner;
    const given = planner.plan(files);
    const told = askedAll(given, sources, everyQuestion(given, inputsOf(files).weldment), programs);
    for (const answer of told.answers) confirmAnswer(given, sources, answer, told, programs);
    const kinds = told.answers.map(({ verdict }) => verdict.kind);
    for (const kind of ['forced', 'choice']) expect(kinds).toContain(kind);
  }, 900_000);

  it('answers alone as among others, with the same other plan', () => {
    const { programs } = planner;
    const given = planner.plan(files);
    const questions: Question[] = [
      { ask: 'grip', part: 'gusset' },
      { ask: 'grip', part: 'base' },
      { ask: 'tack', tack: given.stages[1]!.tacks[0]!.id },
    ];
    const together = askedAll(given, sources, questions, programs);
    for (const [i, question] of questions.entries()) {
      const alone = askedAll(given, sources, [question], programs);
      expect(alone.answers[0]).toEqual(together.answers[i]);
      expect(canonicalText(alone.others.get(question)!)).toBe(canonicalText(together.others.get(question)!));
    }
  }, 900_000);
});

import { beforeAll, describe, it } from 'vitest';
import { example, inputsOf, Planner, sourcesOf, type ExampleName } from '../support/planned.js';
import { askedAll, confirmAnswer, drawn } from './why-confirmed.js';
import { everyQuestion } from './why-questions.js';

let planner: Planner;
beforeAll(async () => {
  planner = await Planner.load();
});

/**
 * How many questions about each are drawn here, and by which seed; `benchmarks/why-choices.ts` asks all of them. The others take
 * a minute and more of the processor to be planned, before anything is asked.
 */
const DRAWN: readonly (readonly [ExampleName, number, number])[] = [
  ['roller-stand', 3, 1],
  ['box-beam', 2, 2],
];

describe('why, of the examples', () => {
  it.each(DRAWN)(
    '%s answers %i questions that are drawn, each price as two solved plans differ',
    (name, count, seed) => {
      const { programs } = planner;
      const files = example(name);
      const given = planner.plan(files);
      const questions = drawn(everyQuestion(given, inputsOf(files).weldment), count, seed);
      const told = askedAll(given, sourcesOf(files), questions, programs);
      for (const answer of told.answers) confirmAnswer(given, sourcesOf(files), answer, told, programs);
    },
    1_800_000,
  );
});

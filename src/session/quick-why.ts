import type { LinearPrograms } from '../algorithms/linear-program.js';
import type { Answer } from '../explain/why/answer.js';
import { askedOf } from '../explain/why/opposite.js';
import type { Question } from '../explain/why/question.js';
import type { Facts } from '../facts/facts.js';
import type { Plan, Stage } from '../model/plan.js';
import { factsOf } from '../planning/plan.js';
import type { Inputs } from './inputs.js';
import { quickVerdict } from './why-facts.js';

/** That one part joins before another, by their places in the order, from 0. */
interface Before {
  readonly sooner: number;
  readonly later: number;
  readonly answer: Answer;
}

/** That a part comes first by the files puts it before every other: once is enough. */
const saysFirstAgain = ({ sooner, later, answer: { verdict } }: Before): boolean =>
  sooner === 0 &&
  later > 1 &&
  verdict.kind === 'forced' &&
  verdict.reasons.every(({ code }) => code === 'first');

/** The pairs that do not follow from others. */
const direct = (pairs: readonly Before[]): readonly Before[] =>
  pairs.filter(
    (pair) =>
      !saysFirstAgain(pair) &&
      !pairs.some(
        (one) =>
          one.sooner === pair.sooner &&
          pairs.some((two) => two.sooner === one.later && two.later === pair.later),
      ),
  );

/** What may be asked of every stage by itself: its grip, its regrips, its hold. */
const ofStages = (stages: readonly Pick<Stage, 'number' | 'part'>[]): readonly Question[] =>
  stages.flatMap(({ number, part }): Question[] => [
    { ask: 'grip', part },
    { ask: 'regrip', part },
    { ask: 'hold', stage: String(number) },
  ]);

/**
 * What of a plan is forced by a relation of the files or by one fact alone, so that no planning is needed to say so: which
 * part joins before which, leaving out what follows from other such pairs, then grip, regrips and hold of each part. What
 * is a choice, or forced by several things together, is not among them.
 */
export function quickAnswers(plan: Plan, inputs: Inputs, programs: LinearPrograms): readonly Answer[] {
  const planned: Inputs = { ...inputs, settings: plan.settings };
  let made: Facts | undefined;
  const facts = (): Facts | undefined => (made ??= madeFacts(planned, programs));
  const known = new Set(inputs.weldment.parts.map(({ id }) => id));
  const answer = (question: Question): Answer[] => {
    const asked = askedOf(plan, question);
    if (asked.kind !== 'opposite') return [];
    const verdict = quickVerdict(planned, question, asked.wish, facts);
    return verdict ? [{ question, has: asked.has, wish: asked.wish, verdict }] : [];
  };
  // Also of a plan that nobody judged, which may name what is not there.
  const stages = plan.stages.filter(({ part }) => known.has(part));
  const parts = [...new Set(stages.map(({ part }) => part))];
  const pairs = parts.flatMap((second, later) =>
    parts.slice(0, later).flatMap((first, sooner): Before[] => {
      const [one] = answer({ ask: 'before', first, second });
      return one ? [{ sooner, later, answer: one }] : [];
    }),
  );
  return [...direct(pairs).map((pair) => pair.answer), ...ofStages(stages).flatMap(answer)];
}

const madeFacts = ({ weldment, cell, settings }: Inputs, programs: LinearPrograms): Facts | undefined =>
  weldment.kind === 'geometric' && cell ? factsOf(weldment, cell, settings, programs) : undefined;

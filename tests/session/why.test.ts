import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Answer } from '../../src/explain/why/answer.js';
import type { Question } from '../../src/explain/why/question.js';
import { canonicalText } from '../../src/io/canonical.js';
import type { AbstractPlan } from '../../src/model/plan.js';
import type { ReasonFact } from '../../src/model/reason-fact.js';
import type { Refusal } from '../../src/model/verdict.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import { abstractWishStages } from '../../src/rules/wishes-true.js';
import { keepsWish } from '../../src/rules/wish-kept.js';
import type { Source } from '../../src/session/inputs.js';
import { planInputs, planSession, type PlanOutcome } from '../../src/session/plan.js';
import { whySession, type WhyOptions } from '../../src/session/why.js';
import { randomAbstract } from '../planning/abstract-samples.js';
import { everyQuestion } from './why-questions.js';

const SHAPE = { parts: 5, grippers: 3, ways: 2, relations: 0.2, backwards: 0, contacts: 0.6 };

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

const RING: Source = {
  text: readFileSync(
    new URL('../../examples/ring-of-six/ring-of-six.weldment.yaml', import.meta.url),
    'utf8',
  ),
  name: 'ring.yaml',
};

const settingsWith = (wish: object): Source => ({
  text: JSON.stringify({ wishes: [wish] }),
  name: 'settings.json',
});

const planOf = (outcome: PlanOutcome): AbstractPlan => {
  if (outcome.kind !== 'planned' || outcome.plan.kind !== 'abstract') throw new Error(outcome.kind);
  return outcome.plan;
};

const sourceOf = (plan: object): Source => ({ text: canonicalText(plan), name: 'p.json' });

function answers(
  plan: object,
  weldment: Source,
  questions: readonly Question[],
  options: Partial<WhyOptions> = {},
): readonly Answer[] {
  const outcome = whySession(sourceOf(plan), { weldment }, questions, { programs, ...options });
  if (outcome.kind !== 'answered') throw new Error(JSON.stringify(outcome));
  return outcome.answers;
}

/** The file of a weldment without shapes. */
const fileOf = ({ parts, contacts, joints, blocking, needs, first, times }: AbstractWeldment): Source => ({
  text: JSON.stringify({
    ...{ weldment: 'sample', units: 'mm kg N s deg', contacts, joints, blocking, needs, first },
    parts: Object.fromEntries(parts.map(({ id, ways }) => [id, ways.length === 0 ? {} : { ways }])),
    times: { tack: times.tack, 'tool-change': times.toolChange },
  }),
  name: 'sample.json',
});

/** Plans what was wished by a settings file, as a user would, and compares it with the answer. */
function confirm(weldment: Source, given: AbstractPlan, { wish, verdict, question }: Answer): string {
  const other = planSession({ weldment, settings: settingsWith(wish!) }, { programs });
  const about = JSON.stringify(question);
  if (verdict.kind === 'forced') {
    expect(other.kind, about).toBe('impossible');
    return verdict.kind;
  }
  const { objective, stages, kind } = planOf(other);
  expect(keepsWish(wish!, abstractWishStages({ stages })), `${about} ${kind}`).toBe(true);
  if (!('price' in verdict)) throw new Error(`${about}: ${verdict.kind}`);
  const prices = given.objective.flatMap(({ term, value }, i) => {
    const wished = objective[i]!.value;
    return value === wished ? [] : [{ term, given: value, wished }];
  });
  expect(verdict.price.terms, about).toEqual(prices);
  expect(verdict.price.exact, about).toBe(true);
  expect(verdict.kind, about).toBe(prices.length === 0 ? 'equal' : 'choice');
  return verdict.kind;
}

describe('why, of weldments without shapes', () => {
  it('answers every choice of ring-of-six, each price as two solved plans differ', () => {
    const given = planOf(planSession({ weldment: RING }, { programs }));
    const inputs = {
      needs: [{ part: 'd', after: ['a'] }],
      blocking: [{ part: 'b', by: ['c'] }],
      first: undefined,
    };
    const kinds = answers(given, RING, everyQuestion(given, inputs)).map((answer) =>
      confirm(RING, given, answer),
    );
    expect(new Set(kinds)).toEqual(new Set(['forced', 'choice', 'equal']));
  });

  it('answers every choice of random weldments, each price as two solved plans differ', () => {
    const kinds = new Map<string, number>();
    for (let seed = 1; seed <= 40; seed += 1) {
      const weldment = randomAbstract(seed, SHAPE);
      const file = fileOf(weldment);
      const outcome = planSession({ weldment: file }, { programs });
      if (outcome.kind !== 'planned') continue;
      const given = planOf(outcome);
      for (const answer of answers(given, file, everyQuestion(given, weldment))) {
        if (answer.verdict.kind === 'not-so') continue;
        const kind = confirm(file, given, answer);
        kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
      }
    }
    for (const kind of ['forced', 'choice', 'equal']) expect(kinds.get(kind)).toBeGreaterThan(10);
  });

  it('gives the reasons of the files without the wish that the question is', () => {
    const given = planOf(planSession({ weldment: RING }, { programs }));
    const questions: Question[] = [
      { ask: 'before', first: 'b', second: 'c' },
      { ask: 'before', first: 'a', second: 'd' },
      { ask: 'not-first', part: 'c' },
      { ask: 'grip', part: 'b' },
    ];
    const reasons = answers(given, RING, questions).map(({ verdict }) =>
      verdict.kind === 'forced' ? verdict.reasons.map(({ code, subjects }) => [code, ...subjects]) : [],
    );
    expect(reasons).toEqual([
      [['blocking', 'b', 'c']],
      [['needs', 'd', 'a']],
      [['blocking', 'b', 'c']],
      [['only-way', 'b', 'narrow']],
    ]);
  });

  it('keeps a wish of the files about the same part among the reasons', () => {
    const ways = ['g', 'h'].map((gripper) => ({ gripper, seconds: 1 }));
    const file = {
      ...{ weldment: 'pinned', units: 'mm kg N s deg', parts: { a: { ways }, b: {} } },
      wishes: [{ grip: 'a', gripper: 'h' }],
    };
    const weldment = { text: JSON.stringify(file), name: 'pinned.json' };
    const plan = planOf(planSession({ weldment }, { programs }));
    const [answer] = answers(plan, weldment, [{ ask: 'grip', part: 'a' }]);
    expect(answer!.verdict).toMatchObject({ kind: 'forced', reasons: [{ code: 'wish', fact: { wish: 0 } }] });
  });

  it('says what the plan has where it does not have what is asked about', () => {
    const given = planOf(planSession({ weldment: RING }, { programs }));
    const asked = answers(given, RING, [
      { ask: 'before', first: 'c', second: 'b' },
      { ask: 'not-first', part: 'b' },
      { ask: 'regrip', part: 'b' },
    ]);
    expect(asked.map(({ verdict }) => verdict.kind)).toEqual(['not-so', 'not-so', 'not-so']);
    expect(asked[0]!.has).toEqual({ of: 'before', first: 'c', second: 'b', stages: [2, 1] });
  });
});

describe('why, whatever planning comes to', () => {
  const given = (): AbstractPlan => planOf(planSession({ weldment: RING }, { programs }));
  const asking: Question = { ask: 'not-first', part: 'a' };
  const verdictOf = (outcome: PlanOutcome): Answer['verdict'] =>
    answers(given(), RING, [asking], { plan: () => outcome })[0]!.verdict;
  const planned = (change: (plan: AbstractPlan) => void): PlanOutcome => {
    const plan = structuredClone(given());
    change(plan);
    return { kind: 'planned', plan, contacts: undefined, warnings: [] };
  };

  it('says what is proved where the budget ended, and that it is forced where every order fell', () => {
    const none = { kind: 'none-found', states: 7, refused: 2, reasons: [], bound: [], warnings: [] } as const;
    expect(verdictOf({ ...none, exhausted: true }).kind).toBe('forced-in-orders');
    // The plan has 1 tool change, which is proved least.
    expect(verdictOf({ ...none, exhausted: false }).kind).toBe('open');
    const bound = [
      { term: 'regrips', value: 0 },
      { term: 'tool-changes', value: 2 },
    ] as const;
    expect(verdictOf({ ...none, bound, exhausted: false })).toMatchObject({
      kind: 'dearer',
      atLeast: { term: 'tool-changes', value: 1 },
    });
  });

  it('leaves parts out of what was open that only the question keeps away', () => {
    const wish = { kind: 'wish', part: 'c', wish: 0 } as const;
    const fact = { kind: 'reserve', part: 'd' } as const;
    const none = { kind: 'none-found', states: 7, refused: 0, reasons: [], bound: [], warnings: [] } as const;
    const reason = (one: ReasonFact): Refusal => ({ code: 'any', subjects: [], fact: one });
    const left = [
      { part: 'c', reasons: [reason(wish)] },
      { part: 'd', reasons: [reason(wish), reason(fact)] },
      { part: 'e', reasons: [] },
    ];
    const verdict = verdictOf({ ...none, exhausted: false, deepest: { inPlace: [], left } });
    const told = 'deepest' in verdict ? verdict.deepest?.left : undefined;
    expect(told?.map(({ part, reasons }) => [part, reasons.length])).toEqual([
      ['d', 1],
      ['e', 0],
    ]);
  });

  it('says that a plan is not the best one', () => {
    const verdict = verdictOf(planned(({ objective }) => (objective[2]!.value -= 10)));
    expect(verdict.kind).toBe('better');
  });

  it('states a bound where the other plan is not proved', () => {
    const verdict = verdictOf(
      planned((plan) => {
        plan.objective[2] = { term: 'time', value: 1600, bound: 1580 };
        plan.proof.provedTerms = ['regrips', 'tool-changes'];
      }),
    );
    expect(verdict).toMatchObject({ kind: 'choice', price: { exact: false, atLeast: 30 } });
  });

  it('knows no bound where an earlier term of neither plan is proved', () => {
    const unproved = given();
    unproved.proof.provedTerms = [];
    unproved.proof.outcome = 'feasible';
    unproved.objective[0]!.bound = 0;
    unproved.objective[1]!.bound = 0;
    const other = planned((plan) => {
      plan.objective[1] = { term: 'tool-changes', value: 2, bound: 1 };
      plan.objective[2] = { term: 'time', value: 1500, bound: 1490 };
      plan.proof.provedTerms = [];
    });
    const [answer] = answers(unproved, RING, [asking], { plan: () => other });
    expect(answer!.verdict).toMatchObject({ kind: 'choice', price: { exact: false, atLeast: null } });
  });

  it('plans with the settings of the plan, the wish after their wishes, and its budget unless steps are given', () => {
    const plan = planOf(
      planSession(
        { weldment: RING, settings: settingsWith({ first: 'b', soft: true }) },
        { programs, steps: 500, seconds: 9, clock: () => 0 },
      ),
    );
    const settingsOf = (options: Partial<WhyOptions>): unknown => {
      let seen: unknown;
      answers(plan, RING, [asking], {
        ...options,
        plan: ({ settings }) => {
          seen = settings;
          return {
            ...{ kind: 'none-found', states: 0, refused: 0, reasons: [], warnings: [] },
            ...{ exhausted: false, bound: [] },
          };
        },
      });
      return seen;
    };
    const wish = { first: 'a', never: false, soft: false, weight: 1 };
    const wishes = [...plan.settings.wishes!, wish];
    const within = (budget: object): object => ({ ...plan.settings, budget, wishes });
    expect(settingsOf({})).toEqual(within({ steps: 500, seconds: 9 }));
    expect(settingsOf({ seconds: 3 })).toEqual(within({ steps: 500, seconds: 3 }));
    expect(settingsOf({ steps: 40 })).toEqual(within({ steps: 40 }));
    expect(settingsOf({ steps: 40, seconds: 3 })).toEqual(within({ steps: 40, seconds: 3 }));
  });

  it('answers the questions that it can, and says in one line each what is wrong with the others', () => {
    const good: Question = { ask: 'before', first: 'b', second: 'c' };
    const asked: Question[] = [{ ask: 'grip', part: 'lid' }, good, { ask: 'hold', stage: '1' }, asking];
    const outcome = whySession(sourceOf(given()), { weldment: RING }, asked, { programs });
    if (outcome.kind !== 'answered') throw new Error(outcome.kind);
    expect(outcome.answers.map(({ question }) => question)).toEqual([good, asking]);
    expect(outcome.issues.map(({ code }) => code)).toEqual(['unknown-part', 'no-shapes']);
    expect(outcome.left).toBe(0);
  });

  it('gives the answers so far when it is stopped, and none of a question that was being planned', () => {
    const asked: Question[] = [{ ask: 'before', first: 'b', second: 'c' }, asking, asking];
    const seen: number[] = [];
    let planning = false;
    const outcome = whySession(sourceOf(given()), { weldment: RING }, asked, {
      programs,
      stopRequested: () => planning,
      onProgress: ({ done, of }) => seen.push(done / of),
      plan: (inputs, options) => {
        planning = true;
        return planInputs(inputs, options);
      },
    });
    if (outcome.kind !== 'answered') throw new Error(outcome.kind);
    expect(outcome.answers.map(({ question }) => question)).toEqual(asked.slice(0, 1));
    expect(outcome.left).toBe(2);
    expect(seen).toEqual([0, 1 / 3]);
  });

  it('answers alone as among others', () => {
    const relations = {
      needs: [{ part: 'd', after: ['a'] }],
      blocking: [{ part: 'b', by: ['c'] }],
      first: undefined,
    };
    const asked = everyQuestion(given(), relations);
    const together = answers(given(), RING, asked);
    for (const [i, question] of asked.entries())
      expect(answers(given(), RING, [question])).toEqual([together[i]]);
  });

  it('hands on what planning refuses', () => {
    const run = (plan: PlanOutcome): string =>
      whySession(sourceOf(given()), { weldment: RING }, [asking], { programs, plan: () => plan }).kind;
    expect(run({ kind: 'bad-input', issues: [] })).toBe('bad-input');
    expect(run({ kind: 'defect', findings: [] })).toBe('defect');
  });

  it('refuses a plan for other files in one line, and one that breaks a rule', () => {
    const other = { ...RING, text: RING.text.replace('mass: 2.0', 'mass: 2.5') };
    const findings = (plan: object, weldment: Source): readonly string[] => {
      const outcome = whySession(sourceOf(plan), { weldment }, [asking], { programs });
      return outcome.kind === 'ill-founded' ? outcome.findings.map(({ rule }) => rule) : [outcome.kind];
    };
    expect(findings(given(), other)).toEqual(['inputs-true']);
    const broken = given();
    broken.objective[0]!.value = 4;
    expect(findings(broken, RING)).toContain('objective-true');
  });

  it('tells in one line of what the plan does not have', () => {
    const issues = (question: Question): readonly string[] => {
      const outcome = whySession(sourceOf(given()), { weldment: RING }, [question], { programs });
      return outcome.kind === 'bad-input'
        ? outcome.issues.map(({ code, problem }) => `${code}: ${problem}`)
        : [];
    };
    expect(issues({ ask: 'grip', part: 'lid' })).toEqual(['unknown-part: the plan has no part "lid"']);
    expect(issues({ ask: 'hold', stage: '1' })).toEqual([
      'no-shapes: the parts of the plan have no shapes, so that it has no holds to ask about',
    ]);
  });
});

import { describe, expect, it } from 'vitest';
import { weighed, type Answer, type Reason, type Verdict } from '../../src/explain/why/answer.js';
import type { Terms } from '../../src/explain/why/open.js';
import type { Holds } from '../../src/explain/why/holds.js';
import type { Has } from '../../src/explain/why/opposite.js';
import type { Question } from '../../src/explain/why/question.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { answersText, answerText } from '../../src/report/why-text.js';
import { planA } from '../explain/difference-plans.js';

const asked: Question = { ask: 'before', first: 'wall', second: 'rib' };
const has: Has = { of: 'before', first: 'wall', second: 'rib', stages: [2, 3] };
const text = (verdict: Verdict): string => answerText({ question: asked, has, verdict });

/** The plan and another one: objective values and bounds in the order regrips, tool changes, time, and how many are proved. */
function against(
  given: readonly number[],
  other: readonly number[],
  bounds: readonly number[],
  proved: number,
): Verdict {
  const plan = (values: readonly number[], leading: number): GeometricPlan => {
    const made = planA();
    made.objective = made.objective.map(({ term }, i) => ({ term, value: values[i]!, bound: bounds[i]! }));
    made.proof.provedTerms = made.objective.slice(0, leading).map(({ term }) => term);
    return made;
  };
  return weighed(plan(given, given.length), plan(other, proved));
}

describe('answersText', () => {
  it('tells a choice whose price is proved, with what else is different', () => {
    const verdict = against([1, 0, 1200], [2, 0, 1150], [2, 0, 1150], 3);
    expect(text(verdict)).toMatchInlineSnapshot(`
      "Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      A choice: it saves 1 regrip against the best plan with rib before wall. That is proved: no such plan does with
      less. Of the terms that count after it, the other has 5 s less.
        the plan:  1 regrip, 0 tool changes, 2 min 0 s (proved least)
        the other: 2 regrips, 0 tool changes, 1 min 55 s (proved least)
      "
    `);
  });

  it('tells a choice with a bound', () => {
    expect(text(against([1, 0, 1200], [1, 0, 1300], [1, 0, 1240], 2))).toMatchInlineSnapshot(`
      "Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      A choice: it saves at least 4 s (proved) against any plan with rib before wall, and 10 s if the best one found
      is the best there is.
        the plan:  1 regrip, 0 tool changes, 2 min 0 s (proved least)
        the other: 1 regrip, 0 tool changes, 2 min 10 s (proved least: regrips and tool changes)
      "
    `);
  });

  it('tells a choice of which nothing is proved', () => {
    expect(text(against([1, 0, 1200], [1, 0, 1300], [1, 0, 1100], 2))).toMatchInlineSnapshot(`
      "Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      A choice: it saves 10 s if the best plan found with rib before wall is the best there is, which is not proved.
        the plan:  1 regrip, 0 tool changes, 2 min 0 s (proved least)
        the other: 1 regrip, 0 tool changes, 2 min 10 s (proved least: regrips and tool changes)
      "
    `);
  });

  it('tells what it came to before tacks were ordered anew', () => {
    const verdict = against([1, 0, 1200], [1, 0, 1300], [1, 0, 0], 2);
    if (verdict.kind !== 'choice') throw new Error(verdict.kind);
    const searched = {
      terms: [{ term: 'time', given: 1190, wished: 1280 }],
      exact: true,
      atLeast: 90,
    } as const;
    expect(text({ ...verdict, searched }).split('  the plan:')[0]).toMatchInlineSnapshot(`
      "Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      A choice: it saves 10 s if the best plan found with rib before wall is the best there is, which is not proved.
      Before tacks were put in an order that distorts less, the other had 9 s more, proved least.
      "
    `);
  });

  it('tells that it costs nothing', () => {
    expect(text(against([1, 0, 1200], [1, 0, 1200], [1, 0, 1200], 3))).toMatchInlineSnapshot(`
      "Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      Equal: it costs nothing to have it otherwise. Another plan, with rib before wall, is as good.
        the plan:  1 regrip, 0 tool changes, 2 min 0 s (proved least)
        the other: 1 regrip, 0 tool changes, 2 min 0 s (proved least)
      "
    `);
  });

  it('tells that the plan is not the best one', () => {
    expect(text(against([1, 0, 1200], [0, 0, 1300], [0, 0, 1300], 3))).toMatchInlineSnapshot(`
      "Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      No reason: the plan is not the best one. A plan with rib before wall was found that is better by 1 regrip. Of
      the terms that count after it, the other has 10 s more.
        the plan:  1 regrip, 0 tool changes, 2 min 0 s (proved least)
        the other: 0 regrips, 0 tool changes, 2 min 10 s (proved least)
      "
    `);
  });

  it('tells what forces it, by the files, whatever the candidates, or among them', () => {
    const nearest = { code: 'gap-not-held', subjects: ['rib', 'wall'], value: 1.4, limit: 1, unit: 'mm' };
    expect(
      [
        text({
          kind: 'forced',
          scope: 'file',
          reasons: [{ code: 'needs', subjects: ['rib', 'wall'], fact: { kind: 'needs', part: 'rib' } }],
        }),
        text({ kind: 'forced', scope: 'any', reasons: [] }),
        text({
          kind: 'forced',
          scope: 'candidates',
          reasons: [
            {
              ...{ code: 'no-approach', subjects: ['wall', 'rib'], counts: { ways: 5, blocked: 5 } },
              fact: { kind: 'approach', part: 'wall' },
            },
            {
              ...{ code: 'no-accuracy', subjects: ['rib', 'wall'], nearest },
              fact: { kind: 'accuracy', part: 'rib', other: 'wall', about: 'gap-not-held' },
            },
            { code: 'only-grip', subjects: ['rib'], counts: { considered: 36, usable: 1 } },
            { code: 'only-way', subjects: ['rib', 'wide'] },
            {
              ...{ code: 'wish', subjects: ['base', 'rib'] },
              fact: {
                ...{ kind: 'wish', part: 'base', wish: 0 },
                wished: { before: ['base', 'rib'], never: false, soft: false, weight: 1 },
              },
            },
          ],
        }),
      ].join('\n'),
    ).toMatchInlineSnapshot(`
      "Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      Forced: there is no plan with rib before wall (the files say so). What rules it out:
        1  rib comes only after wall (\`needs\`)

      Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      Forced: there is no plan with rib before wall (proved, whatever the candidates). Nothing else of the files is
      needed to rule it out.

      Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      Forced: there is no plan with rib before wall (proved among the candidates considered, planned as Tackwright
      plans). What rules it out:
        1  rib is in the way on every straight way (5) of wall into place
        2  rib does not meet wall within the gap that may be tacked, by what its errors add up to
           nearest miss: rib, wall: gap not held: errors square to the contact add up to 1.4 mm, limit 1 mm, 0.4 mm off
        3  rib has no other grip: of 36 candidates, 1 can be used, and all of them are this one
        4  the file gives rib no gripper but wide
        5  base joins before rib (wish 1, not soft)
      "
    `);
  });

  it('tells where a fact holds that forces it', () => {
    const forced = (reasons: readonly Reason[], of: Has, question: Question): string =>
      answerText({ question, has: of, verdict: { kind: 'forced', scope: 'candidates', reasons } });
    const reserve = (part: string, holds?: Holds): Reason => ({
      ...{ code: 'no-securing', subjects: [part], fact: { kind: 'reserve', part } },
      ...(holds && { holds }),
    });
    const first: Reason = { code: 'first', subjects: ['base'], fact: { kind: 'first', part: 'base' } };
    const otherwise = reserve('rib', { when: 'otherwise' });
    const grip: Has = { of: 'grip', part: 'rib', gripper: 'wide' };
    const tack: Has = { of: 'tack', tack: 'J1.1@10', between: ['base', 'rib'], stage: 2 };
    const hold: Has = { of: 'hold', stage: 3, part: 'rib', held: 'handler' };
    const texts = [
      forced(
        [
          reserve('wall', { when: 'with', part: 'rib' }),
          reserve('rib', { when: 'without', part: 'wall' }),
          reserve('rib', { when: 'first' }),
          reserve('lid', { when: 'otherwise' }),
          first,
        ],
        has,
        asked,
      ),
      forced([otherwise], grip, { ask: 'grip', part: 'rib' }),
      ...[1, 2].map((regrips) =>
        forced([otherwise], { of: 'regrip', part: 'rib', regrips }, { ask: 'regrip', part: 'rib' }),
      ),
      forced([otherwise], tack, { ask: 'tack', tack: 'J1.1@10' }),
      forced([first], tack, { ask: 'tack', tack: 'J1.1@10' }),
      forced([], tack, { ask: 'tack', tack: 'J1.1@10' }),
      forced([otherwise], hold, { ask: 'hold', stage: '3' }),
    ];
    expect(texts.join('\n')).toMatchSnapshot();
  });

  it('tells what fell of all orders that were judged', () => {
    const reasons = [
      { code: 'assembly-gives-way', subjects: ['rib'], value: 1.1, limit: 1.5, unit: 'reserve' },
    ];
    const texts = [3, 1].map((refused) => text({ kind: 'forced-in-orders', refused, reasons }));
    expect(texts.join('\n')).toMatchInlineSnapshot(`
      "Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      Forced among the orders judged: there is no plan with rib before wall with the grips and tacks that come first
      in each. All such orders (3) fell when the assembly was judged as a whole; with other grips or tacks one may
      stand. What they fell by:
        rib: the parts in place give way: reserve 1.1, limit 1.5, 0.4 of reserve off
      Not tried: parts that give way are helped by a stronger clamp of the first part, by grips that hold them until they are tacked, or by more or longer tacks.

      Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      Forced among the orders judged: there is no plan with rib before wall with the grips and tacks that come first
      in each. The only such order fell when the assembly was judged as a whole; with other grips or tacks one may
      stand. What they fell by:
        rib: the parts in place give way: reserve 1.1, limit 1.5, 0.4 of reserve off
      Not tried: parts that give way are helped by a stronger clamp of the first part, by grips that hold them until they are tacked, or by more or longer tacks.
      "
    `);
  });

  it('tells what is known when the budget ended', () => {
    const { objective, proof } = planA();
    const given = { objective, provedTerms: proof.provedTerms };
    const bound = (...values: number[]): Terms =>
      values.map((value, i) => ({ term: objective[i]!.term, value }));
    const hard: Reason = {
      ...{ code: 'no-securing', subjects: ['rib'], fact: { kind: 'reserve', part: 'rib' } },
      nearest: { code: 'hold-gives-way', subjects: ['rib'], value: 1.1, limit: 1.5, unit: 'reserve' },
    };
    const deepest = {
      inPlace: ['base', 'rib'],
      left: [
        { part: 'wall', reasons: [hard] },
        { part: 'cap', reasons: [] },
      ],
    };
    const least = { term: objective[0]!.term, value: 1 };
    const searched = { searched: true } as const;
    const texts = [
      text({ kind: 'dearer', given, atLeast: least, states: 1200, bound: bound(2, 0, 0) }),
      text({ kind: 'dearer', given, atLeast: least, ...searched, states: 0, waiting: 1, bound: bound(2) }),
      text({ kind: 'open', given, states: 61234, waiting: 800, bound: bound(1, 0, 900), deepest }),
      text({ kind: 'unknown', states: 1200 }),
    ];
    expect(texts.join('\n')).toMatchInlineSnapshot(`
      "Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      A choice: it saves at least 1 regrip (proved) against any plan with rib before wall. None was found when the
      budget ended after 1,200 states, so that what the best of them costs, or whether there is one, is left open:
      ask again with --steps 4800.
        the plan:  1 regrip, 0 tool changes, 2 min 0 s (proved least: regrips and tool changes)
        the other: no better than 2 regrips, 0 tool changes and 0 s (proved)

      Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      A choice: it saves at least 1 regrip (proved) against any plan with rib before wall, before its tacks are put
      in an order that distorts less. None was found when the budget ended after 0 states with 1 state still open,
      so that what the best of them costs, or whether there is one, is left open: ask again with --steps 1000.
        the plan:  1 regrip, 0 tool changes, 2 min 0 s (proved least: regrips and tool changes)
        the other: no better than 2 regrips (proved)

      Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      Not found out in the budget: it ended after 61,234 states with 800 states still open, before a plan was found
      with rib before wall and before it was proved that there is none. Proved: compared term by term, no such plan
      does better than 1 regrip, 0 tool changes and 1 min 30 s. Ask again with --steps 250000.
        the plan:  1 regrip, 0 tool changes, 2 min 0 s (proved least: regrips and tool changes)
      At most it had base and rib in place; what stood against the others then:
        wall: rib does not carry every load with its reserve, held while it is tacked or let go on its tacks
           nearest miss: rib: hold gives way: reserve 1.1, limit 1.5, 0.4 of reserve off
        cap: could still come

      Why does wall join before rib?
      wall joins in stage 2, rib in stage 3.
      Unknown in the budget: it ended after 1,200 states, before a plan was found with rib before wall and before it
      was proved that there is none. Ask again with --steps 4800.
      "
    `);
  });

  it('has a question, and what the plan has, of every kind', () => {
    const notSo = { kind: 'not-so' } as const;
    const free = { kind: 'unknown', states: 1 } as const;
    const answers: Answer[] = [
      {
        question: { ask: 'before', first: 'rib', second: 'wall' },
        has: { ...has, first: 'rib', second: 'wall', stages: [3, 2] },
        verdict: notSo,
      },
      {
        question: { ask: 'grip', part: 'rib' },
        has: {
          of: 'grip',
          part: 'rib',
          gripper: 'wide',
          robot: 'handler',
          face: '+z',
          position: [0, -12.25],
        },
        verdict: free,
      },
      {
        question: { ask: 'grip', part: 'rib' },
        has: { of: 'grip', part: 'rib', gripper: null },
        verdict: notSo,
      },
      {
        question: { ask: 'grip', part: 'rib' },
        has: { of: 'grip', part: 'rib', gripper: null, byHand: true },
        verdict: notSo,
      },
      {
        question: { ask: 'regrip', part: 'rib' },
        has: { of: 'regrip', part: 'rib', regrips: 2 },
        verdict: free,
      },
      {
        question: { ask: 'regrip', part: 'rib' },
        has: { of: 'regrip', part: 'rib', regrips: 1 },
        verdict: free,
      },
      {
        question: { ask: 'regrip', part: 'rib' },
        has: { of: 'regrip', part: 'rib', regrips: 0 },
        verdict: notSo,
      },
      {
        question: { ask: 'tack', tack: 'J1.1@10' },
        has: { of: 'tack', tack: 'J1.1@10', between: ['base', 'rib'], stage: 3 },
        verdict: free,
      },
      {
        question: { ask: 'hold', stage: '3' },
        has: { of: 'hold', stage: 3, part: 'rib', held: 'handler' },
        verdict: free,
      },
      {
        question: { ask: 'hold', stage: 'rib' },
        has: { of: 'hold', stage: 3, part: 'rib', held: null, other: { part: 'wall', robot: 'handler' } },
        verdict: notSo,
      },
      {
        question: { ask: 'not-first', part: 'rib' },
        has: { of: 'not-first', part: 'rib', stage: 3, first: 'base' },
        verdict: free,
      },
      {
        question: { ask: 'not-first', part: 'base' },
        has: { of: 'not-first', part: 'base', stage: 1, first: 'base' },
        verdict: notSo,
      },
    ];
    expect(answersText(answers)).toMatchSnapshot();
  });
});

import { describe, expect, it } from 'vitest';
import type { ReasonFact } from '../../src/model/reason-fact.js';
import type { Refusal } from '../../src/model/verdict.js';
import { wishSchema } from '../../src/model/wish.js';
import { impossibleText } from '../../src/report/impossible-text.js';
import { noneFoundText } from '../../src/report/none-found-text.js';
import { reasonText } from '../../src/report/reason-text.js';

const reach: Refusal = {
  ...{ code: 'no-handling', subjects: ['web', 'handler'] },
  counts: { fit: 20, taken: 12, brought: 3, both: 0 },
  nearest: { code: 'wrist-stretched', subjects: ['web', 'handler'], value: 131, limit: 125, unit: 'deg' },
  fact: { kind: 'reach', part: 'web', robot: 'handler' },
};
const needs: Refusal = {
  ...{ code: 'needs', subjects: ['web', 'cheek'] },
  fact: { kind: 'needs', part: 'web', other: 'cheek' },
};

describe('impossibleText', () => {
  it('tells of a seam that cannot be tacked by how much the arm misses it', () => {
    const nearest = { code: 'reach-too-far', subjects: ['J1', 'J1.2'], value: 40, limit: 0, unit: 'mm' };
    const seam = {
      ...{ code: 'seam-not-coverable', subjects: ['J1.2', 'base', 'plate'], value: 0, unit: 'sites open' },
      nearest,
    };
    const fact = { kind: 'torch', part: 'plate', seam: 'J1.2', other: 'base' } as const;
    const reasons = [{ code: 'no-securing', subjects: ['plate', 'J1.2', 'base'], nearest: seam, fact }];
    const text = impossibleText('candidates', { reasons, needed: 1 });
    expect(text.trimEnd().split('\n').at(-1)).toBe(
      '     nearest miss: J1.2, base, plate: seam cannot be tacked by the rules: sites open 0; out of reach: too far by 40 mm, limit 0 mm',
    );
  });

  it('numbers facts with their nearest miss, and tells of sets that are independent', () => {
    expect(
      impossibleText(
        'candidates',
        { reasons: [needs, reach], needed: 2 },
        [{ reasons: [needs], needed: 1 }],
        true,
      ),
    ).toMatchInlineSnapshot(`
      "No plan exists (proved, among the candidates considered). These 2 facts together rule it out, and each is needed:
        1  web comes only after cheek (\`needs\`)
        2  handler does not get web from the infeed into its place by any grip that would do
           of 20 grips that fit, 12 can take it at the infeed, 3 can bring it into place, 0 can do both
           nearest miss: web, handler: wrist stretched: bend 131 deg, limit 125 deg, 6 deg off
      Also, independent of these:
        1  web comes only after cheek (\`needs\`)
      Needed: were any one of them met wherever it is asked, the others would leave an order.
      More may stand in the way: what else does is told once this is mended.
      "
    `);
  });

  it('says that more may stand in the way where that is so', () => {
    const more = 'More may stand in the way: what else does is told once this is mended.';
    const set = { reasons: [needs], needed: 1 };
    expect(impossibleText('candidates', set, [], true)).toContain(more);
    expect(impossibleText('any', set, [], false)).not.toContain(more);
  });

  it('says where the budget ended before every fact was tested, and where nothing was found', () => {
    expect(impossibleText('candidates', { reasons: [needs, reach], needed: 1 })).toContain(
      'These 2 facts together rule it out; 1 of them is proved to be needed (budget ended):',
    );
    const unexplained = { code: 'unexplained', subjects: ['stand'] };
    expect(impossibleText('candidates', { reasons: [unexplained], needed: 0 })).toMatchInlineSnapshot(`
      "No plan exists (proved, among the candidates considered). But:
        1  no order is left; which facts rule it out was not found within the sets of parts looked at
      "
    `);
  });
});

/** A wish as its file has it, as a fact. */
const wished = (wish: number, said: object): Omit<ReasonFact, 'part'> => ({
  ...{ kind: 'wish', wish, wished: wishSchema.parse(said) },
});

describe('the sentence of a fact', () => {
  const kinds: readonly (readonly [
    string,
    readonly string[],
    Omit<ReasonFact, 'part'>,
    Refusal['counts']?,
  ])[] = [
    ['needs', ['a', 'b'], { kind: 'needs' }],
    ['blocking', ['a', 'b'], { kind: 'blocking' }],
    ['first', ['a'], { kind: 'first' }],
    ['wish', ['a', 'b'], wished(0, { before: ['a', 'b'] })],
    ['wish', ['a', 'b'], wished(1, { before: ['a', 'b'], never: true })],
    ['wish', ['a'], wished(2, { first: 'a', never: true })],
    ['wish', ['a'], wished(3, { grip: 'a', face: '+z' })],
    ['wish', ['a'], wished(4, { regrips: 'a' })],
    ['wish', ['a'], wished(5, { held: 'a' })],
    ['wish', ['a', 'b'], wished(6, { tack: ['a', 'b'], near: [10, 0, 0] })],
    ['contact', ['a', 'b', 'c'], { kind: 'contact' }],
    ['contact', ['a'], { kind: 'contact' }],
    ['no-contact', ['a', 'b', 'c'], { kind: 'contact' }],
    ['no-approach', ['a', 'b'], { kind: 'approach' }, { ways: 5, blocked: 2 }],
    ['no-approach', ['a', 'b'], { kind: 'approach' }, { ways: 5, blocked: 5 }],
    ['no-approach', ['a', 'b', 'c'], { kind: 'approach' }, { ways: 5, blocked: 1 }],
    ['no-handling', ['a'], { kind: 'rest' }],
    ['no-handling', ['a', 'wide'], { kind: 'capacity' }],
    ['no-handling', ['a', 'handler'], { kind: 'reach' }],
    ['no-handling', ['a', 'handler', 'b'], { kind: 'arm-room' }],
    ['no-handling', ['a', 'wide', 'b'], { kind: 'gripper-room' }],
    ['no-accuracy', ['a', 'b'], { kind: 'accuracy', about: 'gap-not-held' }],
    ['no-accuracy', ['a', 'b'], { kind: 'accuracy', about: 'seam-not-met' }],
    ['no-securing', ['a', 'J1.1', 'b'], { kind: 'torch' }],
    ['no-securing', ['a'], { kind: 'hold' }],
    ['no-securing', ['a'], { kind: 'reserve' }],
    ['no-turning', ['a'], { kind: 'turning' }],
  ];

  it('is one for each kind', () => {
    const sentences = kinds.map(([code, subjects, fact, counts]) =>
      reasonText({ code, subjects, fact: { ...fact, part: 'a' }, ...(counts && { counts }) }),
    );
    expect(new Set(sentences).size).toBe(kinds.length);
    expect(sentences.join('\n')).toMatchInlineSnapshot(`
      "a comes only after b (\`needs\`)
      a cannot come once b is in place (\`blocking\`)
      a comes first (\`first\`)
      a joins before b (wish 1, not soft)
      a does not join before b (wish 2, not soft)
      a is not the first part (wish 3, not soft)
      a is put in place on +z (wish 4, not soft)
      a is not regripped (wish 5, not soft)
      a is held while its securing tacks are laid (wish 6, not soft)
      a and b have a tack within 10 mm of [10, 0, 0] (wish 7, not soft)
      a must touch a part in place, unless it is the first: it touches b or c
      a must touch a part in place, unless it is the first: it touches none
      a must be joined to a part in place or stand on one, b or c; the first stands on the table
      b is in the way on 2 of the 5 straight ways of a into place
      b is in the way on every straight way (5) of a into place
      b and c leave too little room between them on 1 of the 5 straight ways of a into place
      a does not lie at the infeed without tipping or rolling
      wide cannot take or carry a by any grip that would do
      handler does not get a from the infeed into its place by any grip that would do
      the links of handler have no room beside the parts in place when it brings a: they meet b
      wide runs into b when it brings a
      a does not meet b within the gap that may be tacked, by what its errors add up to
      a does not meet b within what the torch must meet of the seam, by what its errors add up to
      the torch cannot lay the tacks of J1.1 that join a to b
      no grip that would do can hold a while it is tacked
      a does not carry every load with its reserve, held while it is tacked or let go on its tacks
      the work table cannot turn before a comes"
    `);
  });
});

describe('noneFoundText', () => {
  const bare = { states: 40, refused: 0, reasons: [], exhausted: false, bound: [] };

  it('says what was still open and how far the search got', () => {
    expect(
      noneFoundText({
        ...bare,
        waiting: 7,
        bound: [{ term: 'regrips', value: 1 }],
        deepest: {
          inPlace: ['base', 'cheek'],
          left: [
            { part: 'web', reasons: [reach] },
            { part: 'lid', reasons: [] },
          ],
        },
      }),
    ).toMatchInlineSnapshot(`
      "No plan found within the budget (40 states looked at). This is no proof that none exists:
      give more with --steps or --seconds.
      7 states still open; no plan takes less than 1 regrip.
      At most it had base and cheek in place; what stood against the others then:
        web: handler does not get web from the infeed into its place by any grip that would do
           nearest miss: web, handler: wrist stretched: bend 131 deg, limit 125 deg, 6 deg off
        lid: could still come
      "
    `);
  });

  it('says which refusals fell every order of a search that looked at all, with what may help', () => {
    const reasons = [
      { code: 'gap-opens', subjects: ['J1.1', 'rib'], value: 1.4, limit: 1, unit: 'mm' },
      { code: 'assembly-gives-way', subjects: ['rib', 'push'], value: 1.2, limit: 1.5, unit: 'reserve' },
    ];
    expect(noneFoundText({ ...bare, refused: 3, exhausted: true, reasons })).toMatchInlineSnapshot(`
      "No plan found (40 states looked at): every order of parts was tried, and 3 whole orders fell when the assembly was judged as a whole:
        J1.1, rib: earlier tacks are predicted to open a seam too far before it is tacked: open by 1.4 mm, limit 1 mm, 0.4 mm off
        rib, push: the parts in place give way: reserve 1.2, limit 1.5, 0.3 of reserve off
      This is no proof that none exists: of each order only the grips and tacks that came first were judged as a whole.
      Not tried: a seam that opens before it is tacked is helped by a wider \`fit-up: gap\`, by a smaller leg or fewer tacks of the joints tacked before it, or by \`needs\` that let its part come earlier.
      Not tried: parts that give way are helped by a stronger clamp of the first part, by grips that hold them until they are tacked, or by more or longer tacks.
      "
    `);
  });
});

import { describe, expect, it } from 'vitest';
import { familyResultSchema } from '../../src/model/family-result.js';
import { coveringText, extraText, unsearchedTexts } from '../../src/report/family-claim-text.js';
import { familyPage } from '../../src/report/family/family-page.js';
import { familyText } from '../../src/report/family-text.js';
import { smallFamily } from './small-family.js';

describe('a family on the terminal', () => {
  it('says what builds what at what cost, what is not built and why, and where patterns end', () => {
    expect(familyResultSchema.safeParse(smallFamily()).error).toBeUndefined();
    expect(familyText(smallFamily())).toMatchInlineSnapshot(`
      "stand on bench: 4 variants, 1 place at the ends and in the middle of the ranges, 2 patterns
      2 of 2 patterns that were found build 3 of 4 variants. Fewer of them do not: low and high have none in common.
      No other choice of as few of them costs less in all.

      variant  parts  built by  regrips         time  beyond its own best  least reserve
      low          2  P1              1    2 min 0 s  nothing              1.8 (needs 1.5) push
      mid          2  P1              1  2 min 2.5 s  +2.5 s               1.8 (needs 1.5) push
      high         2  P2              1    2 min 0 s  nothing              1.8 (needs 1.5) push
      huge         2  -               -            -  -                    -

      Not built:
        - huge: no plan exists: web weighs 21 kg, handler carries 16 kg

      P1, from the plan of low, builds low and mid:
        stage  joins  taken by                            held while tacking  signals
            1  base   wide, +z                            nothing                   0
            2  web    wide, +z, after 1 regrip (first     by handler                1
                      wide, -x)
        - does not build high: the pattern asks that web is held, which no gripper reaches

      P2, from the plan of high, builds high:
        stage  joins  taken by                            held while tacking  signals
            1  web    wide, +z, after 1 regrip (first     by handler                1
                      wide, -x)
            2  base   wide, +z                            nothing                   0
        - does not build low: web does not stand without base
        - does not build mid: web does not stand without base

      In the ranges, with ribbed no (ends are found to height 5):
        - P1 builds 1 of 1 corners and the middle and 0 of 1 places drawn between them (seed 1)
        - P2 builds 0 of 1 corners and the middle
        - P1 builds height 230 but not height 235 (which has a plan of its own): no gripper reaches web

      Cautions:
        - Held parts fall when power is lost.
      "
    `);
  });

  it('shows nothing of names that would change the terminal', () => {
    const result = smallFamily();
    result.variants[3]!.name = 'huge\u001b[2J';
    result.covering.uncovered = ['huge\u001b[2J'];
    expect(familyText(result)).not.toContain('\u001b');
  });
});

describe('what is claimed of a covering', () => {
  const { covering } = smallFamily();
  const told = (proof: Partial<typeof covering.proof>): string =>
    coveringText({ ...covering, proof: { ...covering.proof, ...proof } });

  it('is no more than what is proved', () => {
    expect(told({})).toContain('Fewer of them do not: low and high have none in common.');
    expect(told({ by: 'exhausted', apart: [], examined: 1 })).toContain(
      'Fewer of them do not: every smaller choice was ruled out (1 choice looked at).',
    );
    const found = told({ outcome: 'found', by: 'budget', apart: [], bound: 1, costProved: false });
    expect(found).not.toContain('do not');
    expect(found).toContain('at least 1');
    expect(found).toContain('costs less in all is not known');
    expect(told({ open: 2 })).toContain(
      'That is so as far as plans were found: 2 times a pattern counts as not building a variant',
    );
    expect(told({})).not.toContain('as far as');
    expect(told({ patterns: 1 })).toBe('The one pattern that was found builds 3 of 4 variants.');
    expect(coveringText({ ...covering, chosen: [], uncovered: ['low'] })).toBe(
      'Nothing builds any of 1 variant.',
    );
  });
});

describe('what is said of variants that were not searched', () => {
  const variants = (...searched: boolean[]) =>
    searched.map((one, i) => ({ name: `h${i}`, searched: one, leastSaving: 0.1 }));
  const found = (...savings: number[]) =>
    savings.map((leastSaving, i) => ({ name: `h${i}`, searched: true, leastSaving }));

  it('names them, and is nothing where all were', () => {
    expect(unsearchedTexts(found(0, 0))).toEqual([]);
    expect(
      unsearchedTexts([
        ...found(0),
        ...variants(false, false).map((one, i) => ({ ...one, name: `h${i + 1}` })),
      ]),
    ).toEqual([
      'Whether another plan is quicker was not looked for, or not to the end, with h1 and h2: a plan was enough where nothing before the time could be better.',
    ]);
    expect(unsearchedTexts(variants(false, false))[0]).toContain('with any of them:');
  });

  it('names those with which nothing was looked for that is hardly quicker', () => {
    expect(unsearchedTexts(found(0, 0.1, 0.1))).toEqual([
      'Whether another plan is quicker by less than 0.1 s was not looked for with h1 and h2, which the pattern of another variant builds.',
    ]);
    expect(unsearchedTexts(variants(true, false))).toHaveLength(2);
  });

  it('is in the text and on the page', () => {
    const result = smallFamily();
    result.variants[0]!.searched = false;
    expect(familyText(result).replace(/\s+/g, ' ')).toContain('is quicker was not looked for');
    expect(familyPage(result, '')).toContain('is quicker was not looked for');
  });
});

describe('what a pattern costs beyond the own best plan', () => {
  it.each([
    [null, 'no own plan to compare with'],
    [[{ term: 'time' as const, value: 0 }], 'nothing'],
    [
      [
        { term: 'regrips' as const, value: 1 },
        { term: 'distortion' as const, value: 3 },
        { term: 'time' as const, value: -25 },
      ],
      '+1 regrip, +0.3 mm of distortion, -2.5 s',
    ],
  ])('%j is %j', (extra, text) => {
    expect(extraText(extra)).toBe(text);
  });
});

import { describe, expect, it } from 'vitest';
import { againstTable } from '../../src/study/against-table.js';
import { readBestKnown } from '../../src/study/best-known.js';
import { contradictionsAmong } from '../../src/study/claims.js';
import { gapToKnown, knownOf } from '../../src/study/gap-to-known.js';
import { merge } from '../../src/study/merge.js';
import { median } from '../../src/study/middle.js';
import { performanceProfile, shareAt } from '../../src/study/profile.js';
import { profileSvg } from '../../src/study/profile-svg.js';
import { rowLine } from '../../src/study/results-csv.js';
import type { Row } from '../../src/study/row.js';
import { summarise } from '../../src/study/summary.js';
import { profileText, summaryText } from '../../src/study/summary-text.js';
import { openRow, someRow } from './some-rows.js';

const placed = (rows: readonly Row[], file = 'r.csv') =>
  rows.map((row, i) => ({ row, place: `${file}:${i + 2}` }));

/** Seconds to the proof of three solvers on four instances; by hand below. Never is Infinity. */
const TIMES: Readonly<Record<string, readonly number[]>> = {
  a: [1, 4, 3, Infinity],
  b: [2, 1, Infinity, Infinity],
  c: [8, 2, 6, Infinity],
};
const timed = Object.entries(TIMES).flatMap(([solver, times]) =>
  times.map((seconds, i) =>
    seconds === Infinity
      ? openRow({ solver, digest: `d${i}` })
      : someRow({ solver, digest: `d${i}`, proofSeconds: seconds, steps: 100 * seconds }),
  ),
);

describe('the performance profile', () => {
  // Ratios by hand: a 1 4 1 never; b 2 1 never never; c 8 2 2 never. Shares are of four instances.
  it('is that of Dolan and Moré, worked out by hand', () => {
    const { curves, instances } = performanceProfile(timed, 'proof');
    expect(instances).toBe(4);
    const shares = (factor: number) => curves.map((curve) => shareAt(curve, factor));
    expect(shares(1)).toEqual([0.5, 0.25, 0]);
    expect(shares(1.99)).toEqual([0.5, 0.25, 0]);
    expect(shares(2)).toEqual([0.5, 0.5, 0.5]);
    expect(shares(4)).toEqual([0.75, 0.5, 0.5]);
    expect(shares(8)).toEqual([0.75, 0.5, 0.75]);
    expect(shares(Infinity)).toEqual([0.75, 0.5, 0.75]);
  });

  it('is the same of steps that are proportional to the seconds', () => {
    expect(performanceProfile(timed, 'steps').curves).toEqual(performanceProfile(timed, 'proof').curves);
  });

  it('takes the median over seeds, leaves out who takes nothing and what is not run by all', () => {
    const rows = [
      ...[1, 9, 2].map((proofSeconds, i) => someRow({ solver: 'a', seed: i, proofSeconds })),
      someRow({ solver: 'b', proofSeconds: 1 }),
      someRow({ solver: 'plan', outcome: 'not-applicable', proofSeconds: undefined }),
      someRow({ solver: 'a', digest: 'only a' }),
    ];
    const { curves, instances } = performanceProfile(rows, 'proof');
    expect(instances).toBe(1);
    expect(curves.map(({ solver, steps }) => [solver, steps.map(({ factor }) => factor)])).toEqual([
      ['a', [1, 2]],
      ['b', [1]],
    ]);
  });

  it('is drawn with names that cannot break out of it', () => {
    const evil = '</text><script>alert("x")</script>&';
    const svg = profileSvg(
      performanceProfile([...timed, ...timed.map((row) => ({ ...row, solver: evil }))], 'proof'),
    );
    expect(svg).not.toContain('<script');
    expect(svg).toContain('&lt;/text&gt;&lt;script&gt;');
    expect(svg).toContain('role="img"');
    expect(profileSvg(performanceProfile([], 'first'))).toContain('0 instances');
  });

  it('is told as a table', () => {
    const lines = profileText(performanceProfile(timed, 'proof')).split('\n');
    expect(lines.slice(2, 6).map((line) => line.replace(/ +/g, ' '))).toEqual([
      'solver best 2x 4x 8x 16x 64x 256x 1024x ever',
      'a 50% 50% 75% 75% 75% 75% 75% 75% 75%',
      'b 25% 50% 50% 50% 50% 50% 50% 50% 50%',
      'c 0% 50% 50% 75% 75% 75% 75% 75% 75%',
    ]);
  });
});

describe('the summary', () => {
  it('counts and takes means and medians as by hand', () => {
    const rows = [
      someRow({ digest: 'd1', best: [50], firstSeconds: 1, proofSeconds: 3 }),
      openRow({ digest: 'd2', best: [110], firstSeconds: 2 }),
      openRow({ digest: 'd3', best: [120], firstSeconds: 9 }),
      openRow({ digest: 'd4', outcome: 'failed', best: undefined, firstSeconds: undefined }),
      openRow({ digest: 'd5', outcome: 'none-in-budget', best: undefined, firstSeconds: undefined }),
      openRow({ digest: 'd6', outcome: 'not-applicable', best: undefined }),
      openRow({
        digest: 'd7',
        outcome: 'impossible',
        best: undefined,
        firstSeconds: undefined,
        proofSeconds: 5,
      }),
    ];
    const known = new Map([
      ['d1', [50]],
      ['d2', [100]],
      ['d3', [100]],
    ]);
    const [one] = summarise(rows, known);
    expect(one).toMatchObject({ rows: 6, optimal: 1, legal: 3, none: 1, failed: 1, notApplicable: 1 });
    expect(one).toMatchObject({ impossible: 1, medianFirst: 2, medianProof: 4 });
    expect(one!.gap!.mean).toBeCloseTo(0.1, 12);
    expect(one!.gap).toMatchObject({ median: 0.1, worst: 0.2 });
    expect(summaryText([one!], 'the best known cost')).toContain('10%');
  });

  it('tells heuristics of one name apart', () => {
    const rows = ['aaaaaaaa', 'bbbbbbbb'].map((solverDigest) => someRow({ solver: 'h.mjs', solverDigest }));
    expect(summarise(rows, new Map()).map(({ solver }) => solver)).toEqual(['h.mjs aaaaaa', 'h.mjs bbbbbb']);
  });

  it.each([
    [[3, 100], [2, 100], 0.5],
    [[2, 110], [2, 100], 0.1],
    [[0, 2, 5], [0, 0, 9], 2],
    [[2, 110], [2], 0],
    [[2], [4], -0.5],
  ])('takes the gap of %j to %j in the first term that differs', (cost, known, gap) => {
    expect(gapToKnown(cost, known)).toBeCloseTo(gap, 12);
  });

  it('takes the table where it has a value, else the best row', () => {
    const rows = [
      openRow({ best: [70] }),
      openRow({ best: [60] }),
      openRow({ instance: 'two', digest: 'd2' }),
    ];
    expect([...knownOf(rows, new Map([['two', [45]]]))]).toEqual([
      ['d1', [60]],
      ['d2', [45]],
    ]);
  });

  it('has a median of even and odd counts, of infinities and of nothing', () => {
    expect(median([3, 1, 2])).toBe(2);
    expect(median([4, 1, 2, 3])).toBe(2.5);
    expect(median([Infinity, 1, Infinity, Infinity])).toBe(Infinity);
    expect(median([])).toBeUndefined();
  });
});

describe('the table of best values', () => {
  it('is read by its first term or term by term', () => {
    expect([...readBestKnown('instance,n,best_known\nESC07.sop,9,2125\nx,1,\n', 't').value!]).toEqual([
      ['ESC07', [2125]],
    ]);
    const named = 'instance,best regrips,best tool-changes,bound regrips\nb,0,2,0\n';
    expect([...readBestKnown(named, 't').value!]).toEqual([['b', [0, 2]]]);
    expect([...readBestKnown('instance,best_1,best_2,best_3\na,0,2,\n', 't').value!]).toEqual([
      ['a', [0, 2]],
    ]);
  });

  it.each([
    ['name,best\n', 1, 'the columns are "name,best"'],
    ['instance,best\na,one\n', 2, '"one" is not a number'],
    ['instance,best\na,1\na,2\n', 3, '"a" stands here twice'],
  ])('refuses %j', (text, line, problem) => {
    expect(readBestKnown(text, 't.csv').issues).toEqual([
      expect.objectContaining({ line, problem: expect.stringContaining(problem) }),
    ]);
  });
});

describe('merging', () => {
  const rows = [
    someRow(),
    openRow({ solver: 'greedy', best: [60] }),
    someRow({ instance: 'two', digest: 'd2' }),
  ];

  it('gives the same rows whatever was together before, without duplicates', () => {
    const whole = merge(placed(rows));
    const parts = merge([...placed([rows[2]!, rows[0]!], 'b.csv'), ...placed([rows[1]!, rows[0]!], 'a.csv')]);
    expect(parts.rows.map(rowLine)).toEqual(whole.rows.map(rowLine));
    expect([whole.duplicates, parts.duplicates]).toEqual([0, 1]);
    expect([...whole.contradictions, ...parts.contradictions]).toEqual([]);
  });

  it('tells of one run by steps that came out in two ways', () => {
    const other = someRow({ steps: 11 });
    expect(merge(placed([rows[0]!, other])).contradictions).toHaveLength(1);
    const seconds = { limits: { seconds: 1, steps: undefined, megabytes: 64 } };
    expect(merge(placed([someRow(seconds), someRow({ ...seconds, steps: 11 })])).contradictions).toEqual([]);
  });

  it.each([
    ['an order below a bound', openRow({ solver: 'x', best: [49] }), 'none costs less than 50'],
    [
      'an order where none is possible',
      openRow({ solver: 'x', outcome: 'impossible', best: undefined, bound: [Infinity] }),
      'says that there is none',
    ],
  ])('tells of %s', (_, row, text) => {
    const [found, ...more] = contradictionsAmong(placed([someRow(), row]));
    expect(more).toEqual([]);
    expect(found!.text).toContain(text);
    expect([...found!.places].sort()).toEqual(['r.csv:2', 'r.csv:3']);
  });
});

describe('rows against a table of best known costs', () => {
  const rows = placed([someRow({ instance: 'x', solver: 'a', best: [2, 30], bound: [2, 25] })]);
  const against = (known: readonly number[]) => againstTable(rows, new Map([['x', known]]));

  it('tells of an order that is better than the table', () => {
    expect(against([2, 31])).toEqual({
      improved: ['r.csv:2: the table has 2 / 31 for x, a has an order that costs 2 / 30'],
      excluded: [],
    });
  });

  it('tells of a value that a bound excludes', () => {
    expect(against([1, 99])).toEqual({
      improved: [],
      excluded: ['r.csv:2: the table has 1 / 99 for x, and a says that none costs less than 2 / 25'],
    });
  });

  it('says nothing where both agree, by the terms that the table has', () => {
    for (const known of [[2, 30], [2, 27], [2]])
      expect(against(known)).toEqual({ improved: [], excluded: [] });
    expect(againstTable(rows, new Map())).toEqual({ improved: [], excluded: [] });
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareText } from '../../src/base/order.js';
import { planFamily, type FamilyOptions } from '../../src/family/run.js';
import type { FamilyTask, RunTask } from '../../src/family/task.js';
import { canonicalText } from '../../src/io/canonical.js';
import type { BuildPattern } from '../../src/model/build-pattern.js';
import type { Family } from '../../src/model/family.js';
import { familyResultSchema, type FamilyResult } from '../../src/model/family-result.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import {
  fakeTask,
  familyOf,
  runAtOnce,
  runInAnyOrder,
  variantNamed,
  type World,
} from '../support/fake-family.js';

const inputsOf = (family: Family) => ({
  family,
  ...{ cell: { name: 'bench', digest: 'c' }, settings: DEFAULT_SETTINGS },
});

async function resultOf(
  family: Family,
  run: RunTask,
  more: Partial<FamilyOptions> = {},
): Promise<FamilyResult> {
  const outcome = await planFamily(inputsOf(family), { run, samples: 6, seed: 1, ...more });
  if (outcome.kind !== 'planned') throw new Error('was stopped');
  return outcome.result;
}

const stand = (height: number) => variantNamed(`h${height}`, { height });
const below = (limit: number, cost: readonly [number, number], stops: string) => (values: object) =>
  Number((values as { height: number }).height) <= limit ? cost : { stops };

/** Low stands are quickest by `low`; `tall` builds all up to 300 with a regrip; nothing builds more. */
const WORLD: World = {
  low: below(200, [0, 100], 'reach'),
  middle: below(250, [0, 120], 'reach'),
  tall: below(300, [1, 150], 'payload'),
};
const STANDS = familyOf([150, 200, 250, 300, 350].map(stand));

describe('a family', () => {
  it('is covered by the fewest patterns at the least cost beyond the own plans', async () => {
    const result = await resultOf(STANDS, runAtOnce(WORLD));
    expect(familyResultSchema.parse(result)).toEqual(result);
    expect(result.patterns.map(({ id, from }) => [id, from])).toEqual([
      ['P1', 'h300'],
      ['P2', 'h150'],
      ['P3', 'h250'],
    ]);
    expect(result.covering).toEqual({
      chosen: [{ pattern: 'P1', variants: ['h150', 'h200', 'h250', 'h300'] }],
      extra: [
        { term: 'regrips', value: 3 },
        { term: 'tool-changes', value: 0 },
        { term: 'time', value: 50 + 50 + 30 },
      ],
      uncovered: ['h350'],
      proof: {
        ...{ outcome: 'least', patterns: 3, variants: 5, bound: 1, by: 'variants-apart' },
        ...{ apart: [expect.any(String)], examined: expect.any(Number), costProved: true, open: 0 },
      },
    });
  });

  it('has a matrix of every variant by every pattern, with extra cost or reasons', async () => {
    const { matrix, variants } = await resultOf(STANDS, runAtOnce(WORLD));
    expect(matrix).toHaveLength(15);
    const field = (variant: string, pattern: string) =>
      matrix.find((one) => one.variant === variant && one.pattern === pattern)!;
    expect(field('h250', 'P2')).toEqual({
      ...{ variant: 'h250', pattern: 'P2', fits: false, figures: null, extra: null, parameters: null },
      reasons: [{ code: 'reach', subjects: ['base'], text: 'stopped by reach' }],
    });
    expect(field('h150', 'P2').extra!.map(({ value }) => value)).toEqual([0, 0, 0]);
    expect(field('h150', 'P3').extra!.map(({ value }) => value)).toEqual([0, 0, 20]);
    expect(field('h150', 'P1').parameters).toHaveLength(1);
    expect(variants.at(-1)).toMatchObject({ outcome: 'impossible', own: null, parts: 1 });
    expect(variants.at(-1)!.reasons).toHaveLength(1);
    expect(field('h350', 'P1').reasons).toEqual(variants.at(-1)!.reasons);
  });

  it('asks for every task once, and for none that cannot help', async () => {
    const asked: FamilyTask[] = [];
    await resultOf(STANDS, (task) => {
      asked.push(task);
      return Promise.resolve(fakeTask(WORLD, task));
    });
    const keys = asked.map((task) =>
      [task.variant.name, task.kind === 'follow' ? task.pattern.stages[0]!.robot : 'own'].join(' '),
    );
    expect(new Set(keys).size).toBe(keys.length);
    expect(keys.filter((key) => key.startsWith('h350'))).toEqual(['h350 own']);
    expect(keys).toHaveLength(5 + 4 * 2);
  });

  it('takes the own plan of a variant that lacks a part for one by the pattern of the others', async () => {
    const stages = (parts: readonly string[]): BuildPattern['stages'] =>
      parts.map((part) => ({
        ...{ part, robot: 'handler', turn: 0, regrips: [], grip: null },
        ...{ held: false, alsoHeld: null, handshakes: [] },
      }));
    const parts = { whole: ['base', 'rib', 'lid'], bare: ['base', 'lid'], other: ['lid', 'base', 'rib'] };
    const asked: string[] = [];
    const run: RunTask = (task) => {
      asked.push(`${task.kind} ${task.variant.name}`);
      const { name } = task.variant;
      if (task.kind === 'follow') return Promise.resolve({ kind: 'impossible', reasons: [] });
      const planned = fakeTask({ any: () => [0, 10] }, task);
      if (planned.kind !== 'planned') throw new Error('is planned');
      const own = stages(parts[name as keyof typeof parts]);
      return Promise.resolve({ ...planned, pattern: { ...planned.pattern, stages: own } });
    };
    const family = familyOf(Object.keys(parts).map((name, i) => variantNamed(name, { height: i })));
    const { covering, patterns, matrix } = await resultOf(family, run);
    expect(covering.chosen).toEqual([
      { pattern: 'P1', variants: ['whole', 'bare'] },
      { pattern: 'P2', variants: ['other'] },
    ]);
    expect(patterns.map(({ from }) => from)).toEqual(['whole', 'other', 'bare']);
    expect(asked.filter((task) => task === 'follow bare')).toHaveLength(1);
    expect(matrix.find(({ variant, pattern }) => variant === 'bare' && pattern === 'P1')!.fits).toBe(true);
  });

  it('names the files that are written beside it', async () => {
    const files = (names: readonly string[]) => ({
      weldment: (variant: string) => `v/${names.indexOf(variant)}.json`,
      plan: (variant: string, pattern: string | undefined) => `p/${variant}.${pattern ?? 'own'}.json`,
    });
    const outcome = await planFamily(inputsOf(STANDS), { run: runAtOnce(WORLD), samples: 0, seed: 1, files });
    if (outcome.kind !== 'planned') throw new Error('was stopped');
    const { result, plans } = outcome;
    const told = [
      ...result.variants.flatMap(({ own }) => own?.file ?? []),
      ...result.matrix.flatMap(({ figures }) => figures?.file ?? []),
    ];
    expect(plans.map(({ file }) => file).sort()).toEqual([...told].sort());
    expect(result.variants[1]!.weldmentFile).toBe('v/1.json');
    expect(told).toContain('p/h250.P3.json');
  });

  it('covers a variant for which only following found a plan', async () => {
    const run: RunTask = (task) =>
      Promise.resolve(
        task.kind === 'own' && task.variant.name === 'h250'
          ? { kind: 'none-found', reasons: [] }
          : fakeTask(WORLD, task),
      );
    const { covering, matrix } = await resultOf(STANDS, run);
    expect(covering.uncovered).toEqual(['h350']);
    expect(covering.extra.map(({ value }) => value)).toEqual([2, 0, 100]);
    expect(matrix.find(({ variant, fits }) => variant === 'h250' && fits)!.extra).toBeNull();
  });

  it.each([
    ['impossible', 0],
    ['none-found', 1],
    ['other-pattern', 1],
  ] as const)('says of a plan that is %s whether it is ruled out', async (kind, open) => {
    const run: RunTask = (task) =>
      Promise.resolve(
        task.kind === 'follow' && task.variant.name === 'h150' && task.pattern.stages[0]!.robot === 'tall'
          ? { kind, reasons: [] }
          : fakeTask(WORLD, task),
      );
    const { covering } = await resultOf(STANDS, run);
    expect(covering.chosen).toHaveLength(2);
    expect(covering.proof).toMatchObject({ outcome: 'least', open });
  });

  it('is empty where nothing can be built', async () => {
    const none: World = { low: () => ({ stops: 'payload' }) };
    const result = await resultOf(STANDS, runAtOnce(none));
    expect(result.covering).toMatchObject({ chosen: [], extra: [], proof: { outcome: 'least', bound: 0 } });
    expect(result.covering.uncovered).toHaveLength(5);
    expect(result.matrix).toEqual([]);
  });

  it('begins the others with the patterns of the first and the last by name, and says what was not searched', async () => {
    const asked: FamilyTask[] = [];
    const run: RunTask = (task) => {
      asked.push(task);
      return Promise.resolve(fakeTask(WORLD, task));
    };
    await resultOf(STANDS, run, { quick: true });
    const owns = asked.filter((task) => task.kind === 'own');
    expect(owns.map(({ variant, like, quick }) => [variant.name, like?.length, quick])).toEqual([
      ['h150', undefined, true],
      ['h350', undefined, true],
      ...['h200', 'h250', 'h300'].map((name) => [name, 1, true]),
    ]);
  });

  it('stops when asked to, and rejects when a task does', async () => {
    let done = 0;
    const options = {
      ...{ samples: 0, seed: 1, stopRequested: () => done >= 3 },
      run: (task: FamilyTask) => {
        done += 1;
        return Promise.resolve(fakeTask(WORLD, task));
      },
    };
    expect((await planFamily(inputsOf(STANDS), options)).kind).toBe('stopped');
    await expect(resultOf(STANDS, () => Promise.reject(new Error('a defect')))).rejects.toThrow('a defect');
  });
});

/** What ways cost what variants, at random: ways by rows; undefined where one does not work. */
const worlds = fc
  .record({ variants: fc.integer({ min: 1, max: 7 }), ways: fc.integer({ min: 1, max: 5 }) })
  .chain(({ variants, ways }) => {
    const cost = fc.tuple(fc.integer({ min: 0, max: 1 }), fc.integer({ min: 10, max: 14 }));
    const row = fc.array(fc.option(cost, { nil: undefined, freq: 1 }), {
      ...{ minLength: variants, maxLength: variants },
    });
    return fc.array(row, { minLength: ways, maxLength: ways });
  });

const worldOf = (rows: readonly (readonly (readonly [number, number] | undefined)[])[]): World =>
  Object.fromEntries(
    rows.map((row, i) => [`way-${i}`, ({ number }) => row[Number(number)] ?? { stops: 'reach' }]),
  );

const numbered = (order: readonly number[]): Family =>
  familyOf(
    order.map((number) => variantNamed(`v${number}`, { number })),
    [{ name: 'number' }],
  );

/** The same with all lists of variants by name. */
function sorted(result: FamilyResult): unknown {
  const names = (list: readonly string[]): string[] => [...list].sort(compareText);
  const { covering } = result;
  return {
    ...result,
    variants: [...result.variants].sort((a, b) => compareText(a.name, b.name)),
    matrix: [...result.matrix].sort((a, b) => compareText(a.variant + a.pattern, b.variant + b.pattern)),
    covering: {
      ...covering,
      chosen: covering.chosen.map((one) => ({ ...one, variants: names(one.variants) })),
      uncovered: names(covering.uncovered),
      proof: { ...covering.proof, apart: names(covering.proof.apart) },
    },
  };
}

describe('the patterns of a family', () => {
  it('do not depend on the order in which tasks end', async () => {
    await fc.assert(
      fc.asyncProperty(worlds, fc.nat(1000), async (rows, seed) => {
        const family = numbered(rows[0]!.map((_, i) => i));
        const world = worldOf(rows);
        const [once, anyhow] = await Promise.all([
          resultOf(family, runAtOnce(world)),
          resultOf(family, runInAnyOrder(world, seed)),
        ]);
        expect(canonicalText(anyhow)).toBe(canonicalText(once));
      }),
      { numRuns: 60, seed: 41 },
    );
  });

  it('do not depend on the order of the variants', async () => {
    const permuted = worlds.chain((rows) => {
      const numbers = rows[0]!.map((_, i) => i);
      const order = fc.shuffledSubarray(numbers, { minLength: numbers.length });
      return fc.record({ rows: fc.constant(rows), order });
    });
    await fc.assert(
      fc.asyncProperty(permuted, async ({ rows, order }) => {
        const run = runAtOnce(worldOf(rows));
        const [plain, other] = await Promise.all([
          resultOf(numbered([...order].sort()), run),
          resultOf(numbered(order), run),
        ]);
        expect(sorted(other)).toEqual(sorted(plain));
        expect(other.variants.map(({ name }) => name)).toEqual(order.map((number) => `v${number}`));
      }),
      { numRuns: 100, seed: 42 },
    );
  });

  it('never are fewer with one more variant and the same candidates', async () => {
    let compared = 0;
    await fc.assert(
      fc.asyncProperty(worlds, async (rows) => {
        const numbers = rows[0]!.map((_, i) => i);
        const run = runAtOnce(worldOf(rows));
        const [whole, fewer] = await Promise.all([
          resultOf(numbered(numbers), run),
          resultOf(numbered(numbers.slice(0, -1)), run),
        ]);
        if (whole.patterns.length !== fewer.patterns.length) return;
        compared += 1;
        expect(whole.covering.chosen.length).toBeGreaterThanOrEqual(fewer.covering.chosen.length);
      }),
      { numRuns: 150, seed: 43 },
    );
    expect(compared).toBeGreaterThan(50);
  });
});

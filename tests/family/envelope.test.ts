import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planFamily } from '../../src/family/run.js';
import type { RunTask } from '../../src/family/task.js';
import { canonicalText } from '../../src/io/canonical.js';
import type { Family, FamilyParameter } from '../../src/model/family.js';
import type { FamilyResult } from '../../src/model/family-result.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import {
  fakeTask,
  familyOf,
  runAtOnce,
  runInAnyOrder,
  variantNamed,
  type Values,
  type World,
} from '../support/fake-family.js';

async function resultOf(family: Family, run: RunTask, samples = 4, seed = 3): Promise<FamilyResult> {
  const inputs = { family, cell: { name: 'bench', digest: 'c' }, settings: DEFAULT_SETTINGS };
  const outcome = await planFamily(inputs, { run, samples, seed });
  if (outcome.kind !== 'planned') throw new Error('was stopped');
  return outcome.result;
}

const HEIGHT: FamilyParameter = { name: 'height', range: { low: 150, high: 260, resolution: 5 } };
const WIDTH: FamilyParameter = { name: 'width', range: { low: 0, high: 100, resolution: 4 } };
const heightOf = (values: Values): number => Number(values['height']);
const widthOf = (values: Values): number => Number(values['width']);
const one = (parameters: readonly FamilyParameter[], values: Values): Family =>
  familyOf([variantNamed('first', values)], parameters);

describe('the envelope of a family', () => {
  it('says between which places of the resolution a pattern stops working, and what stops it', async () => {
    const world: World = {
      only: (values) =>
        heightOf(values) < 168
          ? { stops: 'torch' }
          : heightOf(values) > 207.3
            ? { stops: 'payload' }
            : [0, 100],
    };
    const { envelope, variants, warnings } = await resultOf(one([HEIGHT], { height: 205 }), runAtOnce(world));
    expect(envelope!.resolution).toEqual({ height: 5 });
    const told = envelope!.boundaries.map(({ pattern, works, fails, alone, reasons }) => [
      ...[pattern, works['height'], fails['height'], alone],
      reasons[0]!.code,
    ]);
    expect(told.sort()).toEqual([
      ['P1', 170, 165, 'impossible', 'torch'],
      ['P1', 205, 210, 'impossible', 'payload'],
    ]);
    expect(variants.map(({ name, source, outcome }) => [name, source, outcome])).toEqual([
      // The middle is the variant of the table that has its values.
      ['first', 'variant', 'planned'],
      ['corner-low', 'corner', 'impossible'],
      ['corner-high', 'corner', 'impossible'],
    ]);
    expect(warnings).toEqual([]);
    const sources = envelope!.samples.map(({ source }) => source);
    expect(sources.filter((source) => source === 'sample').length).toBeGreaterThan(1);
    expect(sources.slice(0, 3)).toEqual(['corner', 'corner', 'middle']);
    // Of 23 heights a bisection needs to look at few.
    expect(sources.filter((source) => source === 'bisection').length).toBeLessThanOrEqual(6);
  });

  it('has no boundary where a pattern works everywhere, and none without ranges', async () => {
    const world: World = { only: () => [0, 100] };
    const whole = await resultOf(
      one([HEIGHT, WIDTH, { name: 'ribs' }], { height: 200, width: 50, ribs: 2 }),
      runAtOnce(world),
    );
    expect(whole.envelope).toMatchObject({ boundaries: [], others: { ribs: 1 }, seed: 3 });
    expect(whole.envelope!.samples.map(({ source }) => source)).toEqual([
      ...['corner', 'corner', 'corner', 'corner', 'middle'],
      ...['sample', 'sample', 'sample', 'sample'],
    ]);
    expect(whole.envelope!.samples.every(({ patterns }) => patterns.every(({ fits }) => fits))).toBe(true);
    expect(whole.cautions.some((caution) => caution.includes('between the planned variants'))).toBe(true);
    const none = await resultOf(one([{ name: 'ribs' }], { ribs: 2 }), runAtOnce(world));
    expect(none.envelope).toBeNull();
    expect(none.cautions.some((caution) => caution.includes('between the planned variants'))).toBe(false);
  });

  it('takes corners that the table has from there, the first by name where two have the same values', async () => {
    const at = (name: string, height: number) => variantNamed(name, { ribs: 1, height });
    const table = [at('top-b', 260), at('low', 150), at('top-a', 260), at('middle', 205)];
    const world: World = { only: (values) => (heightOf(values) < 260 ? [0, 10] : { stops: 'reach' }) };
    const run: RunTask = (task) => {
      const result = fakeTask(world, task);
      const told = { code: task.variant.name, subjects: [], text: '' };
      return Promise.resolve(result.kind === 'planned' ? result : { ...result, reasons: [told] });
    };
    for (const variants of [table, table.toReversed()]) {
      const { envelope, variants: all } = await resultOf(familyOf(variants, [HEIGHT, { name: 'ribs' }]), run);
      expect(all.map(({ source }) => source)).toEqual(['variant', 'variant', 'variant', 'variant']);
      expect(envelope).toMatchObject({ others: { ribs: 1 }, boundaries: [{ reasons: [{ code: 'top-a' }] }] });
    }
  });

  it('tells what rules out every plan there, where no other pattern would do either', async () => {
    const world: World = {
      first: (values) => (heightOf(values) <= 200 ? [0, 10] : { stops: 'reach' }),
      second: (values) => (heightOf(values) <= 190 ? [1, 10] : { stops: 'torch' }),
    };
    const run: RunTask = (task) =>
      Promise.resolve(
        task.kind === 'own' && heightOf(task.variant.values) > 200
          ? { kind: 'impossible', reasons: [{ code: 'payload', subjects: [], text: 'too heavy' }] }
          : fakeTask(world, task),
      );
    const { envelope } = await resultOf(one([HEIGHT], { height: 150 }), run);
    expect(envelope!.boundaries).toMatchObject([
      { works: { height: 200 }, fails: { height: 205 }, alone: 'impossible', reasons: [{ code: 'payload' }] },
    ]);
  });

  it('tells issues of a place that gives no weldment as what stops the pattern there', async () => {
    const family = one([HEIGHT], { height: 150 });
    const variantOf: Family['variantOf'] = (name, values) =>
      heightOf(values) <= 230
        ? family.variantOf(name, values)
        : {
            variant: undefined,
            issues: [
              {
                ...{ code: 'bad-number', severity: 'error', file: 'f', line: 3, path: 'base.at' },
                ...{ problem: 'is too much', remedy: 'less' },
              },
            ],
          };
    const { envelope, variants } = await resultOf(
      { ...family, variantOf },
      runAtOnce({ only: () => [0, 1] }),
    );
    expect(envelope!.boundaries).toMatchObject([
      {
        works: { height: 230 },
        fails: { height: 235 },
        alone: 'bad-input',
        reasons: [{ code: 'bad-number', subjects: ['base.at'] }],
      },
    ]);
    expect(variants.at(-2)).toMatchObject({
      name: 'corner-high',
      outcome: 'bad-input',
      parts: 0,
      weldmentFile: null,
    });
  });

  it('finds true boundaries of random regions, whatever the order in which tasks end', async () => {
    const region = fc.record({ a: fc.integer({ min: -2, max: 2 }), b: fc.integer({ min: -2, max: 2 }) });
    let boundaries = 0;
    await fc.assert(
      fc.asyncProperty(region, fc.nat(1000), async ({ a, b }, seed) => {
        // A half plane through a place near the middle, and a second way for what is beyond it.
        const inside = (values: Values): boolean =>
          a * (heightOf(values) - 203) + b * (widthOf(values) - 51) <= 0;
        const world: World = {
          first: (values) => (inside(values) ? [0, 10] : { stops: 'reach' }),
          second: (values) => (inside(values) ? { stops: 'payload' } : [0, 10]),
        };
        const corners = [150, 260].flatMap((height) =>
          [0, 100].map((width) => variantNamed(`${height} ${width}`, { height, width })),
        );
        const family = familyOf(corners, [HEIGHT, WIDTH]);
        const [once, anyhow] = await Promise.all([
          resultOf(family, runAtOnce(world)),
          resultOf(family, runInAnyOrder(world, seed)),
        ]);
        expect(canonicalText(anyhow)).toBe(canonicalText(once));
        const ways = new Map(once.patterns.map(({ id, stages }) => [id, stages[0]!.robot]));
        for (const { pattern, works, fails, alone, reasons } of once.envelope!.boundaries) {
          boundaries += 1;
          const first = ways.get(pattern) === 'first';
          expect([inside(works), inside(fails)]).toEqual([first, !first]);
          expect(alone).toBe('planned');
          expect(reasons[0]!.code).toBe(first ? 'reach' : 'payload');
          expect(Math.abs(heightOf(works) - heightOf(fails))).toBeLessThanOrEqual(5);
          expect(Math.abs(widthOf(works) - widthOf(fails))).toBeLessThanOrEqual(4);
        }
        const split = once.covering.chosen.length > 1;
        expect(once.envelope!.boundaries.length > 0).toBe(split);
      }),
      { numRuns: 40, seed: 61 },
    );
    expect(boundaries).toBeGreaterThan(50);
  });
});

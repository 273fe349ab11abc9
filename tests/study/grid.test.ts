import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gridOf, readShard, shardOf } from '../../src/study/grid.js';
import { runKey } from '../../src/study/row.js';
import { readSeeds } from '../../src/study/seeds.js';

const limits = { seconds: 10, steps: undefined, megabytes: 64 };
const solver = (name: string, random: boolean) => ({ name, digest: '', random });
const instances = (digests: readonly string[]) => digests.map((digest) => ({ digest }));
const keys = (cells: readonly { key: Parameters<typeof runKey>[0] }[]) => cells.map(({ key }) => runKey(key));

describe('the grid of a study', () => {
  it('runs each solver on each instance, with each seed only where seeds matter', () => {
    const cells = gridOf(instances(['a', 'b']), [solver('x', true), solver('y', false)], [4, 5], limits);
    expect(cells.map(({ key: { digest, solver, seed } }) => `${digest} ${solver} ${seed}`)).toEqual([
      ...['a x 4', 'a x 5', 'a y 1', 'b x 4', 'b x 5', 'b y 1'],
    ]);
  });

  it('runs nothing twice where two files hold the same instance', () => {
    expect(gridOf(instances(['a', 'a']), [solver('y', false)], [1], limits)).toHaveLength(1);
  });

  it('is covered by its shards exactly once, evenly, and whatever the order of the files', () => {
    const digests = fc.uniqueArray(fc.string({ minLength: 1, maxLength: 8 }), {
      minLength: 1,
      maxLength: 12,
    });
    fc.assert(
      fc.property(digests, fc.integer({ min: 1, max: 9 }), (names, count) => {
        const of = (list: readonly string[]) =>
          gridOf(instances(list), [solver('x', true), solver('y', false)], [1, 2, 3], limits);
        const shards = Array.from({ length: count }, (_, i) => shardOf(of(names), { index: i + 1, count }));
        expect(shards.flatMap(keys).sort()).toEqual(keys(of(names)).sort());
        const sizes = shards.map(({ length }) => length);
        expect(Math.max(...sizes) - Math.min(...sizes)).toBeLessThanOrEqual(1);
        const turned = shardOf(of([...names].reverse()), { index: 1, count });
        expect(keys(turned).sort()).toEqual(keys(shards[0]!).sort());
      }),
    );
  });

  it.each([
    ['1/1', { index: 1, count: 1 }],
    ['8/8', { index: 8, count: 8 }],
    ['0/8', undefined],
    ['9/8', undefined],
    ['1', undefined],
    ['1/8/2', undefined],
  ])('reads the shard %s', (text, shard) => expect(readShard(text)).toEqual(shard));
});

describe('seeds', () => {
  it('are listed in the order given, each once', () => {
    expect(readSeeds('3,1-4, 9')).toEqual({ ok: true, value: [3, 1, 2, 4, 9] });
  });

  it.each(['', 'x', '1-', '-1', '4-2', '1.5', '1-99999999'])('refuses %j', (text) => {
    expect(readSeeds(text).ok).toBe(false);
  });
});

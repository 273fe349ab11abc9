import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { packed, unpacked } from '../../../src/report/page/packed-json.js';

/** Through the very text that stands in a page. */
const there = (value: unknown): unknown => JSON.parse(JSON.stringify(packed(value)));
const thereAndBack = (value: unknown): unknown => unpacked(there(value) as ReturnType<typeof packed>);

describe('packed JSON', () => {
  it('comes back as it was, whatever it is', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 4 }), (value) => {
        const twice = [value, { a: value, b: [value] }];
        expect(JSON.stringify(thereAndBack(twice))).toBe(JSON.stringify(twice));
      }),
      { seed: 9 },
    );
  });

  it('tells texts that look like its own marks from them', () => {
    const names = ['@', '@0', '@@0', '#', '#0', '#1', '@0', '@@0', '#0', '@@@@@@@@@@', '@@@@@@@@@@'];
    const value = [...names, [...names], ['#0', 1], { '@0': '@0', '#0': ['#0'], ['__proto__']: 1 }];
    expect(thereAndBack(value)).toEqual(value);
  });

  it('leaves out members that are undefined, as JSON does', () => {
    expect(thereAndBack([{ a: 1, b: undefined }, { a: 1 }])).toEqual([{ a: 1 }, { a: 1 }]);
  });

  it('writes what comes up again once', () => {
    const pose = [1250.25, -300.5, 12.75, 0, 0, 0.70711, 0.70711];
    const many = Array.from({ length: 50 }, (_, i) => ({ number: i, pose, what: 'move to the infeed' }));
    const text = JSON.stringify(there(many));
    expect(text.split('1250.25')).toHaveLength(2);
    expect(text.split('infeed')).toHaveLength(2);
    expect(text.split('"what"')).toHaveLength(2);
  });
});

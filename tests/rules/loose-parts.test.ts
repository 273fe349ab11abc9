import { describe, expect, it } from 'vitest';
import { looseParts } from '../../src/rules/loose-parts.js';

describe('loose parts', () => {
  it('are those that no chain of tacks joins to the first', () => {
    const tack = (a: number, b: number) => ({ a, b });
    expect(looseParts([4, 2, 0, 7], [])).toEqual([2, 0, 7]);
    expect(looseParts([4, 2, 0, 7], [tack(0, 2)])).toEqual([2, 0, 7]);
    expect(looseParts([4, 2, 0, 7], [tack(7, 0), tack(0, 4)])).toEqual([2]);
    expect(looseParts([4, 2, 0, 7], [tack(2, 9), tack(9, 4)])).toEqual([2, 0, 7]);
    expect(looseParts([], [])).toEqual([]);
  });
});

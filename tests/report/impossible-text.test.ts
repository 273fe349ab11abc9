import { describe, expect, it } from 'vitest';
import { impossibleText } from '../../src/report/impossible-text.js';

describe('impossibleText', () => {
  it('tells of a seam that cannot be tacked by how much the arm misses it', () => {
    const nearest = { code: 'reach-too-far', subjects: ['J1', 'J1.2'], value: 40, limit: 0, unit: 'mm' };
    const seam = {
      ...{ code: 'seam-not-coverable', subjects: ['J1.2', 'base', 'plate'], value: 0, unit: 'sites open' },
      nearest,
    };
    const text = impossibleText('candidates', [{ code: 'no-securing', subjects: ['plate'], nearest: seam }]);
    expect(text.trimEnd().split('\n').at(-1)).toBe(
      '     nearest miss: J1.2, base, plate: seam cannot be tacked by the rules: sites open 0; out of reach: too far by 40 mm, limit 0 mm',
    );
  });
});

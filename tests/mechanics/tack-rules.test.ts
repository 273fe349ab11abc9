import { describe, expect, it } from 'vitest';
import { REFERENCE } from '../../src/mechanics/reference.js';
import { leastFilletLeg, leastTackLength, pitchOf, spanOf } from '../../src/mechanics/tack-rules.js';

describe('tack rules', () => {
  // EN 1090-2 7.5.7, from memory; recomputed (check-values section 1).
  it('least length by EN 1090-2', () => {
    const lengths = [3, 5, 8, 12, 12.5, 20].map((thickness) => leastTackLength('en1090', thickness));
    expect(lengths).toEqual([12, 20, 32, 48, 50, 50]);
  });

  // EN 1011-2 clause 13 as published: the two differ at 12 mm.
  it('least length by EN 1011-2', () => {
    const lengths = [3, 11.9, 12, 20].map((thickness) => leastTackLength('en1011', thickness));
    expect(lengths).toEqual([12, 47.6, 50, 50]);
  });

  // AWS D1.1 as published (check-values section 1).
  it('least fillet leg by AWS D1.1', () => {
    expect([6, 6.1, 12, 12.1, 20, 20.1].map(leastFilletLeg)).toEqual([3, 5, 5, 6, 6, 8]);
  });
});

describe('intermittent welds', () => {
  // ISO 2553: n x l (e), e the clear gap; AWS A2.4 gives the pitch instead (check-values section 1, recomputed).
  it('3 x 40 (100): span 320, pitch 140 mm', () => {
    const weld = { runs: 3, length: 40, gap: 100 };
    expect(spanOf(weld)).toBe(320);
    expect(pitchOf(weld)).toBe(140);
  });
});

describe('reference tables', () => {
  it('give every value with a source', () => {
    const sourceless: string[] = [];
    const visit = (node: object, path: string): void => {
      if ('source' in node) {
        if (typeof node.source !== 'string' || node.source === '') sourceless.push(path);
        return;
      }
      for (const [key, child] of Object.entries(node))
        if (typeof child === 'object' && child !== null) visit(child as object, `${path}.${key}`);
        else sourceless.push(`${path}.${key}`);
    };
    visit(REFERENCE, 'REFERENCE');
    expect(sourceless).toEqual([]);
  });

  // EN 1993-1-1 3.2.6, EN 1999-1-1 3.2.5 and EN 10088-1 as published (check-values section 11).
  it('materials: one metre of steel grows 1.2 mm over 100 K; densities of the three', () => {
    const { mildSteel, aluminium, '1.4301': stainless } = REFERENCE.materials;
    expect(1000 * 100 * mildSteel.expansion.value).toBeCloseTo(1.2, 9);
    expect([mildSteel, aluminium, stainless].map(({ density }) => density.value)).toEqual([7850, 2700, 7900]);
    expect([mildSteel, aluminium, stainless].map(({ modulus }) => modulus.value)).toEqual([
      210e3, 70e3, 200e3,
    ]);
  });
});

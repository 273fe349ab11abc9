import { describe, expect, it } from 'vitest';
import {
  combined,
  gapChain,
  inPlaneChain,
  tiltChain,
  torchChain,
  type Meeting,
  type Scatter,
} from '../../src/mechanics/accuracy.js';
import type { Vec3 } from '../../src/geometry/vector.js';

const X: Vec3 = [1, 0, 0];
const Z: Vec3 = [0, 0, 1];
const slanted: Vec3 = [0.6, 0, 0.8];
const chain = (...figures: readonly number[]) => figures.map((mm) => ({ source: `${mm}`, mm }));

describe('contributions', () => {
  it('add up by Pythagoras when they do not depend on one another', () => {
    expect(combined(chain(3, 4), 'root-sum-square')).toBeCloseTo(5, 12);
    expect(combined(chain(2, 3, 6), 'root-sum-square')).toBeCloseTo(7, 12);
  });

  it('add up plainly in the worst case, which is never less', () => {
    expect(combined(chain(3, 4), 'arithmetic')).toBe(7);
    // n equal errors: n in the worst case, sqrt(n) when independent.
    expect(combined(chain(1, 1, 1, 1), 'arithmetic') / combined(chain(1, 1, 1, 1), 'root-sum-square')).toBe(
      2,
    );
  });

  it('of nothing are nothing', () => {
    expect(combined([], 'root-sum-square')).toBe(0);
  });
});

const level = (mm: number, degrees: number): Scatter => ({ source: 'infeed', mm, degrees, across: Z });
const meeting = (own: readonly Scatter[], cut = 0): Meeting => ({
  own,
  other: { name: 'base', place: [{ source: 'datum', mm: 2 }] },
  cuts: [
    { source: 'cut of plate', mm: cut, rolled: [Z] },
    { source: 'cut of base', mm: cut, rolled: [] },
  ],
});
const figures = (of: readonly { readonly mm: number }[]) => of.map(({ mm }) => Math.round(mm * 1e6) / 1e6);

describe('a chain', () => {
  it('square to a contact leaves out what is off only along it', () => {
    expect(figures(gapChain(meeting([level(1, 0.1)]), Z, 'root-sum-square'))).toEqual([0, 2]);
    expect(figures(gapChain(meeting([level(1, 0.1)]), X, 'root-sum-square'))).toEqual([1, 0, 0, 2]);
  });

  it('counts an error across an axis by the sine of the angle to it', () => {
    // 3-4-5: cos 0.8, sin 0.6.
    expect(figures(gapChain(meeting([level(1, 0.1)]), slanted, 'arithmetic'))[0]).toBe(0.6);
  });

  it('counts the cut of an edge, and not that of a rolled face', () => {
    const sources = (normal: Vec3) =>
      gapChain(meeting([], 0.5), normal, 'arithmetic').map(({ source }) => source);
    expect(sources(Z)).toEqual(['cut of base', 'place of base']);
    expect(sources(X)).toEqual(['cut of plate', 'cut of base', 'place of base']);
  });

  it('along a contact counts every source in full, and the wire on top', () => {
    const along = meeting([level(1, 0.1)], 0.5);
    expect(figures(inPlaneChain(along, 'arithmetic'))).toEqual([1, 0.5, 2]);
    expect(figures(torchChain(along, { source: 'welder', mm: 0.25 }, 'arithmetic'))).toEqual([
      1, 0.5, 2, 0.25,
    ]);
  });

  it('of tilt is the angle over the length: 0.1 degrees over 1 m is 1.745 mm', () => {
    const [own] = tiltChain(meeting([level(1, 0.1)]), X, 1000, 'arithmetic');
    expect(own!.mm).toBeCloseTo(1000 * Math.tan(Math.PI / 1800), 9);
    expect(own!.mm).toBeCloseTo(1.7453, 4);
  });

  it('of tilt leaves out a turn about the normal of the contact', () => {
    expect(figures(tiltChain(meeting([level(1, 0.1)]), Z, 1000, 'arithmetic'))).toEqual([2]);
  });
});

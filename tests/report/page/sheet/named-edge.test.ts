import { describe, expect, it } from 'vitest';
import { IDENTITY, turnAbout } from '../../../../src/geometry/pose.js';
import { roundBar } from '../../../../src/geometry/sections.js';
import { block } from '../../../../src/geometry/shapes.js';
import { placeSolid } from '../../../../src/geometry/solid.js';
import { namedEdge } from '../../../../src/report/page/sheet/named-edge.js';

/** A base plate 320 x 220, its top at z = 10, and a cheek 8 x 180 x 200 upright on it, at x = -94 to -86. */
const base = { name: 'base', solid: placeSolid(block(320, 220, 10), { ...IDENTITY, at: [0, 0, 5] }) };
const cheek = { name: 'cheek', solid: placeSolid(block(8, 180, 200), { ...IDENTITY, at: [-90, 0, 110] }) };

describe('the edge from which places on a seam are measured', () => {
  it('is that of the part that ends where the seam begins', () => {
    const seam = { from: [-94, -90, 10], to: [-94, 90, 10] } as const;
    expect(namedEdge(seam, [base, cheek])).toEqual({
      part: 'cheek',
      offset: 0,
      text: 'the -y edge of cheek',
    });
  });

  it('is the other edge for a seam that runs the other way', () => {
    const seam = { from: [-94, 90, 10], to: [-94, -90, 10] } as const;
    expect(namedEdge(seam, [base, cheek]).text).toBe('the +y edge of cheek');
  });

  it('tells how far behind the edge the seam begins', () => {
    const seam = { from: [-94, -78, 10], to: [-94, 90, 10] } as const;
    expect(namedEdge(seam, [base, cheek])).toMatchObject({ part: 'cheek', offset: 12 });
  });

  it('is upper or lower on an upright seam', () => {
    const rib = { name: 'rib', solid: placeSolid(block(60, 8, 120), { ...IDENTITY, at: [-124, 0, 70] }) };
    const down = { from: [-94, -4, 130], to: [-94, -4, 10] } as const;
    expect(namedEdge(down, [cheek, rib]).text).toBe('the upper edge of rib');
    const up = { from: [-94, -4, 10], to: [-94, -4, 130] } as const;
    // Both end at the base; the first of equals is the cheek, whose lower edge is there too.
    expect(namedEdge(up, [cheek, rib]).text).toBe('the lower edge of cheek');
  });

  it('takes no edge that the seam does not pass: the base ends elsewhere', () => {
    const seam = { from: [-94, -90, 10], to: [-94, 90, 10] } as const;
    expect(namedEdge(seam, [base]).part).toBe('base');
    expect(namedEdge(seam, [base]).offset).toBeCloseTo(20, 6);
    const inside = { from: [-94, 0, 10], to: [-94, 90, 10] } as const;
    expect(namedEdge(inside, [base, cheek])).toEqual({
      part: undefined,
      offset: 0,
      text: "the seam's end at (-94, 0, 10)",
    });
  });

  it('names the place of a seam round a bar, which has no edge there', () => {
    const bar = {
      name: 'bar',
      solid: placeSolid(roundBar(100, 40), { at: [0, 0, 60], turn: turnAbout([0, 1, 0], Math.PI / 2) }),
    };
    const seam = { from: [20, 0, 10], to: [14.14, 14.14, 10] } as const;
    expect(namedEdge(seam, [base, bar]).text).toBe("the seam's end at (20, 0, 10)");
  });
});

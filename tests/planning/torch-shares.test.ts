import { describe, expect, it } from 'vitest';
import type { TackSite } from '../../src/facts/tack-sites.js';
import type { TorchMotion } from '../../src/facts/torch-motion.js';
import { sharedOut, type Offered } from '../../src/planning/torch-shares.js';

/** Margin, and how far the robot stands out on the open side. */
type Offer = readonly [margin: number, onOpenSide?: number];

/** A tack on a seam with what each robot offers for it. */
const tack = (seam: string, offers: Readonly<Record<string, Offer>>): Offered => ({
  site: { seam: { id: seam } } as TackSite,
  motions: Object.entries(offers).map(
    ([robot, [margin, onOpenSide = 0]]) => ({ robot, margin, onOpenSide }) as TorchMotion,
  ),
});

const robots = (...tacks: readonly Offered[]): readonly string[] =>
  sharedOut(tacks).map(({ robot }) => robot);

describe('who lays a tack', () => {
  it('is the only robot there is', () => {
    expect(robots(tack('A', { left: [1] }), tack('B', { left: [2] }))).toEqual(['left', 'left']);
    expect(robots()).toEqual([]);
  });

  it('is another one for each of two sides that both reach, each in front of its own', () => {
    const [near, far] = [
      tack('A', { left: [1, 9], right: [2, -9] }),
      tack('B', { left: [2, -9], right: [1, 9] }),
    ];
    expect(robots(near, far, near, far)).toEqual(['left', 'right', 'left', 'right']);
    expect(robots(far, near, far, near)).toEqual(['right', 'left', 'right', 'left']);
  });

  it('is the one with the larger margin where both stand alike, else the first of the cell', () => {
    expect(robots(tack('A', { left: [1], right: [2] }))).toEqual(['right']);
    expect(robots(tack('A', { left: [2], right: [2] }))).toEqual(['left']);
  });

  it('is the one that has less to do, what only one can lay counted first', () => {
    const both = tack('A', { left: [2, 9], right: [1, -9] });
    const only = tack('B', { left: [1] });
    expect(robots(both, only)).toEqual(['right', 'left']);
    expect(robots(both, both, only, tack('C', { left: [2], right: [1] }))).toEqual([
      'right',
      'right',
      'left',
      'left',
    ]);
  });

  it('is one for a whole seam, unless none can lay all of it', () => {
    const [both, left, right] = [
      tack('A', { left: [2], right: [1] }),
      tack('A', { left: [2] }),
      tack('A', { right: [1] }),
    ];
    expect(robots(both, right, both)).toEqual(['right', 'right', 'right']);
    expect(robots(left, both, right, both)).toEqual(['left', 'left', 'right', 'right']);
  });
});

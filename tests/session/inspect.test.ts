import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { Facts } from '../../src/facts/facts.js';
import { canonicalText } from '../../src/io/canonical.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import type { Weldment } from '../../src/model/weldment.js';
import { inspect, type Inspection } from '../../src/session/inspect.js';
import { testCell } from '../support/cell.js';
import { standWeldment } from '../support/stand-weldment.js';

let programs: LinearPrograms;
let facts: Facts;
let full: Inspection;

const factsOf = (weldment: Weldment): Facts =>
  new Facts(buildScene(weldment, testCell(), DEFAULT_SETTINGS), DEFAULT_SETTINGS, programs);

beforeAll(async () => {
  programs = await loadLinearPrograms();
  facts = factsOf(standWeldment());
  full = inspect(facts);
});

describe('inspect', () => {
  it('tells parts in the weldment frame, though the cell turns it', () => {
    const rib = full.parts.find(({ id }) => id === 'rib')!;
    expect(rib.centre).toEqual([0, 74, 70]);
    expect(rib.at).toEqual([0, 74, 70]);
    expect(rib.mass).toBeCloseTo(140 * 120 * 8 * 7.85e-6, 6);
    expect(rib.massFrom).toBe('derived');
  });

  it('says when the file gives a mass', () => {
    const stand = standWeldment();
    const heavy = { ...stand, parts: stand.parts.map((part) => ({ ...part, massGiven: 3.5 })) };
    expect(inspect(factsOf(heavy), false).parts.map(({ mass, massFrom }) => [mass, massFrom])).toEqual(
      [0, 1, 2].map(() => [3.5, 'given']),
    );
  });

  it('tells contacts with their areas', () => {
    const found = full.contacts.map(({ between, area, gap, bearings }) => ({ between, area, gap, bearings }));
    expect(found).toHaveLength(3);
    expect(found).toContainEqual({ between: ['base', 'wall'], area: 300 * 8, gap: 0, bearings: 1 });
    expect(found).toContainEqual({ between: ['base', 'rib'], area: 140 * 8, gap: 0, bearings: 1 });
    expect(found).toContainEqual({ between: ['wall', 'rib'], area: 120 * 8, gap: 0, bearings: 1 });
  });

  it('tells joints with seams that open in the weldment frame', () => {
    const [, , third] = full.joints;
    expect(third).toMatchObject({
      id: 'J3',
      between: ['wall', 'rib'],
      type: 'fillet',
      leg: 4,
      origin: 'given',
    });
    expect(third!.seams.map(({ id, length }) => [id, length])).toEqual([['J3.1', 120]]);
    expect(third!.seams[0]!.open.map((x) => Math.round(x * 1000))).toEqual([-707, 707, 0]);
  });

  it('tells what blocks each approach', () => {
    const wall = full.parts.find(({ id }) => id === 'wall')!;
    const base = full.parts.find(({ id }) => id === 'base')!;
    const down = (direction: readonly number[]): boolean => direction[2]! < -0.99;
    expect(base.approaches.find((way) => down(way.direction))!.hits).toEqual(['wall', 'rib']);
    expect(wall.approaches.find((way) => down(way.direction))).toMatchObject({ hits: [], fixed: null });
  });

  it('tells a joint that cannot be had', () => {
    const stand = standWeldment();
    const [first, ...rest] = stand.joints!;
    const lap = { ...stand, joints: [{ ...first!, type: 'butt' as const }, ...rest] };
    expect(inspect(factsOf(lap), false).jointMisses).toEqual([
      { joint: 'J1', between: ['base', 'wall'], why: 'no-seam' },
    ]);
  });

  it('says nothing of a cell that was not given', () => {
    const bare = inspect(facts, false);
    expect('cell' in bare).toBe(false);
    expect(bare.parts).toEqual(full.parts);
    expect(canonicalText(bare)).not.toContain('"grips"');
  });

  it('can be written as JSON', () => {
    expect(JSON.parse(canonicalText(full))).toEqual(full);
  });
});

describe('inspect with a cell', () => {
  it('judges as many grips, takes and places as the facts do', () => {
    for (const [i, part] of full.cell!.parts.entries()) {
      expect(part.grips.considered).toBe(facts.grips(i).length);
      expect(part.grips.usable).toBe(facts.usableGrips(i).length);
      expect(part.takes.considered).toBe(part.grips.usable);
      const taken = facts.usableGrips(i).filter((grip) => facts.take(i, grip, facts.spots(i)[0]!).ok);
      expect(part.takes.usable).toBe(taken.length);
      const open = facts.approaches(i).filter(({ fixedHit }) => fixedHit === undefined);
      expect(part.places.considered).toBe(part.grips.usable * open.length);
    }
  });

  it('accounts for every candidate once', () => {
    const { parts, seams } = full.cell!;
    const tallies = [
      ...parts.flatMap(({ grips, takes, places }) => [grips, takes, places]),
      ...seams
        .flatMap(({ alone, beside }) => [alone, beside])
        .map(({ sites, reached, against }) => ({ considered: sites, usable: reached, refused: against })),
    ];
    for (const { considered, usable, refused } of tallies)
      expect(usable + refused.reduce((sum, { count }) => sum + count, 0)).toBe(considered);
    expect(tallies.some(({ refused }) => refused.length > 0)).toBe(true);
  });

  it('keeps the nearest miss of each reason', () => {
    const wide = full
      .cell!.parts.flatMap(({ grips }) => grips.refused)
      .filter(({ code }) => code === 'footprint');
    expect(wide.length).toBeGreaterThan(0);
    for (const { nearest } of wide) {
      const part = facts.scene.index.get(nearest.subjects[0]!)!;
      const all = facts
        .grips(part)
        .flatMap(({ refusal }) => (refusal?.code === 'footprint' ? [refusal.value!] : []));
      expect(nearest.value).toBe(Math.max(...all));
    }
  });

  it('tells which tack sites the torch reaches', () => {
    const { seams } = full.cell!;
    expect(seams.map(({ id }) => id)).toEqual(['J1.1', 'J1.2', 'J2.1', 'J3.1']);
    for (const { alone, beside } of seams) {
      expect(alone.reached).toBeGreaterThan(0);
      expect(alone.clear).toBeGreaterThanOrEqual(alone.reached);
      expect(beside.reached).toBeLessThanOrEqual(alone.reached);
    }
  });
});

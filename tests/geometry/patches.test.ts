import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { facePatches } from '../../src/geometry/patches.js';
import { polygonCentroid } from '../../src/geometry/polygon.js';
import { compose } from '../../src/geometry/pose.js';
import { block, plate, rectangularHollowSection } from '../../src/geometry/shapes.js';
import { placeSolid } from '../../src/geometry/solid.js';
import { dot } from '../../src/geometry/vector.js';
import { at, atTurned, number, pose, RUNS } from './samples.js';

const names = (patches: ReturnType<typeof facePatches>): string[] =>
  patches.map((patch) => `${patch.faceA}/${patch.faceB} ${patch.area.toFixed(3)} @${patch.gap}`);

describe('patches', () => {
  it('a T joint touches along the foot of the web', () => {
    const base = placeSolid(plate(300, 200, 10), at(0, 0, 5));
    const web = placeSolid(plate(300, 100, 8), atTurned(0, 0, 60, 90, 0, 0));
    const patches = facePatches(base, web, 0.5);
    expect(names(patches)).toEqual(['+z/-y 2400.000 @0']);
    expect(patches[0]!.normal).toEqual([0, 0, 1]);
    expect(polygonCentroid(patches[0]!.polygon)).toEqual([0, 0, 10]);
    expect(facePatches(web, base, 0.5)[0]).toMatchObject({ faceA: '-y', faceB: '+z', area: 2400 });
  });

  it('a flush corner touches on one face only; flush sides are not opposed', () => {
    const base = placeSolid(plate(200, 100, 10), at(0, 0, 5));
    const cheek = placeSolid(block(10, 100, 80), at(95, 0, 50));
    expect(names(facePatches(base, cheek, 0.5))).toEqual(['+z/-z 1000.000 @0']);
  });

  it('offset plates share the overlap of their faces', () => {
    const lower = plate(200, 100, 10);
    const upper = placeSolid(plate(200, 100, 10), at(60, -25, 10));
    expect(names(facePatches(lower, upper, 0))).toEqual(['+z/-z 10500.000 @0']);
  });

  it('keeps a gap up to and including the limit, and a slight interference', () => {
    const lower = plate(100, 100, 10);
    const above = (gap: number): string[] =>
      names(facePatches(lower, placeSolid(plate(100, 100, 10), at(0, 0, 10 + gap)), 0.3));
    expect(above(0.3)).toEqual(['+z/-z 10000.000 @0.3']);
    expect(above(0.31)).toEqual([]);
    expect(above(-0.02)).toEqual(['+z/-z 10000.000 @-0.02']);
    expect(above(-0.03)).toEqual([]);
  });

  it('leaves out slivers and faces that are not parallel', () => {
    const lower = plate(100, 100, 10);
    const shifted = (x: number) => facePatches(lower, placeSolid(plate(100, 100, 10), at(x, 0, 10)), 0.5);
    expect(shifted(99.995)).toEqual([]);
    expect(shifted(99.98)).toHaveLength(1);
    const tilted = placeSolid(plate(100, 100, 10), atTurned(0, 0, 10, 0, 0.01, 0));
    expect(facePatches(lower, tilted, 0.5)).toEqual([]);
  });

  it('a hollow section on end stands on its ring, and a plug meets its inside', () => {
    const base = plate(200, 200, 10);
    const post = placeSolid(rectangularHollowSection(300, 60, 80, 4), atTurned(0, 0, 155, 0, -90, 0));
    const ring = facePatches(base, post, 0.1);
    expect(ring).toHaveLength(4);
    expect(ring.reduce((sum, patch) => sum + patch.area, 0)).toBeCloseTo(60 * 80 - 52 * 72, 6);
    const plug = block(20, 51.8, 72);
    const found = names(facePatches(plug, rectangularHollowSection(300, 60, 80, 4), 0.2));
    expect(found).toEqual([
      '+y/inner+y 1440.000 @0.1',
      '-y/inner-y 1440.000 @0.1',
      '+z/inner+z 1036.000 @0',
      '-z/inner-z 1036.000 @0',
    ]);
  });

  it('judges 0.1 mm between 2 m parts', () => {
    const long = plate(2000, 100, 10);
    const frame = atTurned(1234, -987, 555, 12, 34, 56);
    const [a, b] = [placeSolid(long, frame), placeSolid(long, compose(frame, at(0, 0, 10.1)))];
    expect(facePatches(a, b, 0.09)).toEqual([]);
    expect(facePatches(a, b, 0.1)[0]).toMatchObject({ gap: 0.1 });
    expect(facePatches(a, b, 0.1)[0]!.area).toBeCloseTo(200000, 4);
  });

  it('answers the same in any frame, and the same either way round', () => {
    const shift = fc.tuple(number(-150, 150), number(-150, 150), number(0, 0.4));
    fc.assert(
      fc.property(shift, pose(2000), ([x, y, gap], frame) => {
        const a = plate(200, 100, 10);
        const b = placeSolid(block(80, 60, 30), at(x, y, 20 + gap));
        const here = facePatches(a, b, 0.5);
        const overlapX = Math.max(0, Math.min(100, x + 40) - Math.max(-100, x - 40));
        const overlapY = Math.max(0, Math.min(50, y + 30) - Math.max(-50, y - 30));
        fc.pre(Math.abs(overlapX * overlapY - 1) > 1e-3);
        expect(here.length).toBe(overlapX * overlapY > 1 ? 1 : 0);
        const there = facePatches(placeSolid(a, frame), placeSolid(b, frame), 0.5);
        const back = facePatches(b, a, 0.5);
        expect([there.length, back.length]).toEqual([here.length, here.length]);
        if (here.length === 0) return;
        expect(here[0]!.area).toBeCloseTo(overlapX * overlapY, 4);
        expect(there[0]!.area).toBeCloseTo(here[0]!.area, 4);
        expect(there[0]!.gap).toBeCloseTo(gap, 5);
        expect(back[0]!.gap).toBeCloseTo(gap, 5);
        const face = placeSolid(a, frame).faces[4]!;
        for (const corner of there[0]!.polygon) expect(dot(face.normal, corner)).toBeCloseTo(face.offset, 8);
      }),
      RUNS,
    );
  });
});

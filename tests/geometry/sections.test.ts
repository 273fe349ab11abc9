import { describe, expect, it } from 'vitest';
import { cutPlate, polygonPrism } from '../../src/geometry/cut-shapes.js';
import { combineMass, pieceMass } from '../../src/geometry/mass.js';
import { polygonArea } from '../../src/geometry/polygon.js';
import { facetCount } from '../../src/geometry/round.js';
import { angle, channel, iSection, roundBar, roundHollowSection } from '../../src/geometry/sections.js';
import { block, rectangularHollowSection } from '../../src/geometry/shapes.js';
import type { Solid } from '../../src/geometry/solid.js';
import { dot } from '../../src/geometry/vector.js';

const area = (solid: Solid, id: string): number =>
  solid.faces
    .find((face) => face.id === id)!
    .polygons.reduce((sum, polygon) => sum + polygonArea(polygon), 0);

/** Volume, centre and inertia by summing over the tetrahedra of the pieces: another way than over the section. */
function expectMassOfPieces(solid: Solid): void {
  const pieces = combineMass(solid.pieces.map(pieceMass));
  expect(pieces.volume).toBeCloseTo(solid.volume, 4);
  solid.centre.forEach((x, i) => expect(pieces.centre[i]).toBeCloseTo(x, 8));
  const size = Math.max(...solid.inertia);
  solid.inertia.forEach((x, i) => expect(Math.abs(pieces.inertia[i]! - x)).toBeLessThan(1e-9 * size));
}

/** Every face lies in its plane, turns counter-clockwise and closes the surface: the area vectors add up to nothing. */
function expectClosed(solid: Solid): void {
  const sum = [0, 0, 0];
  for (const { normal, offset, polygons } of solid.faces)
    for (const polygon of polygons) {
      for (const corner of polygon) expect(dot(normal, corner)).toBeCloseTo(offset, 9);
      normal.forEach((x, i) => (sum[i]! += x * polygonArea(polygon)));
    }
  for (const x of sum) expect(Math.abs(x)).toBeLessThan(1e-6);
  expect(new Set(solid.faces.map(({ id }) => id)).size).toBe(solid.faces.length);
}

const CUT = cutPlate(
  [
    [0, 0],
    [200, 0],
    [200, 100],
    [0, 100],
  ],
  [
    {
      outline: [
        [20, 20],
        [60, 20],
        [60, 60],
      ],
    },
  ],
  10,
);

describe('sections', () => {
  const all: readonly (readonly [string, Solid])[] = [
    ['angle', angle(300, 60, 80, 6)],
    ['channel', channel(300, 100, 50, 6, 8.5)],
    ['i-section', iSection(300, 100, 55, 4.1, 5.7)],
    ['cut plate', CUT],
    [
      'prism',
      polygonPrism(120, [
        [0, 0],
        [60, 0],
        [40, 20],
        [0, 50],
      ]),
    ],
  ];
  it.each(all)('%s: the mass of its pieces, and a closed surface', (_, solid) => {
    expectMassOfPieces(solid);
    expectClosed(solid);
  });

  // Closed formulas for sharp-cornered sections, as any table of section properties derives them: rectangles by b h^3 / 12
  // and the parallel-axis theorem. They are written out here anew, about other axes than the code uses.
  it('an angle L 80 x 60 x 6 has its centre of area where the tables put it', () => {
    const [b, h, t, long] = [60, 80, 6, 1000];
    const solid = angle(long, b, h, t);
    const a = t * (b + h - t);
    expect(solid.volume).toBeCloseTo(a * long, 6);
    const y = (b * b * t + (h - t) * t * t) / 2 / a;
    const z = (h * h * t + (b - t) * t * t) / 2 / a;
    expect(solid.centre[1]).toBeCloseTo(y - b / 2, 9);
    expect(solid.centre[2]).toBeCloseTo(z - h / 2, 9);
    // About the back of the long leg: t h^3 / 3 + (b - t) t^3 / 3, less the way to the centre.
    const aboutY = (t * h ** 3 + (b - t) * t ** 3) / 3 - a * z * z;
    expect(solid.inertia[4]).toBeCloseTo(aboutY * long + (a * long ** 3) / 12, -1);
  });

  it('a channel and an I-section have their second moments: the box less what is cut out', () => {
    const [h, b, s, t, long] = [100, 50, 6, 8.5, 700];
    const strong = (b * h ** 3 - (b - s) * (h - 2 * t) ** 3) / 12;
    const a = b * h - (b - s) * (h - 2 * t);
    for (const solid of [channel(long, h, b, s, t), iSection(long, h, b, s, t)]) {
      expect(solid.volume).toBeCloseTo(a * long, 6);
      expect(solid.inertia[4] / (strong * long + (a * long ** 3) / 12)).toBeCloseTo(1, 12);
    }
    const weak = (2 * t * b ** 3 + (h - 2 * t) * s ** 3) / 12;
    expect(iSection(long, h, b, s, t).inertia[8] / (weak * long + (a * long ** 3) / 12)).toBeCloseTo(1, 12);
    const back = ((b * b * h) / 2 - (h - 2 * t) * (b - s) * (s + (b - s) / 2)) / a;
    expect(channel(long, h, b, s, t).centre[1]).toBeCloseTo(back - b / 2, 9);
  });

  it('round ones have the true circle: pi d^4 / 64, and m (r^2 / 4 + l^2 / 12) across', () => {
    const [d, t, long] = [76.1, 5, 400];
    const bar = roundBar(long, d);
    expect(bar.volume).toBeCloseTo((Math.PI * d * d * long) / 4, 6);
    expect(bar.inertia[0]).toBeCloseTo((bar.volume * d * d) / 8, 4);
    expect(bar.inertia[4]).toBeCloseTo(bar.volume * ((d * d) / 16 + long ** 2 / 12), 2);
    const tube = roundHollowSection(long, d, t);
    const second = (Math.PI * (d ** 4 - (d - 2 * t) ** 4)) / 64;
    expect(tube.volume).toBeCloseTo((Math.PI * (d * d - (d - 2 * t) ** 2) * long) / 4, 6);
    expect(tube.inertia[0] / (2 * second * long)).toBeCloseTo(1, 12);
  });

  it.each([5, 20, 38, 60, 150, 230])(
    'a round bar of radius %i is contained, at most 0.5 mm off',
    (radius) => {
      const { pieces, faces } = roundBar(100, 2 * radius);
      for (const [, y, z] of pieces[0]!.vertices) {
        expect(Math.hypot(y, z)).toBeGreaterThan(radius);
        expect(Math.hypot(y, z)).toBeLessThan(radius + 0.5 + 1e-9);
      }
      for (const face of faces.filter(({ curved }) => curved)) expect(face.offset).toBeCloseTo(radius, 9);
      // A facet looks squarely along each of +y, -y, +z, -z.
      for (const axis of [
        [0, 1, 0],
        [0, -1, 0],
        [0, 0, 1],
        [0, 0, -1],
      ] as const)
        expect(Math.max(...faces.map(({ normal }) => dot(normal, axis)))).toBeCloseTo(1, 12);
      expect(facetCount(radius) % 4).toBe(0);
    },
  );

  it('the wall of a tube is nowhere thinner than it is, and round faces say so', () => {
    const tube = roundHollowSection(100, 60, 4);
    const inner = tube.faces.filter(({ id }) => id.startsWith('bore-'));
    for (const { polygons } of inner)
      for (const [, y, z] of polygons[0]!) expect(Math.hypot(y, z)).toBeCloseTo(26, 9);
    expect(tube.faces.filter(({ curved }) => curved === undefined).map(({ id }) => id)).toEqual(['+x', '-x']);
    expectClosed(tube);
  });

  it('a plate with holes: area less theirs, the round one by its true circle', () => {
    expect(area(CUT, '+z')).toBeCloseTo(200 * 100 - 800, 9);
    expect(CUT.faces.map(({ id }) => id)).toEqual([
      ...['+x', '-x', '+y', '-y', '+z', '-z'],
      ...['hole-1-1', 'hole-1-2', 'hole-1-3'],
    ]);
    const drilled = cutPlate(
      [
        [-50, -50],
        [50, -50],
        [50, 50],
        [-50, 50],
      ],
      [{ at: [10, 0], diameter: 40 }],
      8,
    );
    const hole = Math.PI * 400;
    expect(drilled.volume).toBeCloseTo(8 * (10000 - hole), 6);
    expect(drilled.centre[0]).toBeCloseTo((-10 * hole) / (10000 - hole), 9);
  });

  it('an outline keeps the side it is given from: names by corner, either way round', () => {
    const corners = [
      [0, 0],
      [80, 0],
      [80, 30],
      [50, 60],
      [0, 60],
    ] as const;
    const forward = cutPlate(corners, [], 6);
    expect(forward.faces.map(({ id }) => id)).toEqual(['-x', '-y', '+z', '-z', 'side-2', 'side-3', 'side-4']);
    const back = cutPlate([...corners].reverse(), [], 6);
    const normals = (solid: Solid): string[] =>
      solid.faces.map(({ normal, offset }) => [...normal, offset].map((x) => x.toFixed(6)).join()).sort();
    expect(normals(back)).toEqual(normals(forward));
    expect(back.volume).toBe(forward.volume);
  });

  it('a rectangle drawn as a prism is a block', () => {
    const drawn = polygonPrism(100, [
      [-30, -4],
      [30, -4],
      [30, 4],
      [-30, 4],
    ]);
    const plain = block(100, 60, 8);
    expect(drawn.faces.map(({ id, normal, offset }) => ({ id, normal, offset }))).toEqual(
      plain.faces.map(({ id, normal, offset }) => ({ id, normal, offset })),
    );
    expect(drawn.inertia.map((x) => Math.round(x))).toEqual(plain.inertia.map((x) => Math.round(x)));
  });

  it('names inner faces as the hollow section does', () => {
    const names = (solid: Solid): string[] => solid.faces.map(({ id }) => id);
    expect(names(rectangularHollowSection(100, 60, 60, 4))).toContain('inner-z');
    const inside = angle(100, 60, 60, 6).faces.find(({ id }) => id === 'inner-z')!;
    expect(inside.normal).toEqual([0, 0, 1]);
    expect(inside.offset).toBe(-24);
  });
});

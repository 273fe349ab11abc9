import { describe, expect, it } from 'vitest';
import { frustumPiece } from '../../../../src/geometry/convex.js';
import { cross, distance, dot, type Vec3 } from '../../../../src/geometry/vector.js';
import { shapeSolid } from '../../../../src/model/part-geometry.js';
import type { Shape } from '../../../../src/model/shape.js';
import { meshOf, meshOfPieces } from '../../../../src/report/page/data/mesh.js';
import type { PageMesh } from '../../../../src/report/page/page-data.js';

const cornerOf = ({ corners }: PageMesh, i: number): Vec3 => [
  corners[3 * i]!,
  corners[3 * i + 1]!,
  corners[3 * i + 2]!,
];

/** By the divergence theorem: the signed volumes of the tetrahedra from the origin to each triangle. */
function volumeOf(mesh: PageMesh): number {
  let six = 0;
  for (let i = 0; i < mesh.triangles.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => cornerOf(mesh, mesh.triangles[i + k]!));
    six += dot(a!, cross(b!, c!));
  }
  return six / 6;
}

const edgeLength = (mesh: PageMesh): number =>
  Array.from({ length: mesh.edges.length / 2 }, (_, i) =>
    distance(cornerOf(mesh, mesh.edges[2 * i]!), cornerOf(mesh, mesh.edges[2 * i + 1]!)),
  ).reduce((sum, one) => sum + one, 0);

const PLATE: Shape = { kind: 'plate', length: 320, width: 220, height: 10 };
const CUT: Shape = {
  kind: 'cut-plate',
  outline: [
    [0, 0],
    [200, 0],
    [200, 50],
    [50, 50],
    [50, 150],
    [0, 150],
  ],
  holes: [
    {
      outline: [
        [10, 10],
        [40, 10],
        [40, 30],
        [10, 30],
      ],
    },
    {
      outline: [
        [100, 10],
        [150, 10],
        [125, 40],
      ],
    },
  ],
  thickness: 8,
};
const HOLLOW: Shape = { kind: 'rectangular-hollow-section', length: 340, width: 60, height: 80, wall: 5 };

describe('a mesh of a solid', () => {
  // Areas in closed form: an L of 200 x 50 and 50 x 100 less a rectangle of 30 x 20 and a triangle of 50 x 30 / 2.
  it.each([
    ['a plate', PLATE, 320 * 220 * 10],
    ['a plate with corners and holes', CUT, (200 * 50 + 50 * 100 - 30 * 20 - (50 * 30) / 2) * 8],
    ['a hollow section', HOLLOW, 340 * (60 * 80 - 50 * 70)],
    [
      'an angle',
      { kind: 'angle', length: 100, width: 60, height: 40, thickness: 5 },
      100 * (60 * 5 + 35 * 5),
    ],
  ] as readonly (readonly [string, Shape, number])[])('encloses the volume of %s', (_, shape, volume) => {
    const mesh = meshOf(shapeSolid(shape));
    expect(Math.abs(volumeOf(mesh) / volume - 1)).toBeLessThan(1e-6);
    expect(Math.abs(shapeSolid(shape).volume / volume - 1)).toBeLessThan(1e-9);
  });

  it('has the sharp edges of a plate, of its holes and of a hollow section, and no others', () => {
    expect(meshOf(shapeSolid(PLATE)).edges).toHaveLength(2 * 12);
    // Around the outline 700 mm, around the holes 100 and 50 + 2 sqrt(25^2 + 30^2); above, below, and 13 corners.
    const around = 700 + 100 + 50 + 2 * Math.hypot(25, 30);
    expect(edgeLength(meshOf(shapeSolid(CUT)))).toBeCloseTo(2 * around + 13 * 8, 1);
    expect(edgeLength(meshOf(shapeSolid(HOLLOW)))).toBeCloseTo(8 * 340 + 4 * (60 + 80) + 4 * (50 + 70), 6);
  });

  it('has no edges along a round bar, only around its ends', () => {
    const mesh = meshOf(shapeSolid({ kind: 'round-bar', length: 100, diameter: 40 }));
    const facets = mesh.corners.length / 6;
    expect(facets).toBeGreaterThanOrEqual(12);
    expect(mesh.edges).toHaveLength(2 * 2 * facets);
    const area = facets * 20 ** 2 * Math.tan(Math.PI / facets);
    expect(volumeOf(mesh) / (area * 100)).toBeCloseTo(1, 3);
  });

  it('has each corner once, and triangles of corners that it has', () => {
    const { corners, triangles } = meshOf(shapeSolid(CUT));
    expect(corners).toHaveLength(3 * 2 * (6 + 4 + 3));
    expect(Math.max(...triangles)).toBe(corners.length / 3 - 1);
  });

  it('takes frusta for round where it is told so', () => {
    const piece = frustumPiece(10, 0, 12, 50, 12);
    expect(meshOfPieces([piece], true).edges).toHaveLength(2 * 24);
    expect(meshOfPieces([piece], false).edges).toHaveLength(2 * 36);
    expect(meshOfPieces([piece, piece], true).triangles).toHaveLength(2 * 3 * (2 * 10 + 12 * 2));
  });
});

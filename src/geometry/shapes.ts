import { boxPiece } from './convex.js';
import { boxMass, cavity, combineMass } from './mass.js';
import type { PlanarFace, Solid } from './solid.js';
import { makeSolid } from './solid.js';
import type { Vec3 } from './vector.js';
import { dot, negate, scale, withPlainZeros } from './vector.js';

/** An axis-parallel box by its least and greatest corner, mm. */
interface Extent {
  readonly low: Vec3;
  readonly high: Vec3;
}

type Axis = 0 | 1 | 2;

const NAMES = ['x', 'y', 'z'] as const;
const UNITS: readonly [Vec3, Vec3, Vec3] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

const centred = (sizes: Vec3): Extent => ({ low: scale(sizes, -0.5), high: scale(sizes, 0.5) });

function requireSizes(sizes: Readonly<Record<string, number>>): void {
  for (const [name, size] of Object.entries(sizes))
    if (!(size > 0 && Number.isFinite(size)))
      throw new RangeError(`${name} must be a positive length, not ${size}`);
}

/** The side of a box that looks along +axis or -axis, counter-clockwise seen from there. */
function sideOf(extent: Extent, axis: Axis, sign: 1 | -1): readonly Vec3[] {
  const [u, v] = [((axis + 1) % 3) as Axis, ((axis + 2) % 3) as Axis];
  const corner = (atU: number, atV: number): Vec3 => {
    const point: [number, number, number] = [0, 0, 0];
    point[axis] = sign > 0 ? extent.high[axis] : extent.low[axis];
    point[u] = atU;
    point[v] = atV;
    return point;
  };
  const { low, high } = extent;
  const loop = [
    corner(low[u], low[v]),
    corner(high[u], low[v]),
    corner(high[u], high[v]),
    corner(low[u], high[v]),
  ];
  return sign > 0 ? loop : loop.reverse();
}

/** A face along +axis or -axis made of the sides of one or more boxes. */
function faceOf(id: string, extents: readonly Extent[], axis: Axis, sign: 1 | -1): PlanarFace {
  const normal = withPlainZeros(scale(UNITS[axis], sign));
  const polygons = extents.map((extent) => sideOf(extent, axis, sign));
  return { id, normal, offset: dot(normal, polygons[0]![0]!), polygons };
}

const pieceOf = ({ low, high }: Extent) =>
  boxPiece(
    [(high[0] - low[0]) / 2, (high[1] - low[1]) / 2, (high[2] - low[2]) / 2],
    [(high[0] + low[0]) / 2, (high[1] + low[1]) / 2, (high[2] + low[2]) / 2],
  );

/**
 * A block centred on its origin: length along x, width along y, height along z (mm). Faces are named "+x", "-x",
 * "+y", "-y", "+z", "-z" after their outward normals. Throws a RangeError for a size that is not positive.
 */
export function block(length: number, width: number, height: number): Solid {
  requireSizes({ length, width, height });
  const extent = centred([length, width, height]);
  const faces = ([0, 1, 2] as const).flatMap((axis) => [
    faceOf(`+${NAMES[axis]}`, [extent], axis, 1),
    faceOf(`-${NAMES[axis]}`, [extent], axis, -1),
  ]);
  return makeSolid([pieceOf(extent)], faces, boxMass([length, width, height]));
}

/** A flat plate centred on its origin: length along x, width along y, thickness along z (mm); faces as of a block. */
export const plate = (length: number, width: number, thickness: number): Solid =>
  block(length, width, thickness);

/** The four walls of a hollow section: those across z over the full width, those across y between them. */
function walls([length, width, height]: Vec3, wall: number): readonly Extent[] {
  const [x, y, z] = [length / 2, width / 2, height / 2];
  return [
    { low: [-x, y - wall, -(z - wall)], high: [x, y, z - wall] },
    { low: [-x, -y, -(z - wall)], high: [x, -(y - wall), z - wall] },
    { low: [-x, -y, z - wall], high: [x, y, z] },
    { low: [-x, -y, -z], high: [x, y, -(z - wall)] },
  ];
}

/**
 * A rectangular hollow section with sharp corners, centred on its origin: length along x, outer width along y, outer
 * height along z, wall thickness all round (mm). Faces: "+y", "-y", "+z", "-z" outside; the ends "+x" and "-x", rings
 * of four rectangles; and "inner+y", "inner-y", "inner+z", "inner-z", the insides of the walls on those sides, whose
 * normals point into the cavity (that of "inner+y" is -y). Throws a RangeError for a size that is not positive or a
 * wall that fills the section.
 */
export function rectangularHollowSection(length: number, width: number, height: number, wall: number): Solid {
  requireSizes({ length, width, height, wall });
  if (2 * wall >= Math.min(width, height)) throw new RangeError(`a wall of ${wall} mm fills the section`);
  const outerSizes: Vec3 = [length, width, height];
  const innerSizes: Vec3 = [length, width - 2 * wall, height - 2 * wall];
  const [outer, inner, ring] = [centred(outerSizes), centred(innerSizes), walls(outerSizes, wall)];
  const acrossSection = ([1, 2] as const).flatMap((axis) =>
    ([1, -1] as const).map((sign) => ({ axis, sign, side: `${sign > 0 ? '+' : '-'}${NAMES[axis]}` })),
  );
  const faces = [
    faceOf('+x', ring, 0, 1),
    faceOf('-x', ring, 0, -1),
    ...acrossSection.map(({ axis, sign, side }) => faceOf(side, [outer], axis, sign)),
    ...acrossSection.map(({ axis, sign, side }) => turnedOver(faceOf(`inner${side}`, [inner], axis, sign))),
  ];
  const mass = combineMass([boxMass(outerSizes), cavity(boxMass(innerSizes))]);
  return makeSolid(ring.map(pieceOf), faces, mass);
}

/** The same rectangle seen from its other side: what bounds a cavity bounds the matter around it. */
const turnedOver = (face: PlanarFace): PlanarFace => ({
  id: face.id,
  normal: withPlainZeros(negate(face.normal)),
  offset: -face.offset,
  polygons: face.polygons.map((polygon) => [...polygon].reverse()),
});

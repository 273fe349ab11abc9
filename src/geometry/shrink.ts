import type { ConvexPiece, Plane } from './convex.js';
import { flatten } from './convex.js';
import type { Vec3 } from './vector.js';
import { add, cross, dot, scale, subtract } from './vector.js';

/** The least extent of a piece across any of its faces, mm. */
const leastWidth = (piece: ConvexPiece): number =>
  Math.min(
    ...piece.planes.map(({ normal, offset }) =>
      Math.max(...piece.vertices.map((vertex) => offset - dot(normal, vertex))),
    ),
  );

/** The vector whose products with all normals come nearest to 1 (least squares, by Cramer's rule). */
function commonStep(normals: readonly Vec3[]): Vec3 {
  const column = (axis: 0 | 1 | 2): Vec3 =>
    normals.reduce<Vec3>((sum, normal) => add(sum, scale(normal, normal[axis])), [0, 0, 0]);
  const [a, b, c] = [column(0), column(1), column(2)];
  const sum = normals.reduce(add);
  const determinant = dot(a, cross(b, c));
  return [
    dot(sum, cross(b, c)) / determinant,
    dot(a, cross(sum, c)) / determinant,
    dot(a, cross(b, sum)) / determinant,
  ];
}

/**
 * How a corner must move, for each millimetre, to come at least 1 mm behind every face that meets there: exactly 1 mm
 * behind each where three meet or the faces are alike. Negated, since normals point out.
 */
function stepInwards(planes: readonly Plane[], corner: Vec3, middle: Vec3): Vec3 {
  const normals = planes.map((plane) => plane.normal);
  const least = (step: Vec3): number => Math.min(...normals.map((normal) => dot(normal, step)));
  const common = commonStep(normals);
  const step = least(common) > 0.1 ? common : subtract(corner, middle);
  return scale(step, -1 / least(step));
}

/**
 * The corners (flat x, y, z) of a convex piece after every face has moved in by `distance` mm, but by no more than a
 * quarter of its least width, so that something is always left.
 */
export function shrunkCorners(piece: ConvexPiece, distance: number): Float64Array {
  const width = leastWidth(piece);
  const by = Math.min(distance, width / 4);
  const middle = scale(piece.vertices.reduce(add), 1 / piece.vertices.length);
  const corners = piece.vertices.map((corner, number) => {
    const meeting = piece.planes.filter((_, face) => piece.faces[face]!.includes(number));
    return add(corner, scale(stepInwards(meeting, corner, middle), by));
  });
  return flatten(corners);
}

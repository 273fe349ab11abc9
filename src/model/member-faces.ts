import { memberFace } from '../geometry/compound.js';
import { shapeSolid } from './part-geometry.js';
import type { FaceName } from './scalars.js';
import type { Shape } from './shape.js';

/** Members by the names of their faces, found once for each shape. */
const BY_FACE = new WeakMap<Shape, ReadonlyMap<FaceName, string>>();

/** The member that a face of a group belongs to; undefined where the shape is no group, or has no such face. */
export function memberOfFace(shape: Shape, face: FaceName): string | undefined {
  if (shape.kind !== 'group') return undefined;
  let byFace = BY_FACE.get(shape);
  if (!byFace) {
    byFace = new Map(
      shape.members.flatMap(({ id, shape: own }) =>
        shapeSolid(own).faces.map((one) => [memberFace(id, one.id), id] as const),
      ),
    );
    BY_FACE.set(shape, byFace);
  }
  return byFace.get(face);
}

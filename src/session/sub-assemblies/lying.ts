import { restsOf } from '../../facts/rests.js';
import { dot } from '../../geometry/vector.js';
import { groupShape } from '../../model/group-part.js';
import { memberOfFace } from '../../model/member-faces.js';
import { shapeSolid } from '../../model/part-geometry.js';
import { restPlanes, type RestPlane } from '../../model/part-rests.js';
import type { FaceName } from '../../model/scalars.js';
import { TOUCHES } from '../../model/scene.js';
import type { Settings } from '../../model/settings.js';
import type { Shape } from '../../model/shape.js';
import type { SubAssembly } from '../../model/sub-assembly.js';
import type { Weldment } from '../../model/weldment.js';

/** Directions nearer than this are one: cosine. */
const SAME = 1 - 1e-6;

/**
 * The rests on which a sub-assembly may be built and lie: its own where it has one, else the stable ones on which a part of it has
 * a face on the table, so that it can be the first; faces of parts before rests on several, the lowest first.
 */
export function lyingRests(weldment: Weldment, group: SubAssembly, settings: Settings): readonly FaceName[] {
  if (group.rest !== undefined) return [group.rest];
  const shape = groupShape(weldment, group);
  const standing = standingRests(shape);
  const stable = restsOf(group.name, shape, settings).flatMap(({ face, refusal }) =>
    refusal || !standing.has(face) ? [] : [face],
  );
  const isFace = (rest: FaceName): boolean => memberOfFace(shape, rest) !== undefined;
  return [...stable.filter(isFace), ...stable.filter((rest) => !isFace(rest))];
}

/** The rests in whose plane a face of some part lies. */
function standingRests(shape: Shape): ReadonlySet<FaceName> {
  const { faces } = shapeSolid(shape);
  const lies = ({ normal, offset }: RestPlane): boolean =>
    faces.some((face) => dot(face.normal, normal) > SAME && Math.abs(face.offset - offset) <= TOUCHES);
  return new Set(restPlanes(shape).flatMap((plane) => (lies(plane) ? [plane.name] : [])));
}

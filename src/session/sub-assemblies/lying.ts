import { restsOf } from '../../facts/rests.js';
import { groupShape } from '../../model/group-part.js';
import { memberOfFace } from '../../model/member-faces.js';
import type { FaceName } from '../../model/scalars.js';
import type { Settings } from '../../model/settings.js';
import type { SubAssembly } from '../../model/sub-assembly.js';
import type { Weldment } from '../../model/weldment.js';

/**
 * The rests on which a sub-assembly may be built and lie: its own where it has one, else the stable ones, faces of parts before
 * rests on edges or on several parts, the lowest first.
 */
export function lyingRests(weldment: Weldment, group: SubAssembly, settings: Settings): readonly FaceName[] {
  if (group.rest !== undefined) return [group.rest];
  const shape = groupShape(weldment, group);
  const stable = restsOf(group.name, shape, settings).flatMap(({ face, refusal }) => (refusal ? [] : [face]));
  const isFace = (rest: FaceName): boolean => memberOfFace(shape, rest) !== undefined;
  return [...stable.filter(isFace), ...stable.filter((rest) => !isFace(rest))];
}

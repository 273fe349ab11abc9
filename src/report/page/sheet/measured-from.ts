import { inverse } from '../../../geometry/pose.js';
import { placeSolid } from '../../../geometry/solid.js';
import { distance } from '../../../geometry/vector.js';
import type { GeometricPlan, ManualPlanTack, PlanJoint } from '../../../model/plan.js';
import type { Scene } from '../../../model/scene.js';
import { plain } from '../../plain.js';
import { namedEdge, type EdgedPart, type NamedEdge } from './named-edge.js';

/** The parts of a joint where the weldment file has them. */
const partsOf = ({ between }: PlanJoint, { parts, index, cell }: Scene): readonly EdgedPart[] => {
  const back = inverse(cell.weldmentPose);
  return between.flatMap((name) => {
    const at = index.get(name);
    return at === undefined ? [] : [{ name, solid: placeSolid(parts[at]!.solid, back) }];
  });
};

/** From where the place of a tack is measured along its seam; its start where the plan states no such seam, or one without length. */
export function measuredFrom(tack: ManualPlanTack, { joints }: GeometricPlan, scene: Scene): NamedEdge {
  const joint = joints.find(({ id }) => id === tack.joint);
  const seam = joint?.seams.find(({ id }) => id === tack.seam);
  return joint && seam && distance(seam.from, seam.to) > 0
    ? namedEdge(seam, partsOf(joint, scene))
    : { part: undefined, text: plain(tack.seam), offset: 0 };
}

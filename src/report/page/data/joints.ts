import { place } from '../../../geometry/pose.js';
import type { GeometricContext } from '../page-context.js';
import type { PageJoint } from '../page-data.js';
import { pagePoint } from './rounding.js';

/** The joints in the order of the plan, which their picks count by; one of a part that is not there has -1 for it. */
export const pageJoints = ({ plan, cell, scene }: GeometricContext): readonly PageJoint[] =>
  plan.joints.map(({ between: [a, b], seams }, i) => ({
    pick: `joint:${i}`,
    between: [scene.index.get(a) ?? -1, scene.index.get(b) ?? -1],
    seams: seams.map(({ from, to }) => [
      pagePoint(place(cell.weldmentPose, from)),
      pagePoint(place(cell.weldmentPose, to)),
    ]),
  }));

import { distance, type Vec3 } from '../geometry/vector.js';
import { facetsToward, insidePoints } from './facets.js';
import { VIEWS, type View } from './isometric.js';
import type { DrawnSet } from './part-set-view.js';
import { isHidden, sightRuns } from './sight.js';

/** How many of the parts are wholly out of sight. */
function outOfSight({ solids }: DrawnSet, { toward }: View): number {
  const all = [...solids.values()];
  return all.filter((solid) =>
    facetsToward(solid, toward, 0)
      .flatMap(insidePoints)
      .every((point) => isHidden(point, toward, all)),
  ).length;
}

/** Millimetres of the drawn seams in sight, and a quarter of those of the newcomer's edges. */
function seen({ solids, joints, view: { newcomer } }: DrawnSet, { toward }: View): number {
  const all = [...solids.values()];
  const visible = (from: Vec3, to: Vec3): number =>
    sightRuns(from, to, toward, all).reduce(
      (sum, run) => sum + (run.hidden ? 0 : distance(run.from, run.to)),
      0,
    );
  const seams = joints.flatMap((joint) => joint.seams);
  const own = newcomer === undefined ? [] : solids.get(newcomer)!.faces.flatMap(({ polygons }) => polygons);
  const sides = own.flatMap((polygon) =>
    polygon.map((corner, i) => visible(corner, polygon[(i + 1) % polygon.length]!)),
  );
  return (
    seams.reduce((sum, { from, to }) => sum + visible(from, to), 0) +
    sides.reduce((sum, length) => sum + length, 0) / 4
  );
}

/** Another view than the usual one must show this many times more. */
const CLEARLY_MORE = 1.15;

/** The view with the fewest parts out of sight; of those the usual one, unless another shows clearly more. */
export function bestView(set: DrawnSet): View {
  const judged = VIEWS.map((view, i) => ({
    view,
    lost: outOfSight(set, view),
    shown: seen(set, view) * (i === 0 ? CLEARLY_MORE : 1),
  }));
  return judged.reduce((best, next) =>
    next.lost < best.lost || (next.lost === best.lost && next.shown > best.shown * (1 + 1e-9)) ? next : best,
  ).view;
}

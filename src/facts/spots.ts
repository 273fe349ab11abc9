import { snap } from '../base/order.js';
import { IDENTITY, type Pose } from '../geometry/pose.js';
import { placeSolid } from '../geometry/solid.js';
import { shapeSolid } from '../model/part-geometry.js';
import { lyingPose } from '../model/placement.js';
import type { FaceName } from '../model/scalars.js';
import type { Scene } from '../model/scene.js';
import type { Shape } from '../model/shape.js';
import { lyingOverOpening, type StationName } from '../model/stations.js';

/** Where and how a part lies at a station. */
export interface Spot {
  readonly station: StationName;
  readonly face: FaceName;
  /** Pose of the part in the cell. */
  readonly pose: Pose;
}

/** The way a part lies at the infeed and every way it could lie on the regrip table. */
export const infeedSpot = (scene: Scene, shape: Shape, face: FaceName): Spot => ({
  station: 'infeed',
  face,
  pose: lyingPose(shape, face, scene.cell.infeed.pose, 0),
});

/** Every way a part could lie on the regrip table, turned by quarters, without hanging over its edge. */
export function regripSpots(scene: Scene, shape: Shape, face: FaceName): readonly Spot[] {
  const { pose: station, size } = scene.cell.regrip;
  return [0, 1, 2, 3].flatMap((quarter): Spot[] => {
    const yaw = (quarter * Math.PI) / 2;
    const { low, high } = placeSolid(shapeSolid(shape), lyingPose(shape, face, IDENTITY, yaw)).bounds;
    const over = [0, 1].some(
      (axis) => snap(high[axis as 0 | 1] - low[axis as 0 | 1] - size[axis as 0 | 1], 1e-6) > 0,
    );
    return over ? [] : [{ station: 'regrip', face, pose: lyingPose(shape, face, station, yaw) }];
  });
}

/** Every way a part could lie over the opening of the two-sided stand, turned by quarters. */
export function standSpots(scene: Scene, shape: Shape, face: FaceName): readonly Spot[] {
  const stand = scene.cell.twoSided;
  if (stand === undefined) return [];
  return [0, 1, 2, 3].flatMap((quarter): Spot[] => {
    const pose = lyingPose(shape, face, stand.pose, (quarter * Math.PI) / 2);
    const { rim, over } = lyingOverOpening(stand, placeSolid(shapeSolid(shape), pose));
    const bridges = snap(rim - stand.overlap, 1e-6) >= 0 && snap(over, 1e-6) <= 0;
    return bridges ? [{ station: 'two-sided', face, pose }] : [];
  });
}

import { compose, translate, type Pose } from '../../../geometry/pose.js';
import { scale, type Vec3 } from '../../../geometry/vector.js';
import type { PagePart, PagePlace } from '../../../report/page/page-data.js';
import { exaggerated, type Moved } from './distortion.js';
import { poseOf } from './poses.js';
import { SAME } from './stages.js';

/** Where a part is at a moment; undefined of one that is nowhere. */
export const placeAt = ({ places }: PagePart, time: number): PagePlace | undefined =>
  places.findLast(({ from }) => from <= time + SAME / 10);

/** What moves parts at a moment beside their own places. */
export interface Around {
  /** Of the flange of each robot, in the cell. */
  readonly flanges: readonly (Pose | undefined)[];
  /** What the turn of the work table does. */
  readonly table: Pose;
  /** What is predicted for each part at the moment, by its index. */
  readonly moved: readonly (Moved | undefined)[];
  /** How many times the predicted distortion is drawn. */
  readonly factor: number;
  /** How far each part is pulled out at full explosion, by its index. */
  readonly offsets: readonly (Vec3 | undefined)[];
  /** 0 to 1. */
  readonly exploded: number;
}

/** Pose in the cell of a part that is somewhere; undefined where who carries it is nowhere. */
export function partPose(part: number, place: PagePlace, around: Around): Pose | undefined {
  const own = poseOf(place.pose);
  if (place.where === 'carried') {
    const flange = around.flanges[place.robot ?? -1];
    return flange && compose(flange, own);
  }
  if (place.where !== 'in-place') return own;
  const moved = exaggerated(around.moved[part], around.factor);
  const out = around.offsets[part];
  const there = moved ? compose(moved, own) : own;
  return compose(around.table, out ? translate(there, scale(out, around.exploded)) : there);
}

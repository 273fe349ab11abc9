import { intersects, setOf } from '../base/part-set.js';
import { place, rotate } from '../geometry/pose.js';
import { along, subtract, unit, type Vec3 } from '../geometry/vector.js';
import type { Torch } from '../model/cell.js';
import type { Scene } from '../model/scene.js';
import { clearOfCorners } from '../model/seam-relations.js';
import type { Settings } from '../model/settings.js';
import { endMargin } from '../model/tack-settings.js';
import { solidsOverlap } from '../geometry/separation.js';
import type { Solid } from '../geometry/solid.js';
import { tackBead } from '../model/bead.js';
import type { Joint, JointSeam } from './joints.js';
import { torchWays, type TorchWay } from './torch-ways.js';

/** A candidate place for a tack, with the ways of one torch onto it. Cell frame, mm. */
export interface TackSite {
  readonly joint: Joint;
  readonly seam: JointSeam;
  /** Along the seam from its `from` end. */
  readonly start: number;
  readonly length: number;
  readonly from: Vec3;
  readonly to: Vec3;
  readonly middle: Vec3;
  /** Unit, along the seam and out of it. */
  readonly along: Vec3;
  readonly open: Vec3;
  readonly leg: number;
  /** The metal it leaves. */
  readonly bead: Solid;
  /** Torch ways that the two parts themselves, the table and the keep-outs leave, the bisector first. */
  readonly ways: readonly TorchWay[];
  /** Those that they do not leave; none of either kind where the welding position is not allowed. */
  readonly blocked: readonly TorchWay[];
}

/** A site, and the tack on it, by its seam and where on it it starts. */
export const siteId = ({ seam, start }: TackSite): string => `${seam.id}@${start}`;

/** Starts of candidate tacks along a seam: every step from one end allowance to the other, both included. */
export function siteStarts(
  seamLength: number,
  tackLength: number,
  endDistance: number,
  step: number,
): number[] {
  const last = seamLength - endDistance - tackLength;
  if (last < endDistance + 0.1) return [Math.floor(Math.max(0, seamLength - tackLength) * 5 + 1e-6) / 10];
  const count = Math.max(1, Math.floor((last - endDistance) / step));
  return Array.from(
    { length: count + 1 },
    (_, i) => Math.floor((endDistance + ((last - endDistance) * i) / count) * 10 + 1e-6) / 10,
  );
}

/** Leg of the tacks of a joint, mm: never more than the final leg. */
export const tackLeg = (joint: Joint, settings: Settings): number => Math.min(settings.tacks.leg, joint.leg);

/**
 * All candidate sites of one seam for tacks of one length by one torch, in order along it; the places are the same for
 * every torch. None where the metal would be in the place of another part, whether that part comes before or after, or
 * nearer to a corner on the seam (mm along it) than the settings allow.
 */
export function sitesOfSeam(
  scene: Scene,
  torch: Torch,
  joint: Joint,
  seam: JointSeam,
  tackLength: number,
  settings: Settings,
  corners: readonly number[],
): readonly TackSite[] {
  const frame = scene.cell.weldmentPose;
  const way = rotate(frame.turn, unit(subtract(seam.to, seam.from)));
  const open = rotate(frame.turn, seam.open);
  const origin = place(frame, seam.from);
  const own = setOf(scene.parts.length, [joint.a, joint.b]);
  const { 'corner-distance': cornerDistance, step } = settings.tacks;
  const margin = endMargin(settings.tacks);
  // The one tack of a seam too short for a whole one is where it can be.
  const whole = seam.length - 2 * margin >= tackLength - 0.1;
  const leg = tackLeg(joint, settings);
  const tolerance = settings.motion['touch-tolerance'];
  const buried = (bead: Solid): boolean =>
    scene.parts.some(
      ({ solid }, i) => i !== joint.a && i !== joint.b && solidsOverlap(bead, solid, tolerance),
    );
  return siteStarts(seam.length, tackLength, margin, step).flatMap((start) => {
    if (whole && !clearOfCorners(start, start + tackLength, corners, cornerDistance)) return [];
    const [from, to] = [along(origin, way, start), along(origin, way, start + tackLength)];
    const bead = tackBead(from, way, open, tackLength, leg);
    if (buried(bead)) return [];
    const site = {
      leg,
      bead,
      joint,
      seam,
      start,
      length: tackLength,
      from,
      to,
      middle: along(from, way, tackLength / 2),
      along: way,
      open,
    };
    const ways = torchWays(scene, torch, site, settings);
    const free = (way: TorchWay): boolean => way.fixed === undefined && !intersects(way.hits, own);
    return [{ ...site, ways: ways.filter(free), blocked: ways.filter((way) => !free(way)) }];
  });
}

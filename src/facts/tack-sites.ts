import { intersects, setOf, type PartSet } from '../base/part-set.js';
import type { ConvexPiece } from '../geometry/convex.js';
import {
  compose,
  fromAxes,
  inverse,
  multiply,
  place,
  rotate,
  translate,
  turnAbout,
  type Pose,
} from '../geometry/pose.js';
import { overlap } from '../geometry/separation.js';
import type { Solid } from '../geometry/solid.js';
import { along, cross, negate, subtract, unit, type Vec3 } from '../geometry/vector.js';
import type { Joints } from '../kinematics/arm.js';
import { followStraight } from '../kinematics/straight-move.js';
import { STROKE_STEP, strokes } from '../kinematics/strokes.js';
import { torchCone, torchFlange } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import type { Joint, JointSeam } from './joints.js';
import { reachRefusal } from './reach-refusal.js';

/** A way for the torch to lay a tack: pose of the wire tip at its start and end, and what its cone would hit. */
export interface TorchWay {
  readonly start: Pose;
  readonly end: Pose;
  readonly cones: readonly ConvexPiece[];
  readonly hits: PartSet;
  readonly fixedHit: boolean;
}

/** A candidate place for a tack. Cell frame, mm. */
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
  /** Torch ways that the two parts themselves, the table and the keep-outs leave, best first. */
  readonly ways: readonly TorchWay[];
}

export interface TorchMotion {
  readonly start: Pose;
  readonly end: Pose;
  readonly clear: Joints;
  readonly joints: Joints;
  readonly jointsEnd: Joints;
  readonly leave: Joints;
}

/** Torch against the bisector of the seam: tilt across the seam and along it, degrees. */
const TILTS: readonly (readonly [number, number])[] = [
  [0, 0],
  [0, 15],
  [0, -15],
  [10, 0],
  [-10, 0],
];
const ROLLS = 12;
const RADIANS = Math.PI / 180;

/** Wire tip pose at `at`: z feeds against `open` after the two tilts, x lies along the seam before roll. */
function tipPose(at: Vec3, seamWay: Vec3, open: Vec3, [work, travel]: readonly [number, number]): Pose {
  const z = negate(open);
  const y = cross(z, seamWay);
  const square = fromAxes(seamWay, y, z);
  const tilt = multiply(turnAbout(seamWay, work * RADIANS), turnAbout(y, travel * RADIANS));
  return { at, turn: multiply(tilt, square) };
}

/** Whether nozzle or body of the torch, at the start or end of a tack, overlap a solid. */
export const coneHits = (cones: readonly ConvexPiece[], solid: Solid, tolerance: number): boolean =>
  cones.some((cone) => solid.pieces.some((piece) => overlap(cone, piece, tolerance)));

function torchWay(
  scene: Scene,
  site: Omit<TackSite, 'ways'>,
  tilt: readonly [number, number],
  tolerance: number,
): TorchWay {
  const start = tipPose(site.from, site.along, site.open, tilt);
  const end = { at: site.to, turn: start.turn };
  const cones = [start, end].map((tip) => torchCone(tip, scene.cell.welder.torch));
  const hits = scene.parts.flatMap(({ solid }, i) => (coneHits(cones, solid, tolerance) ? [i] : []));
  return {
    start,
    end,
    cones,
    hits: setOf(scene.parts.length, hits),
    fixedHit: [scene.table, ...scene.keepOuts].some((solid) => coneHits(cones, solid, tolerance)),
  };
}

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

/** All candidate sites of one seam for tacks of one length, in order along it. */
export function sitesOfSeam(
  scene: Scene,
  joint: Joint,
  seam: JointSeam,
  tackLength: number,
  settings: Settings,
): readonly TackSite[] {
  const frame = scene.cell.weldmentPose;
  const way = rotate(frame.turn, unit(subtract(seam.to, seam.from)));
  const open = rotate(frame.turn, seam.open);
  const origin = place(frame, seam.from);
  const own = setOf(scene.parts.length, [joint.a, joint.b]);
  const { 'end-distance': endDistance, step } = settings.tacks;
  return siteStarts(seam.length, tackLength, endDistance, step).map((start) => {
    const [from, to] = [along(origin, way, start), along(origin, way, start + tackLength)];
    const site = {
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
    const ways = TILTS.map((tilt) => torchWay(scene, site, tilt, settings.motion['touch-tolerance']));
    return { ...site, ways: ways.filter((torch) => !torch.fixedHit && !intersects(torch.hits, own)) };
  });
}

/** Moves of the welding arm for one torch way: the first roll about the wire in which all strokes can be followed. */
export function torchMotion(
  scene: Scene,
  site: TackSite,
  way: TorchWay,
  settings: Settings,
): Result<TorchMotion, Refusal> {
  const { welder } = scene.cell;
  const toBase = inverse(welder.base);
  const back = rotate(way.start.turn, [0, 0, -settings.motion['approach-distance']]);
  const flange = (tip: Pose): Pose => compose(toBase, torchFlange(tip, welder.torch));
  let first: Refusal | undefined;
  for (let i = 0; i < ROLLS; i += 1) {
    // 0, 30, -30, 60, ...: the least turn from the seam comes first.
    const roll = turnAbout([0, 0, 1], (Math.ceil(i / 2) * (i % 2 === 0 ? -1 : 1) * 2 * Math.PI) / ROLLS);
    const [start, end] = [way.start, way.end].map((tip) => ({
      at: tip.at,
      turn: multiply(tip.turn, roll),
    })) as [Pose, Pose];
    const found = strokes(welder.arm, flange(start), [flange(translate(start, back)), flange(end)]);
    if (!found.ok) {
      first ??= reachRefusal(found.error, [site.joint.id, site.seam.id, welder.id]);
      continue;
    }
    const [clear, jointsEnd] = found.value.ends as [Joints, Joints];
    const left = followStraight(
      welder.arm,
      flange(end),
      flange(translate(end, back)),
      jointsEnd,
      STROKE_STEP,
    );
    if (left.ok)
      return ok({ start, end, clear, joints: found.value.joints, jointsEnd, leave: left.value.at(-1)! });
  }
  return fail(first ?? { code: 'torch-leave', subjects: [site.joint.id, site.seam.id, welder.id] });
}

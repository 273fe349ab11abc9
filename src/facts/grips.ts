import { polygonEdges } from '../geometry/polygon.js';
import { place, rotate } from '../geometry/pose.js';
import { along, distance, dot, length, subtract, type Vec3 } from '../geometry/vector.js';
import type { Solid } from '../geometry/solid.js';
import type { Cell, Gripper, Handler } from '../model/cell.js';
import { faceFrame, OUTER_FACES, partMass, shapeSolid } from '../model/part-geometry.js';
import { gripFlange, padFrame, type GripPlace } from '../model/placement.js';
import { IDENTITY } from '../geometry/pose.js';
import type { Judged, Refusal } from '../model/verdict.js';
import type { OuterFace } from '../model/scalars.js';
import type { Part } from '../model/weldment.js';
import { STANDARD_GRAVITY } from '../mechanics/system.js';

/** One way for one gripper on one arm to take one part. */
export interface Grip extends GripPlace {
  /** Position in the part's list of candidates. */
  readonly id: number;
  readonly gripper: Gripper;
  readonly robot: Handler;
}

const QUARTERS = [0, 1, 2, 3].map((quarter) => (quarter * Math.PI) / 2);
/** Distance from a pad's rim to the edge of the face, mm. */
const RIM = 1;

/** Offsets at which pads are tried along a face axis: the middle, then both ends of what the footprint leaves. */
function offsets(half: number, footprint: number): readonly number[] {
  const room = Math.floor(half - footprint - RIM);
  return room >= 5 ? [0, -room, room] : [0];
}

/** Half extent of the pads, rims included, along x and y of the pad frame. */
function footprint(gripper: Gripper): readonly [number, number] {
  const radius = gripper.padDiameter / 2;
  return [0, 1].map(
    (axis) => Math.max(...gripper.pads.map((pad) => Math.abs(pad[axis as 0 | 1]))) + radius,
  ) as [number, number];
}

function sampled(part: Part, gripper: Gripper, face: OuterFace): GripPlace[] {
  const { halfU, halfV } = faceFrame(part.shape, face);
  const [fx, fy] = footprint(gripper);
  return QUARTERS.flatMap((turn, quarter) => {
    const [fu, fv] = quarter % 2 === 0 ? [fx, fy] : [fy, fx];
    return offsets(halfU, fu).flatMap((u) =>
      offsets(halfV, fv).map((v) => ({ face, position: [u, v] as const, turn })),
    );
  });
}

/** Least distance from a pad's rim to the edge of the face under it; negative when it hangs over. */
function overhang(solid: Solid, part: Part, grip: GripPlace, gripper: Gripper): number {
  const face = solid.faces.find(({ id }) => id === grip.face)!;
  const frame = padFrame(part.shape, grip);
  const radius = gripper.padDiameter / 2;
  const inside = (polygon: readonly Vec3[], point: Vec3): number =>
    Math.min(
      ...polygonEdges(polygon, face.normal).map(({ from, outward }) => -dot(subtract(point, from), outward)),
    );
  return Math.min(
    ...gripper.pads.map(([x, y]) => {
      const point = place(frame, [x, y, 0]);
      return Math.max(...face.polygons.map((polygon) => inside(polygon, point))) - radius;
    }),
  );
}

function refusalOf(
  part: Part,
  solid: Solid,
  robot: Handler,
  grip: GripPlace,
  gripper: Gripper,
): Refusal | undefined {
  const about = [part.id, gripper.id, grip.face];
  const { payload } = robot;
  const mass = partMass(part, solid);
  if (mass + gripper.mass > payload.mass)
    return {
      code: 'payload',
      subjects: [part.id, robot.id],
      value: mass + gripper.mass,
      limit: payload.mass,
      unit: 'kg',
    };
  if (part.material.magnetic <= 0)
    return {
      code: 'not-magnetic',
      subjects: [part.id, part.material.name],
      value: part.material.magnetic,
      limit: 0,
    };
  const room = overhang(solid, part, grip, gripper);
  if (room < 0) return { code: 'footprint', subjects: about, value: room, limit: 0, unit: 'mm' };
  const flange = gripFlange(part.shape, IDENTITY, grip, gripper);
  const moment =
    STANDARD_GRAVITY * (mass * distance(flange.at, solid.centre) + (gripper.mass * gripper.reach) / 2);
  if (moment > payload.moment)
    return { code: 'wrist-moment', subjects: about, value: moment, limit: payload.moment, unit: 'N·mm' };
  return undefined;
}

/** How far the centre of mass is from the pads' line of pull: grips near it come first. */
function eccentricity(part: Part, centre: Vec3, grip: GripPlace): number {
  const frame = padFrame(part.shape, grip);
  const off = subtract(centre, frame.at);
  const into = rotate(frame.turn, [0, 0, 1]);
  return length(subtract(off, into.map((x) => x * dot(off, into)) as unknown as Vec3));
}

/** A seam of the part as a straight run in the part's own frame. */
export interface OwnSeam {
  readonly from: Vec3;
  readonly to: Vec3;
}

const SEAM_STEP = 10;

/** Share of the part's seams that lies too near to the grip's pads to be tacked while they hold. */
function coveredShare(part: Part, seams: readonly OwnSeam[], grip: GripPlace, gripper: Gripper): number {
  const frame = padFrame(part.shape, grip);
  const pads = gripper.pads.map(([x, y]) => place(frame, [x, y, 0]));
  const near = gripper.arcDistance + gripper.padDiameter / 2;
  const points = seams.flatMap(({ from, to }) => {
    const count = Math.max(1, Math.round(distance(from, to) / SEAM_STEP));
    return Array.from({ length: count + 1 }, (_, i) => along(from, subtract(to, from), i / count));
  });
  const covered = points.filter((point) => pads.some((pad) => distance(pad, point) < near));
  return points.length === 0 ? 0 : covered.length / points.length;
}

/** Millimetres off the centre of mass that a grip may be worse for leaving all seams free instead of none. */
const SEAM_WORTH = 150;

/**
 * Every grip considered for a part, with the reason against those that cannot be used: first those that hold near the
 * centre of mass and leave the seams free.
 */
export function gripsOf(part: Part, cell: Cell, seams: readonly OwnSeam[]): readonly Judged<Grip>[] {
  const solid = shapeSolid(part.shape);
  const places: { readonly place: GripPlace; readonly gripper: Gripper }[] = part.grips
    ? part.grips.flatMap((given) => {
        const gripper = cell.grippers.find(({ id }) => id === given.gripper);
        return gripper ? [{ place: given, gripper }] : [];
      })
    : cell.grippers.flatMap((gripper) =>
        OUTER_FACES.flatMap((face) => sampled(part, gripper, face).map((place) => ({ place, gripper }))),
      );
  const worth = ({ place, gripper }: (typeof places)[number]): number =>
    eccentricity(part, solid.centre, place) + SEAM_WORTH * coveredShare(part, seams, place, gripper);
  return places
    .map((candidate) => ({ ...candidate, rank: Math.round(worth(candidate) * 1e3) }))
    .sort((p, q) => p.rank - q.rank)
    .flatMap((candidate) => cell.handlers.map((robot) => ({ ...candidate, robot })))
    .map(({ place, gripper, robot }, id) => ({
      candidate: { id, face: place.face, position: place.position, turn: place.turn, gripper, robot },
      refusal: refusalOf(part, solid, robot, place, gripper),
    }));
}

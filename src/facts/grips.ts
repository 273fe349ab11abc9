import { rounded } from '../base/order.js';
import { IDENTITY, rotate } from '../geometry/pose.js';
import { add, along, distance, dot, length, scale, subtract, type Vec3 } from '../geometry/vector.js';
import type { Solid } from '../geometry/solid.js';
import type { Cell } from '../model/cell.js';
import { groupChoices, padsExtent, type FlatGripper, type Gripper } from '../model/gripper.js';
import { faceFrame, OUTER_FACES, shapeSolid } from '../model/part-geometry.js';
import { padFrame, padsInCell, type GripPlace } from '../model/placement.js';
import type { Judged } from '../model/verdict.js';
import type { OuterFace } from '../model/scalars.js';
import type { Part } from '../model/weldment.js';
import { refusalOf } from './grip-refusals.js';
import { jawPlaces } from './jaw-places.js';

/** One way for one gripper to take one part. */
export interface Grip extends GripPlace {
  /** Position in the part's list of candidates. */
  readonly id: number;
  readonly gripper: Gripper;
}

const QUARTERS = [0, 1, 2, 3].map((quarter) => (quarter * Math.PI) / 2);
/** Distance from a pad's rim to the edge of the face, mm. */
const RIM = 1;

/** Offsets at which pads are tried along a face axis: the middle, then both ends of what the footprint leaves. */
function offsets(half: number, footprint: number): readonly number[] {
  const room = Math.floor(half - footprint - RIM);
  return room >= 5 ? [0, -room, room] : [0];
}

function sampled(part: Part, gripper: FlatGripper, face: OuterFace, group: string | undefined): GripPlace[] {
  const { halfU, halfV, u, v } = faceFrame(part.shape, face);
  const { middle, half } = padsExtent(gripper, group);
  return QUARTERS.flatMap((turn, quarter) => {
    const [fu, fv] = quarter % 2 === 0 ? half : [half[1], half[0]];
    const frame = padFrame(part.shape, { face, position: [0, 0], turn });
    const pads = rotate(frame.turn, [middle[0], middle[1], 0]);
    const [atU, atV] = [rounded(dot(pads, u), 3), rounded(dot(pads, v), 3)];
    return offsets(halfU, fu).flatMap((du) =>
      offsets(halfV, fv).map((dv) => ({
        ...{ face, position: [du - atU, dv - atV] as const, turn },
        ...(group === undefined ? {} : { group }),
      })),
    );
  });
}

/** Where a gripper is tried on a part: a jaw on both sides of it, flat pads on its faces with each choice of pads. */
const placesOf = (part: Part, solid: Solid, gripper: Gripper): GripPlace[] =>
  gripper.kind === 'jaw'
    ? jawPlaces(part, solid, gripper)
    : groupChoices(gripper).flatMap((group) =>
        OUTER_FACES.flatMap((face) => sampled(part, gripper, face, group)),
      );

/** How far the centre of mass is from the line of pull of the pads in use: grips near it come first. */
function eccentricity(part: Part, centre: Vec3, grip: GripPlace, gripper: Gripper): number {
  const { pads, into } = padsInCell(part.shape, IDENTITY, grip, gripper);
  const middle = scale(pads.map(({ at }) => at).reduce(add), 1 / pads.length);
  const off = subtract(centre, middle);
  return length(along(off, into, -dot(off, into)));
}

/** A seam of the part as a straight run in the part's own frame. */
export interface OwnSeam {
  readonly from: Vec3;
  readonly to: Vec3;
}

const SEAM_STEP = 10;

/** Share of the part's seams that lies too near to the grip's pads to be tacked while they hold. */
function coveredShare(part: Part, seams: readonly OwnSeam[], grip: GripPlace, gripper: Gripper): number {
  const { pads } = padsInCell(part.shape, IDENTITY, grip, gripper);
  const near = gripper.arcDistance + gripper.padDiameter / 2;
  const points = seams.flatMap(({ from, to }) => {
    const count = Math.max(1, Math.round(distance(from, to) / SEAM_STEP));
    return Array.from({ length: count + 1 }, (_, i) => along(from, subtract(to, from), i / count));
  });
  const covered = points.filter((point) => pads.some(({ at }) => distance(at, point) < near));
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
    : cell.grippers.flatMap((gripper) => placesOf(part, solid, gripper).map((place) => ({ place, gripper })));
  const worth = ({ place, gripper }: (typeof places)[number]): number =>
    eccentricity(part, solid.centre, place, gripper) + SEAM_WORTH * coveredShare(part, seams, place, gripper);
  return places
    .map((candidate) => ({ ...candidate, rank: Math.round(worth(candidate) * 1e3) }))
    .sort((p, q) => p.rank - q.rank)
    .map(({ place, gripper }, id) => ({
      candidate: {
        ...{ id, face: place.face, position: place.position, turn: place.turn, gripper },
        ...(place.group === undefined ? {} : { group: place.group }),
      },
      refusal: refusalOf(part, solid, cell, place, gripper),
    }));
}

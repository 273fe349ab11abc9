import { roomOnFace } from '../geometry/face-rim.js';
import { intersectPolygons, polygonArea, projectPoint } from '../geometry/polygon.js';
import type { PlanarFace } from '../geometry/solid.js';
import { rounded } from '../base/order.js';
import { rotate } from '../geometry/pose.js';
import { add, dot, length, subtract } from '../geometry/vector.js';
import { groupChoices, padsExtent, type FlatGripper } from '../model/gripper.js';
import { faceFrame, flatFaces, shapeSolid } from '../model/part-geometry.js';
import { padFrame, type GripPlace } from '../model/placement.js';
import type { Settings } from '../model/settings.js';
import type { Shape } from '../model/shape.js';

const QUARTERS = [0, 1, 2, 3].map((quarter) => (quarter * Math.PI) / 2);
/** Distance from a pad's rim to the edge of the face, mm. */
const RIM = 1;
/** Less room than this to either side of the middle, mm, is not worth another position. */
const LEAST_ROOM = 5;
/** Nearer to the middle of a face than this, mm, the place over the centre of mass is the middle. */
const LEAST_OFF = 1;

/** How far whole millimetres leave a footprint on a face to either side of its middle; 0 where that is not worth it. */
function roomBeside(half: number, footprint: number): number {
  const room = Math.floor(half - footprint - RIM);
  return room < LEAST_ROOM ? 0 : room;
}

/**
 * Offsets at which pads are tried along a face axis: the middle, then both ends of what the footprint leaves, then
 * evenly between, `density` in all, the nearer to the ends the earlier.
 */
export function offsets(half: number, footprint: number, density: number): readonly number[] {
  const room = roomBeside(half, footprint);
  if (room === 0) return [0];
  const steps = (density - 1) / 2;
  const out = Array.from({ length: steps }, (_, i) => (room * (steps - i)) / steps);
  return [0, ...out.flatMap((way) => [-way, way])];
}

/** The share of a face that another face of the same part looks at from no farther than `within` mm. */
function coveredBy(face: PlanarFace, other: PlanarFace, within: number): number {
  if (length(add(face.normal, other.normal)) > 1e-6) return 0;
  const ahead = dot(face.normal, other.polygons[0]![0]!) - face.offset;
  if (ahead <= 1e-6 || ahead > within) return 0;
  const area = (pick: (p: PlanarFace['polygons'][number]) => number): number =>
    face.polygons.reduce((sum, polygon) => sum + pick(polygon), 0);
  const under = area((polygon) =>
    other.polygons.reduce(
      (sum, above) => sum + polygonArea(intersectPolygons(polygon, above, other.normal)),
      0,
    ),
  );
  return under / area(polygonArea);
}

/**
 * The faces that are sampled: the flat ones, less those from which a gripper cannot be drawn straight back because
 * the part itself is everywhere in the way (the inside of a hollow section).
 */
export function openFaces(shape: Shape, within: number): readonly PlanarFace[] {
  const flat = flatFaces(shape);
  return flat.filter((face) => !flat.some((other) => coveredBy(face, other, within) > 1 - 1e-6));
}

export type Position = readonly [number, number];

/** Where the centre of mass is straight behind the face, to a tenth of a millimetre; none at its middle or off it. */
export function behindCentre(shape: Shape, face: PlanarFace): readonly Position[] {
  const { centre: middle, u, v } = faceFrame(shape, face.id);
  const { centre } = shapeSolid(shape);
  const off = subtract(centre, middle);
  const [atU, atV] = [dot(off, u), dot(off, v)].map((x) => Math.round(x * 10) / 10 + 0) as [number, number];
  const isMiddle = Math.hypot(atU, atV) < LEAST_OFF;
  const foot = projectPoint(face.normal, face.offset, centre);
  return isMiddle || roomOnFace(face, foot) < 0 ? [] : [[atU, atV]];
}

/** What a face leaves the pads of a group that are turned by quarters, mm along the axes of the face. */
export interface PadRoom {
  /** Half of the rectangle around the pads. */
  readonly footprint: Position;
  /** How far the middle of the pads may be off the middle of the face. */
  readonly room: Position;
  /** From the position of a grip to the middle of its pads. */
  readonly pads: Position;
}

/** @param turn whole quarters, radians */
export function padRoom(
  shape: Shape,
  { face, turn, group }: Omit<GripPlace, 'position'>,
  gripper: FlatGripper,
): PadRoom {
  const { halfU, halfV, u, v } = faceFrame(shape, face);
  const { middle, half } = padsExtent(gripper, group);
  const footprint = Math.round(turn / QUARTERS[1]!) % 2 === 0 ? half : ([half[1], half[0]] as const);
  const pads = rotate(padFrame(shape, { face, position: [0, 0], turn }).turn, [middle[0], middle[1], 0]);
  return {
    footprint,
    room: [roomBeside(halfU, footprint[0]), roomBeside(halfV, footprint[1])],
    pads: [rounded(dot(pads, u), 3), rounded(dot(pads, v), 3)],
  };
}

/**
 * Places on one face for the pads of a group, for each quarter turn from the face's own first axis: a grid about its
 * middle, and the place over the centre of mass where that is another.
 */
function onFace(
  shape: Shape,
  plane: PlanarFace,
  gripper: FlatGripper,
  group: string | undefined,
  density: number,
): GripPlace[] {
  const face = plane.id;
  const { halfU, halfV } = faceFrame(shape, face);
  const extra = behindCentre(shape, plane);
  return QUARTERS.flatMap((turn) => {
    const {
      footprint: [fu, fv],
      pads: [atU, atV],
    } = padRoom(shape, { face, turn, group }, gripper);
    const grid = offsets(halfU, fu, density).flatMap((du) =>
      offsets(halfV, fv, density).map((dv): Position => [du, dv]),
    );
    return [...grid, ...extra].map(([du, dv]) => ({
      ...{ face, position: [du - atU, dv - atV] as const, turn },
      ...(group === undefined ? {} : { group }),
    }));
  });
}

/** Every place at which a gripper is tried on a shape; whether its pads lie on the face is judged elsewhere. */
export function gripPlaces(shape: Shape, gripper: FlatGripper, settings: Settings): readonly GripPlace[] {
  return openFaces(shape, settings.motion['approach-distance']).flatMap((face) =>
    groupChoices(gripper).flatMap((group) => onFace(shape, face, gripper, group, settings.grips.density)),
  );
}

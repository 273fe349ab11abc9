import type { Pose } from '../geometry/pose.js';
import { length, type Vec3 } from '../geometry/vector.js';
import { forearmLength, shapeAngle, type Arm, type Joints, type Six, type SixRow } from './arm.js';

/** The links of an arm that stand for it where clearance is asked for, each a capsule. */
export const LINKS = ['column', 'upper arm', 'forearm', 'wrist', 'dress pack'] as const;
export type LinkName = (typeof LINKS)[number];

/** Radii of the capsules around the links, mm; each must contain its link. */
export interface LinkRadii {
  /** From the foot of axis 1 to the shoulder. */
  readonly column: number;
  /** From shoulder to elbow. */
  readonly upperArm: number;
  /** From elbow to wrist centre. */
  readonly forearm: number;
  /** From wrist centre to flange. */
  readonly wrist: number;
  /** Hoses and cables, from flange to elbow; undefined where there are none to speak of. */
  readonly dressPack: number | undefined;
}

/** A convex piece of what is fixed to the flange, by its corners in the flange frame, mm. */
export interface ToolPiece {
  readonly name: string;
  readonly points: readonly Vec3[];
}

/** An arm that takes up room: where it stands, how thick it is and what it carries. */
export interface ArmBody {
  readonly base: Pose;
  readonly arm: Arm;
  readonly radii: LinkRadii;
  readonly tool: readonly ToolPiece[];
}

/** How many elements of a body are links. */
export const linkCount = ({ radii }: Pick<ArmBody, 'radii'>): number =>
  radii.dressPack === undefined ? 4 : 5;

/** Puts by how much each axis turns between two joint values, radians, in a row; of coupled arms the forearm against the upper arm. */
export function putTurns(arm: Arm, from: Joints, to: Joints, turns: SixRow): void {
  for (let i = 0; i < 6; i += 1) turns[i] = Math.abs(shapeAngle(arm, to, i) - shapeAngle(arm, from, i));
}

/** Numbers of an element: its levers about axes 1, 2 and 3, about axes 4 and 5 both, and about axis 6. */
const LEVERS_EACH = 5;

/** By body, element by element; worked out once. */
const LEVERS = new WeakMap<ArmBody, Float64Array>();

/** The levers of all elements of a body, in a row. */
export function leversOf(body: ArmBody): Float64Array {
  let levers = LEVERS.get(body);
  if (!levers) LEVERS.set(body, (levers = Float64Array.from(longestLevers(body).flat())));
  return levers;
}

/** Ways along the links from the axes to the far end of each element, the longest whatever the posture; 0 where none moves it. */
function longestLevers({ arm, radii, tool }: ArmBody): readonly (readonly number[])[] {
  const [shoulder, elbow, wrist] = [Math.hypot(arm.a1, arm.b), arm.c2, forearmLength(arm)];
  // Beyond the wrist centre for axes 4 and 5, beyond its own line for axis 6.
  const upTo = (beyondWrist: number, own: number): readonly number[] => [
    shoulder + elbow + wrist + beyondWrist,
    elbow + wrist + beyondWrist,
    wrist + beyondWrist,
    beyondWrist,
    own,
  ];
  return [
    [shoulder, 0, 0, 0, 0],
    [shoulder + elbow, elbow, 0, 0, 0],
    [shoulder + elbow + wrist, elbow + wrist, wrist, 0, 0],
    upTo(arm.c4, 0),
    ...(radii.dressPack === undefined ? [] : [upTo(arm.c4, 0)]),
    ...tool.map(({ points }) =>
      upTo(
        Math.max(...points.map(([x, y, z]) => length([x, y, z + arm.c4]))),
        Math.max(...points.map(([x, y]) => Math.hypot(x, y))),
      ),
    ),
  ];
}

/**
 * Puts how far any point of each element can move, mm, while the axes turn by some angles, in a list by the levers of its
 * body, and gives the most of them: the sum over the axes of the angle times the lever, the lever being the longest way from
 * the axis to the far end of the element along the links. Never less than the true way, whatever the posture.
 */
export function putBounds(levers: Float64Array, turns: Six<number>, bounds: number[]): number {
  let most = 0;
  for (let element = 0; element * LEVERS_EACH < levers.length; element += 1) {
    const at = element * LEVERS_EACH;
    const bound =
      turns[0] * levers[at]! +
      turns[1] * levers[at + 1]! +
      turns[2] * levers[at + 2]! +
      (turns[3] + turns[4]) * levers[at + 3]! +
      turns[5] * levers[at + 4]!;
    bounds[element] = bound;
    most = Math.max(most, bound);
  }
  return most;
}

/** The same in a joint move between two joint values. */
export function motionBounds(body: ArmBody, from: Joints, to: Joints): readonly number[] {
  const turns: SixRow = [0, 0, 0, 0, 0, 0];
  const bounds: number[] = [];
  putTurns(body.arm, from, to, turns);
  putBounds(leversOf(body), turns, bounds);
  return bounds;
}

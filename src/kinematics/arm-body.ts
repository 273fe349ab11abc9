import type { Pose } from '../geometry/pose.js';
import { length, type Vec3 } from '../geometry/vector.js';
import { forearmLength, shapeAngles, sixOf, type Arm, type Joints, type Six } from './arm.js';

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
export const linkCount = ({ radii }: ArmBody): number => (radii.dressPack === undefined ? 4 : 5);

/** By how much each axis turns between two joint values, radians; of coupled arms the forearm against the upper arm. */
export function turnsBetween(arm: Arm, from: Joints, to: Joints): Six<number> {
  const [a, b] = [shapeAngles(arm, from), shapeAngles(arm, to)];
  return sixOf((i) => Math.abs(b[i]! - a[i]!));
}

/**
 * How far any point of each element can move, mm, in a joint move between two joint values: the sum over the joints of
 * the angle times the lever, the lever being the longest way from the joint's axis to the far end of the element along
 * the links. Never less than the true way, whatever the posture.
 */
export function motionBounds(body: ArmBody, from: Joints, to: Joints): readonly number[] {
  const { arm, radii, tool } = body;
  const turns = turnsBetween(arm, from, to);
  const [shoulder, elbow, wrist] = [Math.hypot(arm.a1, arm.b), arm.c2, forearmLength(arm)];
  // Ways from axes 1, 2, 3 to the far end of a link; from axes 4 and 5 beyond the wrist centre, from axis 6 beyond its line.
  const moved = (first: number, second: number, third: number, wristLever: number, own: number): number =>
    turns[0]! * first +
    turns[1]! * second +
    turns[2]! * third +
    (turns[3]! + turns[4]!) * wristLever +
    turns[5]! * own;
  const upTo = (beyondWrist: number, own: number): number =>
    moved(
      shoulder + elbow + wrist + beyondWrist,
      elbow + wrist + beyondWrist,
      wrist + beyondWrist,
      beyondWrist,
      own,
    );
  const links = [
    moved(shoulder, 0, 0, 0, 0),
    moved(shoulder + elbow, elbow, 0, 0, 0),
    moved(shoulder + elbow + wrist, elbow + wrist, wrist, 0, 0),
    upTo(arm.c4, 0),
  ];
  if (radii.dressPack !== undefined) links.push(upTo(arm.c4, 0));
  const tools = tool.map(({ points }) =>
    upTo(
      Math.max(...points.map(([x, y, z]) => length([x, y, z + arm.c4]))),
      Math.max(...points.map(([x, y]) => Math.hypot(x, y))),
    ),
  );
  return [...links, ...tools];
}

import { place, transpose, rotate } from '../geometry/pose.js';
import { cross, distance, dot, length, subtract, type Vec3 } from '../geometry/vector.js';
import { STANDARD_GRAVITY } from '../mechanics/system.js';
import type { Finding } from '../model/finding.js';
import { gripFlange } from '../model/placement.js';
import { breach, shown } from './rule.js';
import type { HandlingView, StageView } from './stage-views.js';

/** Angle between the directions that are tried for axes 4 and 5, degrees; they miss the worst by under a thousandth. */
const STEP = 3;

const direction = (polar: number, round: number): Vec3 => {
  const [p, r] = [(polar * Math.PI) / 180, (round * Math.PI) / 180];
  return [Math.sin(p) * Math.cos(r), Math.sin(p) * Math.sin(r), Math.cos(p)];
};

const range = (count: number): readonly number[] => Array.from({ length: count }, (_, i) => i * STEP);

/** Directions in the flange frame: any for axis 4, square to the flange axis for axis 5, along it for axis 6. */
const AXES: readonly (readonly Vec3[])[] = [
  range(90 / STEP + 1).flatMap((polar) => range(360 / STEP).map((round) => direction(polar, round))),
  range(180 / STEP).map((round) => direction(90, round)),
  [[0, 0, 1]],
];

/** Moment of inertia of part and gripper about a direction of the flange frame through the wrist centre, kg m2. */
function inertiaAbout({ placed }: StageView, one: HandlingView, axis: Vec3): number {
  const { part, pose, mass, solid } = placed;
  const { gripper, grip } = one;
  const flange = gripFlange(part.shape, pose, grip, gripper);
  const { c4 } = one.robot.arm;
  const inFlange = (v: Vec3): Vec3 => rotate(transpose(flange.turn), v);
  const seen = rotate(flange.turn, axis);
  const off = inFlange(subtract(solid.centre, place(flange, [0, 0, -c4])));
  const ofPart =
    mass * length(cross(axis, off)) ** 2 + (mass / solid.volume) * dot(seen, rotate(solid.inertia, seen));
  const { length: a, width: b, height: c } = gripper.envelope;
  const [x, y, z] = axis;
  const box = (x * x * (b * b + c * c) + y * y * (a * a + c * c) + z * z * (a * a + b * b)) / 12;
  const lever = (c4 + gripper.reach - c / 2) * Math.hypot(x, y);
  return 1e-6 * (ofPart + gripper.mass * (box + lever ** 2));
}

/** Mass in kg, static moment in N mm and inertia in kg m2 about the wrist centre, against what the arm may carry. */
export function payloadFindings(rule: string, view: StageView, one: HandlingView): Finding[] {
  const { part, pose, mass, solid } = view.placed;
  const { payload, id, arm } = one.robot;
  const { gripper, grip, where } = one;
  const wrist = place(gripFlange(part.shape, pose, grip, gripper), [0, 0, -arm.c4]);
  const levers = [
    mass * distance(wrist, solid.centre),
    gripper.mass * (arm.c4 + gripper.reach - gripper.envelope.height / 2),
  ];
  const findings: Finding[] = [];
  const compare = (what: string, unit: string, value: number, limit: number): void => {
    if (value <= limit * (1 + 1e-9)) return;
    const message = `${part.id} with ${gripper.id} is a ${what} of ${shown(value)} ${unit}; ${id} carries ${shown(limit)}`;
    findings.push(breach(rule, `${where}.grip`, message, { value, limit }));
  };
  compare('mass', 'kg', mass + gripper.mass, payload.mass);
  compare('moment', 'N mm', STANDARD_GRAVITY * (levers[0]! + levers[1]!), payload.moment);
  payload.inertia?.forEach((limit, i) => {
    const worst = Math.max(...AXES[i]!.map((axis) => inertiaAbout(view, one, axis)));
    compare(`moment of inertia about axis ${i + 4}`, 'kg m2', worst, limit);
  });
  return findings;
}

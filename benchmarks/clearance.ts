import RAPIER from '@dimforge/rapier3d-compat';
import { seededRandom } from '../src/base/random.js';
import { armBody, gripperAlone } from '../src/facts/arm-room.js';
import { boxPiece } from '../src/geometry/convex.js';
import { fromRollPitchYaw, place, type Pose } from '../src/geometry/pose.js';
import { hullDistance, hullOfPiece, type RoundedHull } from '../src/geometry/rounded-hull.js';
import { capsule, placedHull } from '../tests/support/rounded-hulls.js';
import { distance, type Vec3 } from '../src/geometry/vector.js';
import { sixOf, type Joints } from '../src/kinematics/arm.js';
import { motionBounds, type ArmBody } from '../src/kinematics/arm-body.js';
import { between, keysMet, type Clearance, type Obstacle } from '../src/kinematics/clear-path.js';
import { forward } from '../src/kinematics/forward.js';
import { axisAngle } from '../src/kinematics/straight-path.js';
import { buildScene } from '../src/model/scene.js';
import { readInputs } from '../src/session/inputs.js';
import { shapedExamples } from './grip-density.js';
import { median, row, seconds } from './printing.js';

/** The library is made for lengths of about one, so it is given metres. */
const METRE = 1000;
/** Dense rows of postures lie so far apart, mm, that no point of the arm moves farther between two of them. */
const DENSE = 2;

interface Size {
  readonly pairs: number;
  readonly postures: number;
  readonly moves: number;
  readonly repeats: number;
}

/** Clearance: of one pair, of an arm in a posture, and of an arm in a joint move. */
export async function clearance(example: string, size: Size): Promise<void> {
  await RAPIER.init();
  single(size);
  wholeArm(example, size);
}

/** A capsule and a box, as this project has them and as the library does. */
interface Pair {
  readonly own: readonly [RoundedHull, RoundedHull];
  readonly library: readonly (readonly [RAPIER.Shape, RAPIER.Vector, RAPIER.Rotation])[];
}

const inMetres = ([x, y, z]: Vec3): RAPIER.Vector => ({ x: x / METRE, y: y / METRE, z: z / METRE });

function quaternion({ turn }: Pose): RAPIER.Rotation {
  const { axis, angle } = axisAngle(turn);
  const [s, w] = [Math.sin(angle / 2), Math.cos(angle / 2)];
  return { x: axis[0] * s, y: axis[1] * s, z: axis[2] * s, w };
}

/** Capsules as large as links and boxes as large as parts, within some metres of one another. */
function somePairs(count: number): readonly Pair[] {
  const random = seededRandom(3);
  const among = (low: number, high: number): number => low + (high - low) * random();
  const pose = (): Pose => ({
    at: [among(-900, 900), among(-900, 900), among(-900, 900)],
    turn: fromRollPitchYaw(among(-180, 180), among(-90, 90), among(-180, 180)),
  });
  return Array.from({ length: count }, () => {
    const [link, half, radius] = [pose(), among(100, 500), among(50, 100)];
    const [part, box] = [pose(), [among(5, 400), among(5, 200), among(5, 200)] as const];
    // The library's capsules lie along y.
    const ends = [place(link, [0, -half, 0]), place(link, [0, half, 0])] as const;
    const { x, y, z } = inMetres(box);
    return {
      own: [capsule(...ends, radius), placedHull(boxPiece(box).vertices, 0, part)],
      library: [
        [new RAPIER.Capsule(half / METRE, radius / METRE), inMetres(link.at), quaternion(link)],
        [new RAPIER.Cuboid(x, y, z), inMetres(part.at), quaternion(part)],
      ],
    };
  });
}

/** Distance by the library, mm; 0 when the two touch or overlap. */
function byLibrary({ library: [a, b] }: Pair): number {
  const far = 100;
  const contact = a![0].contactShape(a![1], a![2], b![0], b![1], b![2], far);
  return contact === null ? Infinity : Math.max(0, contact.distance * METRE);
}

function single({ pairs: count, repeats }: Size): void {
  const pairs = somePairs(count);
  const [own, library]: [number[], number[]] = [[], []];
  let same = 0;
  for (let run = 0; run < repeats + 1; run += 1) {
    let [ours, theirs]: [number[], number[]] = [[], []];
    const time = seconds(() => (ours = pairs.map(({ own: [a, b] }) => hullDistance(a, b))));
    const other = seconds(() => (theirs = pairs.map(byLibrary)));
    // The first run only warms up.
    if (run === 0) continue;
    own.push(time);
    library.push(other);
    same = ours.filter((value, i) => Math.abs(value - theirs[i]!) <= 0.01 * Math.max(100, value)).length;
  }
  const rate = (count / median(own)).toFixed(0);
  row(`distance of capsule and box, ${count} pairs`, own, `${rate} distances/s`);
  const ratio = (median(library) / median(own)).toFixed(2);
  row('  the same by rapier3d', library, `${ratio} x the time, ${same} of ${count} within a hundredth`);
}

/** An arm with a gripper and all parts of an example in their final places. */
function cellOfExample(name: string): {
  readonly body: ArmBody;
  readonly obstacles: readonly Obstacle[];
  readonly least: number;
  readonly near: (joints: Joints) => boolean;
} {
  const { sources } = shapedExamples().find((one) => one.name === name)!;
  const { weldment, cell, settings } = readInputs(sources).inputs!;
  if (weldment.kind !== 'geometric') throw new Error(`${name} has no shapes`);
  const scene = buildScene(weldment, cell!, settings);
  const handler = cell!.handlers[0]!;
  const body = armBody(handler, gripperAlone(cell!.grippers[0]!));
  const obstacles = scene.parts.flatMap(({ solid }, key) =>
    solid.pieces.map((piece) => ({ hull: hullOfPiece(piece), key })),
  );
  const near = (joints: Joints): boolean =>
    distance(place(handler.base, forward(handler.arm, joints).at), cell!.weldmentPose.at) < 1000;
  return { body, obstacles, least: settings.motion.clearance, near };
}

/** An arm, what it must keep clear of, and postures of it that are near. */
interface Task {
  readonly body: ArmBody;
  readonly asked: Clearance;
  readonly posture: () => Joints;
}

function taskOf(example: string): Task {
  const { body, obstacles, least, near } = cellOfExample(example);
  const random = seededRandom(4);
  const { limits } = body.arm;
  const anywhere = (): Joints => sixOf((i) => limits[i]![0] + random() * (limits[i]![1] - limits[i]![0]));
  const posture = (): Joints => {
    let joints = anywhere();
    while (!near(joints)) joints = anywhere();
    return joints;
  };
  return { body, asked: { obstacles, least }, posture };
}

function wholeArm(example: string, { postures, moves, repeats }: Size): void {
  const task = taskOf(example);
  console.log(`an arm beside ${example}, ${task.asked.obstacles.length} convex pieces`);
  inPostures(task, postures, repeats);
  inMoves(task, moves, repeats);
}

function inPostures({ body, asked, posture }: Task, count: number, repeats: number): void {
  const postures = Array.from({ length: count }, posture);
  const met = (): number => postures.filter((joints) => keysMet(body, [joints], asked).size > 0).length;
  // The first run only warms up.
  const meeting = met();
  const times = Array.from({ length: repeats }, () => seconds(met));
  row(`  ${count} postures`, times, `${(count / median(times)).toFixed(0)} postures/s, ${meeting} meet some`);
}

function inMoves({ body, asked, posture }: Task, count: number, repeats: number): void {
  const ways = Array.from({ length: count }, () => [posture(), posture()] as const);
  const stepsOf = ([from, to]: readonly [Joints, Joints]): number =>
    Math.ceil(Math.max(...motionBounds(body, from, to)) / DENSE);
  const densely = (way: readonly [Joints, Joints]): ReadonlySet<number> => {
    const steps = stepsOf(way);
    const shares = Array.from({ length: steps + 1 }, (_, k) => k / steps);
    return new Set(shares.flatMap((share) => [...keysMet(body, [between(...way, share)], asked)]));
  };
  const bisected = ways.map((way) => keysMet(body, way, asked));
  const seen = ways.map(densely);
  const quick = Array.from({ length: repeats }, () =>
    seconds(() => ways.forEach((way) => keysMet(body, way, asked))),
  );
  const slow = Array.from({ length: repeats }, () => seconds(() => ways.forEach(densely)));
  const beyond = (some: readonly ReadonlySet<number>[], others: readonly ReadonlySet<number>[]): number =>
    some.reduce((sum, keys, i) => sum + [...keys].filter((key) => !others[i]!.has(key)).length, 0);
  row(`  ${count} joint moves by bisection`, quick, `${(count / median(quick)).toFixed(0)} moves/s`);
  const looked = ways.reduce((sum, way) => sum + stepsOf(way) + 1, 0) / count;
  const ratio = (median(slow) / median(quick)).toFixed(1);
  row(
    `  the same every ${DENSE} mm, ${looked.toFixed(0)} postures a move`,
    slow,
    `${ratio} x the time, ${beyond(seen, bisected)} parts met only here, ${beyond(bisected, seen)} only by bisection`,
  );
}

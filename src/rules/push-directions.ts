import { rounded, snap } from '../base/order.js';
import { convexOutline } from '../geometry/hull.js';
import { axisX, axisY, axisZ } from '../geometry/pose.js';
import { add, cross, dot, length, scale, subtract, unit, type Vec3 } from '../geometry/vector.js';
import { normalInto, type Scene } from '../model/scene.js';

const UP: Vec3 = [0, 0, 1];

/** A direction of a push and the words for it. */
export interface PushDirection {
  readonly name: string;
  /** Unit, level, cell frame. */
  readonly direction: Vec3;
}

/** A patch whose push rises at least this steeply carries the part: sine of 30 degrees. */
const CARRIES = 0.5;
/** Directions nearer than this to one of the eight add nothing: cosine of 0.5 degrees. */
const SAME = Math.cos((0.5 * Math.PI) / 180);

/** Eight level directions, the first along the part's most level axis. */
function eight(scene: Scene, part: number): readonly PushDirection[] {
  const { turn } = scene.parts[part]!.pose;
  const level = (axis: Vec3): Vec3 => [axis[0], axis[1], 0];
  const axes = [axisX(turn), axisY(turn), axisZ(turn)].map(level);
  const longest = Math.max(...axes.map((axis) => snap(length(axis), 1e-6)));
  const first = unit(axes.find((axis) => snap(length(axis), 1e-6) === longest)!);
  const second = cross(UP, first);
  return Array.from({ length: 8 }, (_, i) => {
    const angle = (i * Math.PI) / 4;
    const direction = add(scale(first, Math.cos(angle)), scale(second, Math.sin(angle)));
    return { name: `${i * 45} deg`, direction };
  });
}

/** Corners on which a part stands, on the table and on the parts in place. */
function footing(scene: Scene, part: number, others: readonly number[]): readonly Vec3[] {
  const onParts = scene.contacts.flatMap((contact) => {
    const { a, b, bearing } = contact;
    if (!((a === part && others.includes(b)) || (b === part && others.includes(a)))) return [];
    return bearing.filter(({ normal }) => normalInto(contact, part, normal)[2] >= CARRIES);
  });
  return [...scene.tableBearing[part]!, ...onParts].flatMap(({ corners }) => corners);
}

/** Corners nearer to each other than this are one, mm. */
const SAME_CORNER = 1e-4;

/** Unit, level, out of each edge of the polygon around points, seen from above; none for points in line. */
function outOfEdges(points: readonly Vec3[]): readonly Vec3[] {
  const corners = convexOutline(points, UP, SAME_CORNER);
  if (corners.length < 3) return [];
  return corners.map((from, i) => {
    const [x, y] = subtract(corners[(i + 1) % corners.length]!, from);
    return unit([y, -x, 0]);
  });
}

/**
 * Level directions in which a part is pushed: eight of its own frame, and square to each edge of the polygon on which
 * it stands, over which it tips soonest. A push is named after its angle from the first of the eight.
 */
export function pushDirections(
  scene: Scene,
  part: number,
  others: readonly number[],
): readonly PushDirection[] {
  const own = eight(scene, part);
  const [first, second] = [own[0]!.direction, cross(UP, own[0]!.direction)];
  const found = [...own];
  for (const direction of outOfEdges(footing(scene, part, others))) {
    if (found.some((known) => dot(known.direction, direction) >= SAME)) continue;
    const degrees = (Math.atan2(dot(direction, second), dot(direction, first)) * 180) / Math.PI;
    found.push({ name: `${rounded(degrees < 0 ? degrees + 360 : degrees, 1)} deg`, direction });
  }
  return found;
}

const DIAGONAL = /^push (\w+) (45|135|225|315) deg( at .+)?$/;

/**
 * The two pushes between which a diagonal one lies, at the same member; undefined for any other load. Loads that a system carries form a
 * convex set, so between reserves p and q the diagonal is carried at least `betweenReserve(p, q)` times.
 */
export function pushesBeside(load: string): readonly [string, string] | undefined {
  const match = DIAGONAL.exec(load);
  if (!match) return undefined;
  const at = (turn: number): string =>
    `push ${match[1]} ${(Number(match[2]) + turn) % 360} deg${match[3] ?? ''}`;
  return [at(315), at(45)];
}

/** Least reserve of a push half-way between two square to each other with these reserves: sqrt 2 / (1/p + 1/q). */
export const betweenReserve = (p: number, q: number): number => Math.SQRT2 / (1 / p + 1 / q);

import { axisX, place, type Pose } from '../geometry/pose.js';
import type { Solid } from '../geometry/solid.js';
import { dot, negate, type Vec3 } from '../geometry/vector.js';
import type { Finding } from '../model/finding.js';
import type { JawGripper } from '../model/gripper.js';
import { shapeSolid } from '../model/part-geometry.js';
import { padFrame } from '../model/placement.js';
import { breach, shown } from './rule.js';
import type { PartGrip } from './part-grip.js';

/** How far the middle of a jaw may be off the middle of what it closes on: the play of its fingers, mm. */
const PLAY = 0.5;
/** Positions of grips are rounded, mm. */
const ROUNDING = 0.02;
/** Distance between the lines along which a finger is felt for, mm. */
const SPACING = 2;
/** A finger may rub along matter this deep, mm. */
const TOUCH = 0.1;

type Stretch = readonly [from: number, to: number];

/** Where a line through a solid meets its matter, by clipping it with the planes of every convex piece, mm along it. */
function matterAlong(solid: Solid, from: Vec3, way: Vec3): Stretch[] {
  return solid.pieces.flatMap(({ planes }) => {
    let [low, high] = [-Infinity, Infinity];
    for (const { normal, offset } of planes) {
      const slope = dot(normal, way);
      const room = offset - dot(normal, from);
      if (Math.abs(slope) < 1e-12) {
        if (room < -1e-6) return [];
      } else if (slope > 0) high = Math.min(high, room / slope);
      else low = Math.max(low, room / slope);
    }
    return high - low > 1e-6 ? [[low, high] as const] : [];
  });
}

/** Points of a disc, rim included, and of a rectangle about the origin, as y and z of the pad frame. */
function disc(radius: number): (readonly [number, number])[] {
  const rings = Math.max(1, Math.ceil(radius / SPACING));
  return Array.from({ length: rings }, (_, ring) => {
    const r = (radius * (ring + 1)) / rings;
    const count = Math.max(8, Math.ceil((2 * Math.PI * r) / SPACING));
    return Array.from({ length: count }, (_point, k) => {
      const angle = (2 * Math.PI * k) / count;
      return [r * Math.cos(angle), r * Math.sin(angle)] as const;
    });
  }).flat();
}

function grid(half: number, depth: number): (readonly [number, number])[] {
  const steps = (size: number): number => Math.max(1, Math.ceil(size / SPACING));
  const [across, down] = [steps(2 * half), steps(depth)];
  return Array.from({ length: across + 1 }, (_, i) =>
    Array.from({ length: down + 1 }, (_point, k) => {
      const inside = (size: number, n: number, at: number): number => TOUCH + ((size - 2 * TOUCH) * at) / n;
      return [inside(2 * half, across, i) - half, inside(depth, down, k)] as const;
    }),
  ).flat();
}

/** What a finger on one side of a part feels. */
interface Felt {
  /** Outermost matter under the middle of its pad, mm from the middle of the jaw; undefined when it meets nothing. */
  readonly reach: number | undefined;
  /** The pad lies on one flat face, wholly. */
  readonly flat: boolean;
  /** Something of the part is where the finger would be. */
  readonly meets: boolean;
}

function feel(solid: Solid, frame: Pose, jaw: JawGripper, way: Vec3): Felt {
  const radius = jaw.padDiameter / 2;
  const middle = jaw.depth - radius;
  const stretches = (y: number, z: number): Stretch[] => matterAlong(solid, place(frame, [0, y, z]), way);
  const outermost = (y: number, z: number): number =>
    Math.max(-Infinity, ...stretches(y, z).map(([, to]) => to));
  const reach = outermost(0, middle);
  if (reach === -Infinity) return { reach: undefined, flat: false, meets: false };
  const flat = disc(radius - ROUNDING).every(
    ([y, z]) => Math.abs(outermost(y, middle + z) - reach) <= ROUNDING,
  );
  const far = reach + jaw.fingerThickness + (jaw.opensBy ?? Math.max(0, jaw.stroke[1] / 2 - reach));
  const meets = grid(radius, jaw.depth).some(([y, z]) =>
    stretches(y, z).some(([from, to]) => to > reach + TOUCH && from < far - TOUCH),
  );
  return { reach, flat, meets };
}

/**
 * Whether a jaw closes on two flat faces within its stroke, its pads wholly on them and its fingers clear of the part:
 * felt for along lines through the part's pieces, in no way by its faces.
 */
export function jawFindings(rule: string, { placed, grip, where }: PartGrip, jaw: JawGripper): Finding[] {
  const { shape, id } = placed.part;
  const [solid, frame] = [shapeSolid(shape), padFrame(shape, grip)];
  const x = axisX(frame.turn);
  const sides = [
    { name: 'finger 1', ...feel(solid, frame, jaw, negate(x)) },
    { name: 'finger 2', ...feel(solid, frame, jaw, x) },
  ];
  const told = (message: string, numbers: { value?: number; limit?: number } = {}): Finding =>
    breach(rule, `${where}.grip`, message, numbers);
  const pads = sides
    .filter(({ flat }) => !flat)
    .map(({ name }) => told(`${name} of ${jaw.id} is not wholly on a flat face of ${id}`));
  const fingers = sides
    .filter(({ meets }) => meets)
    .map(({ name }) => told(`${name} of ${jaw.id} meets ${id} beside its pad`));
  const [first, second] = sides.map(({ reach }) => reach);
  if (first === undefined || second === undefined) return [...pads, ...fingers];
  const opening = first + second;
  const [least, most] = [jaw.stroke[0], jaw.stroke[1] - 2 * (jaw.opensBy ?? 0)];
  const aside = Math.abs(first - second) / 2;
  const limit = opening < least ? least : most;
  return [
    ...pads,
    ...fingers,
    ...(opening < least - ROUNDING || opening > most + ROUNDING
      ? [
          told(
            `${jaw.id} would be ${shown(opening)} mm open on ${id}; it closes on ${shown(least)} to ${shown(most)} mm`,
            { value: opening, limit },
          ),
        ]
      : []),
    ...(aside > PLAY + ROUNDING
      ? [told(`${jaw.id} is ${shown(aside)} mm off the middle of ${id}`, { value: aside, limit: PLAY })]
      : []),
  ];
}

import { seededRandom } from '../../src/base/random.js';
import { cross, scale, unit, type Vec3 } from '../../src/geometry/vector.js';
import { tackSprings, type Spring, type Stop } from '../../src/mechanics/distortion.js';
import { GROUND } from '../../src/mechanics/system.js';

/** What happens to a random weldment: springs that come under a name, springs that go, stops that come. */
export type RandomEvent =
  | { readonly add: readonly Spring[]; readonly name: number }
  | { readonly remove: number }
  | { readonly stops: readonly Stop[] };

export interface RandomWeldment {
  readonly centres: readonly Vec3[];
  readonly events: readonly RandomEvent[];
}

export interface RandomSprings {
  /** Whether springs yield and holds slip. */
  readonly yields: boolean;
  readonly stops: boolean;
}

/** Parts of our own invention strewn over a cube of 800 mm, with tacks, holds that come and go, and stops. */
export function randomWeldment(seed: number, { yields, stops }: RandomSprings): RandomWeldment {
  const random = seededRandom(seed);
  const within = (least: number, most: number): number => least + (most - least) * random();
  const point = (): Vec3 => [within(0, 800), within(0, 800), within(0, 800)];
  const direction = (): Vec3 => unit([within(-1, 1), within(-1, 1), within(-1, 1) + 1e-3]);
  const count = 1 + Math.floor(random() * 7);
  const pair = (): { readonly a: number; readonly b: number } => {
    const b = Math.floor(random() * count);
    const a = Math.floor(random() * (count + 1)) - 1;
    return { a: a === b ? GROUND : a, b };
  };
  const tack = (): Spring[] => {
    const along = direction();
    const open = unit(cross(along, direction()));
    const shrinkage = { transverse: within(0, 0.3), longitudinal: 0, angular: within(0, 0.02) };
    const size = { length: within(20, 60), throat: within(2, 6), modulus: 210_000 };
    return tackSprings({
      ...{ ...pair(), at: point(), along, open, pull: cross(along, open), ...size, shrinkage },
      yield: yields ? 235 : Infinity,
    });
  };
  const held: number[] = [];
  const events = Array.from({ length: 3 * count }, (_, name): RandomEvent => {
    const kind = random();
    if (kind < 0.2 && held.length > 0) return { remove: held.pop()! };
    if (kind < 0.45) {
      held.push(name);
      const most = yields && random() < 0.5 ? 60 : Infinity;
      const pads = [point(), point(), point()];
      const stiffness = within(50, 500);
      const b = Math.floor(random() * count);
      return { name, add: pads.map((at) => ({ a: GROUND, b, at, stiffness, most })) };
    }
    if (stops && kind < 0.6)
      return {
        stops: [{ ...pair(), at: point(), normal: direction(), stiffness: 1e6, gap: within(-0.05, 0.15) }],
      };
    return { name, add: tack() };
  });
  return { centres: Array.from({ length: count }, point), events };
}

/** The same with everything mapped: points by one function, directions by another. */
export function mapped(
  { centres, events }: RandomWeldment,
  point: (at: Vec3) => Vec3,
  direction: (vector: Vec3) => Vec3,
): RandomWeldment {
  return {
    centres: centres.map(point),
    events: events.map((event) => {
      if ('remove' in event) return event;
      if ('stops' in event)
        return {
          stops: event.stops.map((stop) => ({ ...stop, at: point(stop.at), normal: direction(stop.normal) })),
        };
      const add = event.add.map((spring) => ({
        ...{ ...spring, at: point(spring.at) },
        shrink: direction(spring.shrink ?? [0, 0, 0]),
      }));
      return { ...event, add };
    }),
  };
}

/** The same with the shrinkages of each spring replaced. */
export const withShrinkage = (
  { centres, events }: RandomWeldment,
  factor: (name: number) => number,
): RandomWeldment => ({
  centres,
  events: events.map((event) =>
    'add' in event
      ? {
          ...event,
          add: event.add.map((spring) => ({
            ...spring,
            shrink: scale(spring.shrink ?? [0, 0, 0], factor(event.name)),
          })),
        }
      : event,
  ),
});

import fc from 'fast-check';
import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { fromRollPitchYaw, rotate } from '../../src/geometry/pose.js';
import { add, cross, dot, length, negate, subtract, type Vec3 } from '../../src/geometry/vector.js';
import { Distortion, type Spring, type Stop } from '../../src/mechanics/distortion.js';
import { GROUND } from '../../src/mechanics/system.js';
import { mapped, randomWeldment, withShrinkage, type RandomWeldment } from './random-springs.js';

interface Run {
  readonly system: Distortion;
  /** Springs that are there at the end, by their handle. */
  readonly springs: ReadonlyMap<number, readonly Spring[]>;
  readonly stops: readonly Stop[];
}

/** Lets everything happen, settling after each event; `each` sees the stored energy after it. */
function run({ centres, events }: RandomWeldment, each?: (energy: number, i: number) => void): Run {
  const system = new Distortion(centres);
  const handles = new Map<number, number>();
  const springs = new Map<number, readonly Spring[]>();
  const stops: Stop[] = [];
  events.forEach((event, i) => {
    if ('remove' in event) {
      system.remove(handles.get(event.remove)!);
      springs.delete(handles.get(event.remove)!);
    } else if ('stops' in event) {
      system.addStops(event.stops);
      stops.push(...event.stops);
    } else {
      handles.set(event.name, system.add(event.add));
      springs.set(handles.get(event.name)!, event.add);
    }
    const { energy } = system.settle();
    each?.(energy, i);
  });
  return { system, springs, stops };
}

const bodiesOf = ({ centres }: RandomWeldment): number[] => [...centres.keys()];
const close = (a: Vec3, b: Vec3, within: number): void => expect(length(subtract(a, b))).toBeLessThan(within);

describe('random weldments that settle', () => {
  it('are in equilibrium: forces and moments on each body cancel, none is beyond its limit, stops only push', () => {
    fc.assert(
      fc.property(fc.nat(), (seed) => {
        const weldment = randomWeldment(seed, { yields: true, stops: true });
        const { system, springs, stops } = run(weldment);
        const on = weldment.centres.map(() => ({
          force: [0, 0, 0] as Vec3,
          moment: [0, 0, 0] as Vec3,
          size: 1,
        }));
        const act = (body: number, at: Vec3, force: Vec3): void => {
          if (body === GROUND) return;
          const { force: before, moment, size } = on[body]!;
          const turning = cross(subtract(at, weldment.centres[body]!), force);
          on[body] = { force: add(before, force), moment: add(moment, turning), size: size + length(force) };
        };
        for (const [handle, list] of springs)
          system.force(handle).forEach((force, i) => {
            const { a, b, at, most } = list[i]!;
            expect(length(force)).toBeLessThanOrEqual(most * (1 + 1e-9));
            act(b, at, force);
            act(a, at, negate(force));
          });
        for (const { a, b, at, normal, stiffness, gap } of stops) {
          const open = gap + dot(normal, subtract(system.displacement(b, at), system.displacement(a, at)));
          const push = stiffness * Math.max(0, -open);
          act(b, at, [normal[0] * push, normal[1] * push, normal[2] * push]);
          act(a, at, [-normal[0] * push, -normal[1] * push, -normal[2] * push]);
        }
        for (const { force, moment, size } of on) {
          expect(length(force)).toBeLessThan(1e-6 * size);
          expect(length(moment)).toBeLessThan(1e-4 * size);
        }
      }),
      { numRuns: 150, seed: 71 },
    );
  });

  it('turn with the world', () => {
    fc.assert(
      fc.property(fc.nat(), fc.double({ min: -3, max: 3, noNaN: true }), (seed, yaw) => {
        const weldment = randomWeldment(seed, { yields: true, stops: true });
        const turn = fromRollPitchYaw(0.3, yaw / 3, yaw);
        const direction = (vector: Vec3): Vec3 => rotate(turn, vector);
        const turned = mapped(weldment, (at) => add(direction(at), [100, -50, 20]), direction);
        const [before, after] = [run(weldment).system, run(turned).system];
        for (const body of bodiesOf(weldment)) {
          close(direction(before.motion(body).move), after.motion(body).move, 1e-5);
          close(direction(before.motion(body).turn), after.motion(body).turn, 1e-7);
        }
      }),
      { numRuns: 100, seed: 72 },
    );
  });

  it('store no more energy after a let-go than before', () => {
    fc.assert(
      fc.property(fc.nat(), (seed) => {
        const weldment = randomWeldment(seed, { yields: true, stops: true });
        let before = 0;
        run(weldment, (energy, i) => {
          if ('remove' in weldment.events[i]!) expect(energy).toBeLessThanOrEqual(before * (1 + 1e-9) + 1e-9);
          before = energy;
        });
      }),
      { numRuns: 150, seed: 73 },
    );
  });

  it('add up without stops and yield: two shrinkages at once do what each does', () => {
    fc.assert(
      fc.property(fc.nat(), (seed) => {
        const whole = randomWeldment(seed, { yields: false, stops: false });
        const even = withShrinkage(whole, (name) => (name % 2 === 0 ? 1 : 0));
        const odd = withShrinkage(whole, (name) => (name % 2 === 0 ? 0 : 1));
        const [all, first, second] = [run(whole).system, run(even).system, run(odd).system];
        for (const body of bodiesOf(whole)) {
          const sum = add(first.motion(body).move, second.motion(body).move);
          close(all.motion(body).move, sum, 1e-5);
        }
      }),
      { numRuns: 100, seed: 74 },
    );
  });

  it('settle to the same again, and a copy goes its own way', () => {
    fc.assert(
      fc.property(fc.nat(), (seed) => {
        const weldment = randomWeldment(seed, { yields: true, stops: true });
        const { system } = run(weldment);
        const before = bodiesOf(weldment).map((body) => system.motion(body));
        const copy = system.copy();
        copy.add([{ a: GROUND, b: 0, at: [0, 0, 0], stiffness: 1e6, most: 1e5, shrink: [1, 2, 3] }]);
        copy.settle();
        expect(bodiesOf(weldment).map((body) => system.motion(body))).toEqual(before);
        expect(copy.motion(0)).not.toEqual(before[0]);
        expect(bodiesOf(weldment).map((body) => run(weldment).system.motion(body))).toEqual(before);
        system.settle();
        bodiesOf(weldment).forEach((body, i) => close(system.motion(body).move, before[i]!.move, 1e-6));
      }),
      { numRuns: 60, seed: 75 },
    );
  });
});

describe('elastic springs against an independent library', () => {
  /** Displacement of a point of a body by its six numbers: three rows. */
  const rowsOf = (spring: Spring, centres: readonly Vec3[]): Matrix => {
    const rows = Matrix.zeros(3, 6 * centres.length);
    for (const [body, sign] of [
      [spring.a, -1],
      [spring.b, 1],
    ] as const) {
      if (body === GROUND) continue;
      const [x, y, z] = subtract(spring.at, centres[body]!);
      const place = [
        [1, 0, 0, 0, z, -y],
        [0, 1, 0, -z, 0, x],
        [0, 0, 1, y, -x, 0],
      ];
      place.forEach((row, i) => row.forEach((value, j) => rows.set(i, 6 * body + j, sign * value)));
    }
    return rows;
  };

  it('all born at once, they settle where the normal equations of ml-matrix have them', () => {
    fc.assert(
      fc.property(fc.nat(), (seed) => {
        const { centres, events } = randomWeldment(seed, { yields: false, stops: false });
        const held = centres.map((at, b): Spring[] =>
          [0, 1, 2].map((axis) => ({
            ...{ a: GROUND, b, stiffness: 400, most: Infinity },
            at: at.map((value, i) => value + (i === axis ? 200 : 0)) as unknown as Vec3,
          })),
        );
        const springs = [...held.flat(), ...events.flatMap((event) => ('add' in event ? event.add : []))];
        let stiffness = Matrix.zeros(6 * centres.length, 6 * centres.length);
        let side = Matrix.zeros(6 * centres.length, 1);
        for (const spring of springs) {
          const rows = rowsOf(spring, centres);
          stiffness = stiffness.add(rows.transpose().mmul(rows).mul(spring.stiffness));
          const wanted = Matrix.columnVector([...(spring.shrink ?? [0, 0, 0])]);
          side = side.add(rows.transpose().mmul(wanted).mul(spring.stiffness));
        }
        const theirs = solve(stiffness, side).to1DArray();
        const system = new Distortion(centres);
        system.add(springs);
        system.settle();
        centres.forEach((_, body) => {
          close(system.motion(body).move, theirs.slice(6 * body, 6 * body + 3) as unknown as Vec3, 1e-6);
          close(system.motion(body).turn, theirs.slice(6 * body + 3, 6 * body + 6) as unknown as Vec3, 1e-8);
        });
      }),
      { numRuns: 80, seed: 76 },
    );
  });
});

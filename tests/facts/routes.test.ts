import { describe, expect, it } from 'vitest';
import { emptySet, has, setOf } from '../../src/base/part-set.js';
import { armBody, ArmRoom, gripperAlone } from '../../src/facts/arm-room.js';
import { Routes, type Route } from '../../src/facts/routes.js';
import type { StrokeEnd } from '../../src/facts/ways-out.js';
import { compose, fromRollPitchYaw, inverse, NO_TURN, type Pose } from '../../src/geometry/pose.js';
import { distance, type Vec3 } from '../../src/geometry/vector.js';
import type { Joints } from '../../src/kinematics/arm.js';
import { forward } from '../../src/kinematics/forward.js';
import { reach } from '../../src/kinematics/reach.js';
import type { Cell } from '../../src/model/cell.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { testCell } from '../support/cell.js';
import { boxHull, densely, leastDistance } from '../support/dense-clearance.js';
import { standWeldment } from '../support/stand-weldment.js';

type KeepOut = readonly [size: Vec3, at: Vec3];

const CLEARANCE = DEFAULT_SETTINGS.motion.clearance;
const DOWN = fromRollPitchYaw(180, 0, 0);
/** Above the work table, the gripper 160 mm long straight down. */
const ABOVE: Vec3 = [0, 0, 900];

function cellWith(...keepOuts: readonly KeepOut[]): Cell {
  return { ...testCell(), keepOuts: keepOuts.map(([size, at]) => ({ size, pose: { at, turn: NO_TURN } })) };
}

/** The handling arm of the test bench with the small gripper, among keep-outs, and where it stands at a flange pose. */
function arm(...keepOuts: readonly KeepOut[]) {
  const cell = cellWith(...keepOuts);
  const [handler, gripper] = [cell.handlers[0]!, cell.grippers[1]!];
  const scene = buildScene(standWeldment(), cell, DEFAULT_SETTINGS);
  const room = new ArmRoom(scene, handler, DEFAULT_SETTINGS);
  const load = gripperAlone(gripper);
  const at = (pose: Pose): Joints => {
    const found = reach(handler.arm, compose(inverse(handler.base), pose));
    if (!found.ok) throw new Error(JSON.stringify(found.error));
    return found.value[0]!.joints;
  };
  const end: StrokeEnd = { joints: at({ at: ABOVE, turn: DOWN }), away: [0, 0, 1] };
  return { cell, handler, room, load, end, body: armBody(handler, load), none: emptySet(scene.parts.length) };
}

/** Postures along a route, close to one another. */
const along = (route: Route): readonly Joints[] => route.legs.flatMap(({ way }) => densely(way, 200));

/** But for last bits. */
const expectSame = (joints: Joints, wanted: Joints): void =>
  joints.forEach((value, i) => expect(value).toBeCloseTo(wanted[i]!, 12));

const flangeAt = ({ handler }: ReturnType<typeof arm>, joints: Joints): Vec3 =>
  compose(handler.base, forward(handler.arm, joints)).at;

/** A block that stands on the straight line between home and the posture above the table. */
const onTheWay = (): KeepOut => {
  const free = arm();
  const route = new Routes(free.room, free.load, 'home', free.end).first(free.none)!;
  const [x, y, z] = flangeAt(free, densely(route.legs[0]!.way, 4)[2]!);
  return [
    [60, 400, 60],
    [x, y, z - 160],
  ];
};

describe('a route', () => {
  it('is one joint move from home where nothing stands in the way', () => {
    const { room, load, end, handler, none } = arm();
    const route = new Routes(room, load, 'home', end).first(none)!;
    expect(route.legs).toMatchObject([{ path: 'joint', way: [handler.home, end.joints], millimetres: 0 }]);
    expect(route.isClearOf(none)).toBe(true);
    const back = new Routes(room, load, end, 'home').first(none)!;
    expect(back.legs).toMatchObject([{ path: 'joint', way: [end.joints, handler.home], millimetres: 0 }]);
    expect(back.milliseconds).toBe(route.milliseconds);
  });

  it.each(['out', 'back'] as const)('goes by way of other points round a block on its way: %s', (way) => {
    const block = onTheWay();
    const one = arm(block);
    const { room, load, end, handler, none, body } = one;
    const [start, finish] = way === 'out' ? (['home', end] as const) : ([end, 'home'] as const);
    const routes = new Routes(room, load, start, finish);
    expect(routes.hits.fixed).toBe('keep-out 1');
    const hull = boxHull(...block);
    expect(leastDistance(body, densely([handler.home, end.joints], 200), [hull], 1)).toBeLessThan(CLEARANCE);

    const route = routes.first(none)!;
    expect(route.legs.length).toBeGreaterThan(1);
    expect(route.legs.map(({ hits }) => hits.fixed)).toEqual(route.legs.map(() => undefined));
    // One leg begins where the last one ends, from the one end to the other.
    const [from, to] = way === 'out' ? [handler.home, end.joints] : [end.joints, handler.home];
    expectSame(route.legs[0]!.way[0]!, from);
    expectSame(route.legs.at(-1)!.end, to);
    route.legs.slice(1).forEach((leg, i) => expect(leg.way[0]).toEqual(route.legs[i]!.end));
    expect(leastDistance(body, along(route), [hull], 1)).toBeGreaterThanOrEqual(CLEARANCE - 1e-6);
    for (const leg of route.legs)
      if (leg.path === 'straight')
        expect(distance(flangeAt(one, leg.way[0]!), flangeAt(one, leg.end))).toBeCloseTo(leg.millimetres, 6);
  });

  it('is not found into a box, and what stands in the way is named', () => {
    // Walls to both sides of forearm and gripper, a bar 35 mm above the forearm and a wall below it, between gripper and arm:
    // nothing is left but to reach through.
    const walls: KeepOut[] = [
      [
        [500, 20, 700],
        [0, -150, 900],
      ],
      [
        [500, 20, 700],
        [0, 150, 900],
      ],
    ];
    const bar: KeepOut = [
      [60, 600, 60],
      [-150, 0, 1177],
    ];
    const wall: KeepOut = [
      [20, 280, 300],
      [-130, 0, 850],
    ];
    const { room, load, end, none } = arm(...walls, bar, wall);
    expect(room.hits(load, [end.joints]).fixed).toBeUndefined();
    const routes = new Routes(room, load, 'home', end);
    expect(routes.first(none)).toBeUndefined();
    expect(routes.hits.fixed).toMatch(/^keep-out [1-4]$/);
  });

  it('may pass where parts come later, but not through those that are there', () => {
    const { room, load, end, none, handler } = arm();
    // The wall of the stand is 130 mm high and stands where the gripper goes.
    const [x, y] = ABOVE;
    const found = reach(handler.arm, compose(inverse(handler.base), { at: [x, y, 700], turn: DOWN }));
    if (!found.ok) throw new Error('out of reach');
    const low: StrokeEnd = { joints: found.value[0]!.joints, away: [0, 0, 1] };
    const routes = new Routes(room, load, end, low);
    expect(routes.first(none)).toBeDefined();
    expect(has(routes.hits.parts, 1)).toBe(true);
    expect(routes.first(setOf(3, [1]))).toBeUndefined();
    // Unless it is the part that is looked at as its own.
    expect(new Routes(room, load, end, low, 1).first(setOf(3, [1]))).toBeDefined();
  });

  it('and the one that goes on from its end are one', () => {
    const { room, load, end, none } = arm();
    const out = new Routes(room, load, 'home', end).first(none)!;
    const back = new Routes(room, load, end, 'home').first(none)!;
    const both = out.then(back);
    expect(both.legs).toEqual([...out.legs, ...back.legs]);
    expect(both.milliseconds).toBe(out.milliseconds + back.milliseconds);
  });

  it('keeps clear of an arm that stands still, or not', () => {
    const one = arm();
    const { cell, room, load, end, none, body } = one;
    const scene = buildScene(standWeldment(), cell, DEFAULT_SETTINGS);
    const other = new ArmRoom(scene, cell.welders[0]!, DEFAULT_SETTINGS);
    const route = new Routes(room, load, 'home', end).first(none)!;
    const home = other.standing([], cell.welders[0]!.home);
    expect(route.isClearOf(none, [home])).toBe(true);
    expect(
      leastDistance(
        body,
        along(route),
        home.map(({ hull }) => hull),
      ),
    ).toBeGreaterThan(CLEARANCE);
    // The welding arm with its flange where the gripper of the other one shall be.
    const there = reach(
      cell.welders[0]!.arm,
      compose(inverse(cell.welders[0]!.base), { at: [0, 0, 800], turn: fromRollPitchYaw(0, -90, 0) }),
    );
    if (!there.ok) throw new Error(JSON.stringify(there.error));
    const inTheWay = other.standing([], there.value[0]!.joints);
    expect(route.isClearOf(none, [inTheWay])).toBe(false);
    expect(new Routes(room, load, 'home', end).first(none, [inTheWay])).toBeUndefined();
    expect(
      leastDistance(
        body,
        along(route),
        inTheWay.map(({ hull }) => hull),
      ),
    ).toBeLessThan(CLEARANCE);
  });
});

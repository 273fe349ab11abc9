import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gripOfRole, roleOfGrip } from '../../src/facts/grip-role.js';
import { gripPlaces } from '../../src/facts/grip-places.js';
import { jawPlaces } from '../../src/facts/jaw-places.js';
import type { Cell } from '../../src/model/cell.js';
import type { Gripper } from '../../src/model/gripper.js';
import type { GripPlace } from '../../src/model/placement.js';
import { shapeSolid } from '../../src/model/part-geometry.js';
import type { PlanGrip } from '../../src/model/plan.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import type { Shape } from '../../src/model/shape.js';
import type { Part } from '../../src/model/weldment.js';
import { testCell } from '../support/cell.js';
import { jawOf, magnetOf, vacuumOf } from '../support/grippers.js';

/** One pad of three alone is off the middle of the gripper. */
const magnet = magnetOf({
  pads: [
    [-30, 0],
    [0, 0],
    [30, 0],
  ],
  padDiameter: 20,
  groups: [{ id: 'end', pads: [2] }],
});
const grippers: readonly Gripper[] = [magnet, vacuumOf({ padDiameter: 25 }), jawOf()];
const cell: Cell = { ...testCell(), grippers };

const partOf = (shape: Shape, grips?: Part['grips']): Part => ({ id: 'part', shape, grips }) as Part;

const placesOn = (part: Part, gripper: Gripper): readonly GripPlace[] =>
  gripper.kind === 'jaw'
    ? jawPlaces(part, shapeSolid(part.shape), gripper, DEFAULT_SETTINGS)
    : gripPlaces(part.shape, gripper, DEFAULT_SETTINGS);

const stated = ({ face, position, turn, group }: GripPlace, gripper: Gripper): PlanGrip => ({
  ...{ gripper: gripper.id, face, position: [...position], turn: (turn * 180) / Math.PI },
  ...(group === undefined ? {} : { group }),
});

const size = fc.integer({ min: 30, max: 400 });
const shapes: fc.Arbitrary<Shape> = fc.oneof(
  fc.tuple(size, size, fc.integer({ min: 5, max: 60 })).map(([length, width, height]): Shape => ({
    kind: 'block',
    length,
    width,
    height,
  })),
  fc.tuple(size, size).map(([length, width]): Shape => ({ kind: 'plate', length, width, height: 8 })),
  fc.integer({ min: 80, max: 500 }).map((length): Shape => ({
    kind: 'angle',
    length,
    width: 60,
    height: 80,
    thickness: 8,
  })),
);

const near = (a: readonly number[], b: readonly number[]): boolean =>
  a.every((x, i) => Math.abs(x - b[i]!) < 0.06);

describe('the role of a grip', () => {
  it('gives the same grip back, wherever grips are tried', () => {
    fc.assert(
      fc.property(shapes, fc.nat({ max: 2 }), fc.nat(), (shape, which, at) => {
        const part = partOf(shape);
        const gripper = grippers[which]!;
        const places = placesOn(part, gripper);
        fc.pre(places.length > 0);
        const grip = stated(places[at % places.length]!, gripper);
        const back = gripOfRole(part, roleOfGrip(part, grip, gripper), cell);
        expect(back.ok && near(back.value.position, grip.position)).toBe(true);
        expect(back.ok && { ...back.value, position: [] }).toEqual({ ...grip, position: [] });
      }),
      { numRuns: 300 },
    );
  });

  it('is a place at which grips are tried on the same shape in another size too', () => {
    fc.assert(
      fc.property(size, size, size, size, fc.nat({ max: 2 }), fc.nat(), (l, w, l2, w2, which, at) => {
        const gripper = grippers[which]!;
        const plateOf = (length: number, width: number): Part =>
          partOf({ kind: 'plate', length, width, height: 40 });
        const places = placesOn(plateOf(l, w), gripper);
        const role = roleOfGrip(plateOf(l, w), stated(places[at % places.length]!, gripper), gripper);
        const there = gripOfRole(plateOf(l2, w2), role, cell);
        if (!there.ok) throw new Error(there.error.code);
        const { face, turn, group, position } = there.value;
        const alike = placesOn(plateOf(l2, w2), gripper).filter(
          (place) =>
            place.face === face && place.group === group && near([place.turn], [(turn * Math.PI) / 180]),
        );
        expect(alike.some((place) => near(place.position, position))).toBe(true);
      }),
      { numRuns: 300 },
    );
  });

  it('says in words what a place is: a share of the room, over the centre of mass, given, or millimetres', () => {
    const plate = partOf({ kind: 'plate', length: 200, width: 100, height: 8 });
    const role = (part: Part, position: [number, number], turn = 0) =>
      roleOfGrip(part, { gripper: 'magnet', face: '+z', position, turn }, magnet).place;
    // Half the plate less half the pads, 100 - 40 along and 50 - 10 across, and 1 mm to the edges.
    expect(role(plate, [59, -39])).toEqual({ share: [1, -1] });
    expect(role(plate, [0, 39])).toEqual({ share: [0, 1] });
    expect(role(plate, [0, 39], 90)).toEqual({ at: [0, 39] });
    expect(role(plate, [12, 0], 45)).toEqual({ at: [12, 0] });
    const given = { gripper: 'magnet', face: '+z', position: [12, 0], turn: Math.PI / 4 } as const;
    expect(role(partOf(plate.shape, [{ ...given, turn: 0 }, given]), [12, 0], 45)).toEqual({ given: 2 });
    const angle = partOf({ kind: 'angle', length: 300, width: 60, height: 80, thickness: 8 });
    const over = placesOn(angle, magnet)
      .map((place) => roleOfGrip(angle, stated(place, magnet), magnet).place)
      .filter((place) => 'over' in place);
    expect(over.length).toBeGreaterThan(0);
  });

  it('is refused by a part without the face, and by one whose given grip is another', () => {
    const role = { gripper: 'magnet', face: '+z', turn: 0 } as const;
    const bar = partOf({ kind: 'round-bar', length: 100, diameter: 40 });
    expect(gripOfRole(bar, { ...role, place: { share: [0, 0] } }, cell)).toMatchObject({
      error: { code: 'role-without-face' },
    });
    const plate = partOf({ kind: 'plate', length: 200, width: 100, height: 8 }, [
      { gripper: 'cups', face: '+z', position: [0, 0], turn: 0 },
    ]);
    expect(gripOfRole(plate, { ...role, place: { given: 1 } }, cell)).toMatchObject({
      error: { code: 'role-without-grip' },
    });
  });
});

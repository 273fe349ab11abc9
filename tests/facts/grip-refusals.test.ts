import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { refusalOf } from '../../src/facts/grip-refusals.js';
import { jawPlaces } from '../../src/facts/jaw-places.js';
import { combineMass } from '../../src/geometry/mass.js';
import { NO_TURN } from '../../src/geometry/pose.js';
import { block } from '../../src/geometry/shapes.js';
import { makeSolid, placeSolid, type Solid } from '../../src/geometry/solid.js';
import { findMaterial } from '../../src/model/material.js';
import type { Gripper } from '../../src/model/gripper.js';
import { shapeSolid } from '../../src/model/part-geometry.js';
import type { GripPlace } from '../../src/model/placement.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import type { Shape } from '../../src/model/shape.js';
import type { Part } from '../../src/model/weldment.js';
import { jawFindings } from '../../src/rules/jaw-fits.js';
import type { PartGrip } from '../../src/rules/part-grip.js';
import { testCell } from '../support/cell.js';
import { jawOf, magnetOf, vacuumOf } from '../support/grippers.js';
import { plateShape, steelPart } from '../support/stand-weldment.js';

const TUBE: Shape = { kind: 'rectangular-hollow-section', length: 200, width: 60, height: 40, wall: 4 };
const tube = steelPart('tube', TUBE, [0, 0, 0]);
const plate = steelPart('plate', plateShape(200, 100, 10), [0, 0, 0]);
const middle: GripPlace = { face: '+z', position: [0, 0], turn: 0 };
const QUARTER = Math.PI / 2;

const refusal = (part: Part, gripper: Gripper, grip: GripPlace, solid: Solid = shapeSolid(part.shape)) =>
  refusalOf(part, solid, testCell().handlers[0]!, grip, gripper);

describe('a grip is refused with its number', () => {
  it('by a magnet on what is not magnetic, and by one that is too hot; not so by cups or a jaw', () => {
    const stainless = { ...plate, material: findMaterial('1.4301')! };
    expect(refusal(stainless, magnetOf(), middle)).toMatchObject({ code: 'not-magnetic', value: 0 });
    expect(refusal(stainless, vacuumOf(), middle)).toBeUndefined();
    expect(refusal(plate, magnetOf({ temperature: 95 }), middle)).toMatchObject({
      code: 'magnet-too-hot',
      value: 95,
      limit: 80,
    });
    expect(refusal(plate, magnetOf({ temperature: 95, grade: 'M' }), middle)).toBeUndefined();
  });

  it('by cups over an edge or over a hole', () => {
    // The rim of a cup of radius 20 at 30 + 60 is 110 from the middle, 10 beyond the edge.
    expect(refusal(plate, vacuumOf(), { ...middle, position: [60, 0] })).toMatchObject({
      code: 'footprint',
      value: -10,
    });
    // The end of a tube is a ring with walls of 4 mm about a hole.
    const one = vacuumOf({ pads: [[0, 0]], padDiameter: 30 });
    expect(refusal(tube, one, { ...middle, face: '+x' })?.code).toBe('footprint');
  });

  it('by pads that are in use only', () => {
    const groups = [{ id: 'left', pads: [0] }];
    const aside: GripPlace = { ...middle, position: [60, 0] };
    expect(refusal(plate, magnetOf({ groups }), aside)?.code).toBe('footprint');
    expect(refusal(plate, magnetOf({ groups }), { ...aside, group: 'left' })).toBeUndefined();
  });

  it('by a jaw whose stroke does not do', () => {
    // Closing along x of the pad frame: on the length of 200, after a quarter turn on the width of 60.
    const bar = steelPart('bar', plateShape(200, 60, 40), [0, 0, 0]);
    expect(refusal(bar, jawOf(), middle)).toMatchObject({ code: 'jaw-stroke', value: 200, limit: 90 });
    expect(refusal(tube, jawOf(), { ...middle, turn: QUARTER })).toBeUndefined();
    expect(refusal(tube, jawOf({ stroke: [70, 200] }), { ...middle, turn: QUARTER })).toMatchObject({
      code: 'jaw-stroke',
      value: 60,
      limit: 70,
    });
    // It must also open by 5 mm a side to come off.
    expect(refusal(tube, jawOf({ stroke: [20, 69] }), { ...middle, turn: QUARTER })?.limit).toBe(59);
  });

  it('by a jaw with its pads over an edge, off the middle, or with nothing to close on', () => {
    const across: GripPlace = { ...middle, turn: QUARTER };
    expect(refusal(tube, jawOf(), { ...across, position: [92, 0] })).toMatchObject({
      code: 'footprint',
      value: -2,
    });
    expect(refusal(tube, jawOf(), { ...across, position: [0, 3] })).toMatchObject({
      code: 'jaw-off-centre',
      value: 3,
      limit: 0.5,
    });
    expect(refusal(tube, jawOf({ depth: 80 }), across)?.code).toBe('jaw-no-face');
  });

  it('by a finger that would go through a flange', () => {
    const at = (solid: Solid, z: number): Solid => placeSolid(solid, { at: [0, 0, z], turn: NO_TURN });
    const [web, flange] = [at(block(30, 100, 90), -5), at(block(80, 100, 10), 45)];
    const both = [web, flange];
    const tee = makeSolid(
      both.flatMap(({ pieces }) => pieces),
      both.flatMap(({ faces }, i) =>
        faces.map((face) => ({ ...face, id: i === 1 ? face.id : `web${face.id}` })),
      ),
      combineMass(both),
    );
    const part = steelPart('tee', { kind: 'block', length: 80, width: 100, height: 100 }, [0, 0, 0]);
    expect(refusal(part, jawOf(), middle, tee)?.code).toBe('finger-meets-part');
  });

  it('by the inertia about an axis of the wrist', () => {
    const handler = testCell().handlers[0]!;
    const weak = (inertia: [number, number, number]) => ({
      ...handler,
      payload: { ...handler.payload, inertia },
    });
    const grip = refusalOf(plate, shapeSolid(plate.shape), weak([9, 9, 0.001]), middle, magnetOf());
    // Plate 200 x 100 of 1.57 kg and gripper box 100 x 60 of 2.5 kg about their common axis: m (a2 + b2) / 12.
    const about6 = (1.57 * (200 ** 2 + 100 ** 2) + 2.5 * (100 ** 2 + 60 ** 2)) / 12 / 1e6;
    expect(grip).toMatchObject({ code: 'wrist-inertia', limit: 0.001 });
    expect(grip?.subjects.at(-1)).toBe('axis 6');
    expect(grip?.value).toBeCloseTo(about6, 9);
    const ok = refusalOf(plate, shapeSolid(plate.shape), weak([9, 9, 9]), middle, magnetOf());
    expect(ok).toBeUndefined();
  });
});

const OUTER = ['+x', '-x', '+y', '-y', '+z', '-z'];

describe('places for a jaw', () => {
  const places = jawPlaces(tube, shapeSolid(TUBE), jawOf(), DEFAULT_SETTINGS);

  it('are tried on every face, along the part, and some of them fit', () => {
    expect(new Set(places.map(({ face }) => face))).toEqual(new Set(OUTER));
    const fit = places.filter((place) => refusal(tube, jawOf(), place) === undefined);
    const along = fit.filter(({ face, turn }) => face === '+z' && turn === QUARTER);
    expect(along.map(({ position }) => position[0])).toEqual([-89, -44, 0, 45, 89]);
  });

  it('are refused by the facts just where the rule, which feels for the part along lines, finds fault', () => {
    const anyPlace = fc.record({
      face: fc.constantFrom(...OUTER),
      position: fc.tuple(fc.constantFrom(0, 0, 20, -40, 70, 92), fc.constantFrom(0, 0, 0, 2)),
      turn: fc.constantFrom(0, QUARTER, 2 * QUARTER),
    });
    const anyGripper = fc
      .record({
        padDiameter: fc.integer({ min: 5, max: 25 }),
        depth: fc.integer({ min: 25, max: 65 }),
        most: fc.integer({ min: 45, max: 250 }),
      })
      .map(({ most, ...size }) => jawOf({ ...size, stroke: [15, most] }));
    const anyPart = fc.constantFrom(tube, plate, steelPart('bar', plateShape(90, 80, 60), [0, 0, 0]));
    let fitting = 0;
    fc.assert(
      fc.property(anyPart, anyPlace, anyGripper, (part, grip, jaw) => {
        const refused = refusal(part, jaw, grip);
        const one = { placed: { part }, grip, where: 'here' } as unknown as PartGrip;
        const found = jawFindings('grip-fits', one, jaw);
        if (refused === undefined) fitting += 1;
        expect(found.length > 0).toBe(refused !== undefined);
      }),
      { numRuns: 400, seed: 8 },
    );
    expect(fitting).toBeGreaterThan(10);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fromRollPitchYaw, IDENTITY, type Pose } from '../../../src/geometry/pose.js';
import { placeSolid } from '../../../src/geometry/solid.js';
import { distance, type Vec3 } from '../../../src/geometry/vector.js';
import type { RecognisedPart } from '../../../src/io/step/recognised.js';
import { shapeSolid } from '../../../src/model/part-geometry.js';
import { shapeFileSchema, shapeOf, type Shape, type ShapeFile } from '../../../src/model/shape.js';
import { partsIn, recognisedIn } from '../../support/import-step.js';
import { StepFile } from '../../support/step-file.js';
import { drawPart } from '../../support/step-of-weldment.js';
import { circle, polygon, rectangle, rounded } from '../../support/step-strokes.js';

/** How far sizes and places may be off what a file was made with, mm. */
const NEAR = 0.01;

const shape = (file: ShapeFile): Shape => shapeOf(shapeFileSchema.parse(file))!;
const poseOf = ({ at, turn }: Pick<RecognisedPart, 'at' | 'turn'>): Pose => ({
  at,
  turn: fromRollPitchYaw(...turn),
});

/** Every corner of the solid in place has one of the other within 0.01 mm. */
function expectSamePlace(made: Shape, pose: Pose, found: RecognisedPart): void {
  const read = shape({ [found.key]: found.sizes } as ShapeFile);
  const [a, b] = [placeSolid(shapeSolid(made), pose), placeSolid(shapeSolid(read), poseOf(found))];
  // Of faces that are one polygon: ends of sections are made up of several, cut where their frame has it.
  const corners = ({ faces }: typeof a): Vec3[] =>
    faces.flatMap(({ polygons }) => (polygons.length === 1 ? [...polygons[0]!] : []));
  const off = corners(a).map((corner) => Math.min(...corners(b).map((other) => distance(corner, other))));
  expect(Math.max(...off)).toBeLessThan(NEAR);
  expect(b.volume / a.volume).toBeCloseTo(1, 4);
}

/** Shapes that are found again as what they are, of sizes that are no round numbers. */
const SHAPES: Readonly<Record<string, ShapeFile>> = {
  plate: { plate: { length: 320.5, width: 220.25, thickness: 10 } },
  block: { block: { length: 60, width: 50.5, height: 40 } },
  'square-bar': { 'square-bar': { length: 350, width: 25.4 } },
  hollow: { 'rectangular-hollow-section': { length: 512.3, width: 60, height: 100, wall: 4 } },
  angle: { angle: { length: 300, width: 60, height: 40, thickness: 6 } },
  channel: { channel: { length: 400, height: 100, width: 50, web: 6, flange: 8.5 } },
  'i-section': { 'i-section': { length: 700, height: 160, width: 82, web: 5, flange: 7.4 } },
  prism: {
    prism: {
      length: 250,
      outline: [
        [-30, -20],
        [30, -20],
        [10, 20],
        [-25, 15],
      ],
    },
  },
  gusset: {
    plate: {
      thickness: 8,
      outline: [
        [0, 0],
        [80, 0],
        [80, 20],
        [20, 80],
        [0, 80],
      ],
      holes: [
        { at: [20, 20], diameter: 12.5 },
        {
          outline: [
            [40, 10],
            [60, 10],
            [60, 25],
            [40, 30],
          ],
        },
      ],
    },
  },
};

/** Those without a corner of their own: compared by sizes, axis and volume. */
const ROUND: Readonly<Record<string, ShapeFile>> = {
  'round-bar': { 'round-bar': { length: 411.5, diameter: 20 } },
  tube: { 'round-hollow-section': { length: 300, diameter: 60.3, wall: 4 } },
};

const pose = (at: Vec3, roll: number, pitch: number, yaw: number): Pose => ({
  at,
  turn: fromRollPitchYaw(roll, pitch, yaw),
});

function fileOf(shapes: Readonly<Record<string, ShapeFile>>, where: Pose): string {
  const file = new StepFile();
  for (const [name, one] of Object.entries(shapes)) drawPart(file, name, shape(one), where);
  return file.text();
}

describe('solids of a STEP file', () => {
  it('are found again with their sizes and in place, as they lie and turned', async () => {
    for (const where of [pose([120.5, -80, 33], 90, 0, 45), pose([1, 2, 3], 20, -35, 100)]) {
      const parts = await partsIn(fileOf(SHAPES, where));
      expect([...parts.keys()]).toEqual(Object.keys(SHAPES));
      for (const [name, file] of Object.entries(SHAPES)) {
        const found = parts.get(name)!;
        expect(found.key, name).toBe(Object.keys(file)[0]);
        expect([found.notes, found.mass], name).toEqual([[], undefined]);
        expectSamePlace(shape(file), where, found);
      }
    }
  });

  it('need no turn where they lie as their shape does', async () => {
    const parts = await partsIn(fileOf({ ...SHAPES, ...ROUND }, IDENTITY));
    for (const [name, { turn }] of parts) expect(turn, name).toEqual([0, 0, 0]);
  });

  it('may be round bars and tubes', async () => {
    const where = pose([10, 20, 30], 15, 40, 70);
    const parts = await partsIn(fileOf(ROUND, where));
    for (const [name, file] of Object.entries(ROUND)) {
      const found = parts.get(name)!;
      expect({ [found.key]: found.sizes }, name).toEqual(file);
      expect(distance(found.at, where.at), name).toBeLessThan(NEAR);
      const [axis, other] = [where, poseOf(found)].map(({ turn }): Vec3 => [turn[0], turn[3], turn[6]]);
      expect(Math.abs(axis![0] * other![0] + axis![1] * other![1] + axis![2] * other![2])).toBeCloseTo(1, 9);
    }
  });

  it('of any sizes and poses give these back', async () => {
    const size = (least: number, most: number) =>
      fc.integer({ min: least * 8, max: most * 8 }).map((n) => n / 8);
    const made = fc.record({
      long: size(120, 900),
      wide: size(40, 110),
      high: size(41, 115),
      wall: size(2, 9),
      turn: fc.tuple(size(-180, 180), size(-90, 90), size(-180, 180)),
      at: fc.tuple(size(-900, 900), size(-900, 900), size(-900, 900)),
    });
    await fc.assert(
      fc.asyncProperty(made, async ({ long, wide, high, wall, turn, at }) => {
        const shapes: Record<string, ShapeFile> = {
          plate: { plate: { length: long, width: wide, thickness: wall } },
          hollow: { 'rectangular-hollow-section': { length: long, width: wide, height: high, wall } },
          angle: { angle: { length: long, width: wide, height: high, thickness: wall } },
          channel: { channel: { length: long, width: wide, height: high, web: wall, flange: wall + 1 } },
          beam: { 'i-section': { length: long, width: wide, height: high, web: wall, flange: wall + 1 } },
        };
        const where = pose(at, ...turn);
        const parts = await partsIn(fileOf(shapes, where));
        for (const [name, file] of Object.entries(shapes))
          expectSamePlace(shape(file), where, parts.get(name)!);
      }),
      { numRuns: 6 },
    );
  });

  it('are read in metres, inches and without a unit, which is told', async () => {
    for (const unit of ['m', 'inch', 'none'] as const) {
      const file = new StepFile(unit);
      file.part('tie', [file.prism([rectangle(200, 50.8)], 6.35)]);
      const { solids, issues } = await recognisedIn(file.text());
      const tie = solids[0]!.solid as RecognisedPart;
      expect(tie.sizes).toEqual({ length: 200, width: 50.8, thickness: 6.35 });
      expect(tie.at).toEqual([0, 0, 3.175]);
      expect(issues.map(({ code }) => code)).toEqual(unit === 'none' ? ['step-without-unit'] : []);
    }
  });
});

describe('solids that are not quite a shape', () => {
  it('have round corners drawn sharp, with the mass that they have', async () => {
    const file = new StepFile();
    const tee = [
      [0, 0],
      [60, 0],
      [60, 6],
      [6, 6],
      [6, 40],
      [0, 40],
    ] as const;
    file.part('angle', [file.prism([rounded(tee, (i) => [0, 0, 3, 6, 3, 0][i]!)], 400)]);
    file.part('rail', [file.prism([rectangle(40, 40, 8), rectangle(34, 34, 5, true)], 400)]);
    const parts = await partsIn(file.text());
    const [angle, rail] = ['angle', 'rail'].map((name) => parts.get(name)!);
    expect(angle!.sizes).toMatchObject({ length: 400, thickness: 6 });
    expect([angle!.sizes.width, angle!.sizes.height].sort()).toEqual([40, 60]);
    expect(angle!.notes[0]).toBe('corners of radius 6, 3 mm are drawn sharp');
    // A quarter of what a square has more than the circle in it, at each corner: 36 more inside, 9 less at either toe.
    const area = 60 * 6 + 34 * 6 + (1 - Math.PI / 4) * (36 - 9 - 9);
    expect(angle!.mass).toBeCloseTo(area * 400 * 7850e-9, 3);
    expect(rail!.sizes).toEqual({ length: 400, width: 40, height: 40, wall: 3 });
    expect(rail!.mass).toBeCloseTo((444 - (4 - Math.PI) * (64 - 25)) * 400 * 7850e-9, 3);
  });

  it('keep round corners of plates as chords, and say how far these are off', async () => {
    const file = new StepFile();
    file.part('shoe', [file.prism([rectangle(200, 80, 15), circle([60, 0], 20, true)], 8)]);
    file.part('flange', [file.prism([circle([0, 0], 100), circle([0, 0], 40, true)], 8)]);
    const parts = await partsIn(file.text());
    const shoe = parts.get('shoe')!;
    expect(shoe.key).toBe('plate');
    const outline = shoe.sizes.outline as (readonly [number, number])[];
    expect(Math.max(...outline.map(([x]) => x)) - Math.min(...outline.map(([x]) => x))).toBe(200);
    // Corners of the chords lie on the arcs.
    for (const [x, y] of outline)
      if (Math.abs(x) > 85.001 && Math.abs(y) > 25.001)
        expect(Math.hypot(Math.abs(x) - 85, Math.abs(y) - 25)).toBeCloseTo(15, 3);
    expect(shoe.sizes.holes).toEqual([{ at: [60, 0], diameter: 20 }]);
    expect(shoe.notes.join()).toMatch(/^arcs stand as chords, at most 0\.19 mm off$/);
    const flange = parts.get('flange')!;
    expect([flange.key, flange.sizes.thickness, flange.sizes.holes]).toEqual([
      'plate',
      8,
      [{ at: [0, 0], diameter: 40 }],
    ]);
    expect(flange.mass).toBeCloseTo(Math.PI * (2500 - 400) * 8 * 7850e-9, 3);
  });

  it('lose chamfers where little is lost, which is told', async () => {
    const file = new StepFile();
    file.part('bevelled', [bevelledPlate(file, 2)]);
    const { solids, issues } = await recognisedIn(file.text());
    const plate = solids[0]!.solid as RecognisedPart;
    expect([plate.key, plate.sizes]).toEqual(['plate', { length: 200, width: 100, thickness: 10 }]);
    expect(plate.notes).toEqual([
      'only nearly one section from end to end: chamfers, notches or cross holes are left out, which changes the volume by 0.6 %',
      'the shape alone would be 0.6 % heavier: the mass is that of the solid in S235',
    ]);
    expect(plate.mass).toBeCloseTo((200_000 - 2 * (200 + 100) * 2 + (4 * 8) / 3) * 7850e-9, 4);
    expect(issues).toMatchObject([{ code: 'solid-simplified', severity: 'warning', path: 'bevelled' }]);
  });

  it('are not taken when they are no section at all', async () => {
    const file = new StepFile();
    const foot: Vec3[] = [
      [-40, -40, 0],
      [40, -40, 0],
      [40, 40, 0],
      [-40, 40, 0],
      [-10, -10, 60],
      [10, -10, 60],
      [10, 10, 60],
      [-10, 10, 60],
    ];
    const sides = [0, 1, 2, 3].map((i) => [i, (i + 1) % 4, 4 + ((i + 1) % 4), 4 + i]);
    file.part('foot', [file.polyhedron(foot, [[3, 2, 1, 0], [4, 5, 6, 7], ...sides])]);
    const { solids, issues } = await recognisedIn(file.text());
    expect(solids[0]!.solid).toMatchObject({ kind: 'unknown' });
    expect(issues).toMatchObject([{ code: 'solid-not-recognised', severity: 'error', path: 'foot' }]);
    expect(issues[0]!.problem).toContain('6 faces, 0 of them curved, 80 x 80 x 60 mm, 168 cm3');
  });

  it('are no solids when a face is missing', async () => {
    const file = new StepFile();
    file.part('open', [
      file.prism(
        [
          polygon([
            [0, 0],
            [50, 0],
            [0, 50],
          ]),
        ],
        5,
      ),
    ]);
    const text = file.text().replace(/(CLOSED_SHELL\('',\(#\d+),#\d+/, '$1');
    const { solids } = await recognisedIn(text);
    expect(solids[0]!.solid).toMatchObject({ kind: 'unknown', seen: expect.stringContaining('not closed') });
  });

  it('have at most 200 corners and 50 holes', async () => {
    const file = new StepFile();
    const star = Array.from({ length: 210 }, (_, i): [number, number] => {
      const [angle, radius] = [(i * Math.PI) / 105, i % 2 === 0 ? 300 : 280];
      return [radius * Math.cos(angle), radius * Math.sin(angle)];
    });
    file.part('star', [file.prism([polygon(star)], 6)]);
    const holes = Array.from({ length: 60 }, (_, i) =>
      square([10 * (i % 10) - 45, 10 * Math.floor(i / 10) - 25]),
    );
    file.part('sieve', [file.prism([rectangle(120, 80), ...holes], 3)]);
    const { solids } = await recognisedIn(file.text());
    expect(
      solids.map(({ solid }) => (solid.kind === 'unknown' ? solid.seen.split(': ')[1] : solid.key)),
    ).toEqual(['a section with more than 200 corners', 'a plate with 60 holes, of which 50 may be given']);
  });
});

/** A hole of 5 mm by 5 mm. */
const square = ([x, y]: readonly [number, number]) =>
  polygon([
    [x, y],
    [x, y + 5],
    [x + 5, y + 5],
    [x + 5, y],
  ]);

/** A plate of 200 x 100 x 10 with its upper edges chamfered. */
function bevelledPlate(file: StepFile, chamfer: number): string {
  const ring = (x: number, y: number, z: number): Vec3[] => [
    [-x, -y, z],
    [x, -y, z],
    [x, y, z],
    [-x, y, z],
  ];
  const corners = [
    ...ring(100, 50, 0),
    ...ring(100, 50, 10 - chamfer),
    ...ring(100 - chamfer, 50 - chamfer, 10),
  ];
  const band = (low: number): number[][] =>
    [0, 1, 2, 3].map((i) => [low + i, low + ((i + 1) % 4), low + 4 + ((i + 1) % 4), low + 4 + i]);
  return file.polyhedron(corners, [[3, 2, 1, 0], [8, 9, 10, 11], ...band(0), ...band(4)]);
}

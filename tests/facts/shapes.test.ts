import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Facts } from '../../src/facts/facts.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import { assemblySystem } from '../../src/rules/assembly.js';
import { asDisturbances, pushLoads } from '../../src/rules/load-cases.js';
import { place } from '../../src/geometry/pose.js';
import { distance, length, subtract } from '../../src/geometry/vector.js';
import { readCell } from '../../src/io/read-cell.js';
import { readWeldment } from '../../src/io/read-weldment.js';
import { faceThickness } from '../../src/model/face-thickness.js';
import { faceFrame, partThickness } from '../../src/model/part-geometry.js';
import { padFrame } from '../../src/model/placement.js';
import { DEFAULT_SETTINGS, settingsSchema } from '../../src/model/settings.js';
import type { Shape } from '../../src/model/shape.js';
import type { Weldment } from '../../src/model/weldment.js';
import { factsOf } from '../../src/planning/plan.js';

const programs = await loadLinearPrograms();
const CELL = readFileSync(new URL('../stories/bench.cell.yaml', import.meta.url), 'utf8');

function factsFor(part: string, settings = DEFAULT_SETTINGS, more = ''): Facts {
  const text = `weldment: test
units: mm kg N s deg
parts:
  base: { plate: { length: 400, width: 300, thickness: 10 }, at: [0, 0, 5] }
  part: ${part}
${more}first: base
`;
  const read = readWeldment(text, 'weldment');
  expect(read.issues).toEqual([]);
  return factsOf(read.value as Weldment, readCell(CELL, 'cell').value!, settings, programs);
}

const ANGLE = '{ angle: { length: 200, width: 60, height: 60, thickness: 6 }, at: [0, 0, 40] }';
const PART = 1;

describe('rests from the hull', () => {
  const stable = (part: string): string[] =>
    factsFor(part)
      .rests(PART)
      .flatMap(({ face, refusal }) => (refusal ? [] : [face]));

  it('an angle lies on its legs and stands like a roof on its toes, but is too tall for its ends', () => {
    expect(stable(ANGLE)).toEqual(['-z', '-y', 'toes-1']);
    const toes = factsFor(ANGLE)
      .rests(PART)
      .find(({ face }) => face === 'toes-1')!;
    // Centre of area (60 60 6 + 54 6 6) / 2 / (6 (60 + 54)) = 17.21 mm from either back; the line over the tips, at
    // 60 + 6 along y + z, is 66 / sqrt 2 from the heel along the diagonal.
    const centre = (60 * 60 * 6 + 54 * 36) / 2 / (6 * 114);
    expect(toes.height).toBeCloseTo((66 - 2 * centre) / Math.SQRT2, 5);
    expect(toes.margin).toBeCloseTo((54 * Math.SQRT2) / 2, 5);
  });

  it('a tilt of ten degrees is asked for, and is a setting', () => {
    const slender = '{ flat-bar: { length: 200, width: 60, thickness: 12 }, at: [0, 0, 16] }';
    // On edge: 6 mm to tip over; its centre of mass 30 mm up asks for 30 tan 10 = 5.29 mm, so it stands.
    expect(stable(slender)).toEqual(['-z', '+z', '+y', '-y']);
    const careful = settingsSchema.parse({ rests: { tilt: 12 } });
    const edge = factsFor(slender, careful)
      .rests(PART)
      .find(({ face }) => face === '+y')!;
    expect(edge.refusal).toMatchObject({ code: 'rest-tips', value: 6 });
    expect(edge.refusal!.limit).toBeCloseTo(30 * Math.tan((12 * Math.PI) / 180), 9);
  });

  it('a channel lies on its back and on its toes', () => {
    const channel = '{ channel: { length: 120, height: 80, width: 45, web: 6, flange: 8 }, at: [0, 0, 50] }';
    expect(stable(channel).slice(0, 2)).toEqual(['-y', 'toes-1']);
  });

  it('a round bar stands on its ends and rolls on everything else', () => {
    const rests = factsFor('{ round-bar: { length: 50, diameter: 60 }, at: [0, 0, 40] }').rests(PART);
    expect(rests.filter(({ refusal }) => refusal === undefined).map(({ face }) => face)).toEqual([
      '+x',
      '-x',
    ]);
    const round = rests.filter(({ face }) => face.startsWith('round-'));
    expect(new Set(round.map(({ refusal }) => refusal?.code))).toEqual(new Set(['rest-rolls']));
  });

  it('an outline lies with the middle of its box over the station, whatever its origin', () => {
    const facts = factsFor(
      '{ plate: { outline: [[0, 0], [180, 0], [180, 60], [0, 120]], thickness: 8 }, at: [-90, -60, 14] }',
    );
    const { own } = facts.scene.parts[PART]!;
    const { pose } = facts.spots(PART)[0]!;
    const corners = own.pieces.flatMap(({ vertices }) => vertices.map((vertex) => place(pose, vertex)));
    const middle = [0, 1].map((axis) => {
      const along = corners.map((corner) => corner[axis as 0 | 1]);
      return (Math.min(...along) + Math.max(...along)) / 2;
    });
    const { at } = facts.scene.cell.infeed.pose;
    expect(middle[0]).toBeCloseTo(at[0], 9);
    expect(middle[1]).toBeCloseTo(at[1], 9);
    expect(Math.min(...corners.map((corner) => corner[2]))).toBeCloseTo(at[2], 9);
  });
});

describe('grips on shapes', () => {
  const DRILLED =
    '{ plate: { length: 240, width: 160, thickness: 8, holes: [{ at: [60, 0], diameter: 50 }, { at: [-70, 20], diameter: 30 }] }, at: [0, 0, 14] }';

  it('no pad hangs over a hole', () => {
    const facts = factsFor(DRILLED, settingsSchema.parse({ grips: { density: 9 } }));
    const { shape } = facts.scene.parts[PART]!.part;
    const usable = facts.usableGrips(PART);
    expect(usable.length).toBeGreaterThan(20);
    for (const grip of usable) {
      const frame = padFrame(shape, grip);
      if (grip.gripper.kind === 'jaw') throw new Error('the cell has no jaw');
      for (const [x, y] of grip.gripper.pads) {
        const [px, py] = place(frame, [x, y, 0]);
        const radius = grip.gripper.padDiameter / 2;
        // The corners of a round hole are on its circle, so a pad may come nearer by the height of one segment.
        expect(Math.hypot(px - 60, py)).toBeGreaterThan(25 + radius - 0.5);
        expect(Math.hypot(px + 70, py - 20)).toBeGreaterThan(15 + radius - 0.5);
        expect(Math.abs(px)).toBeLessThanOrEqual(120 - radius);
        expect(Math.abs(py)).toBeLessThanOrEqual(80 - radius);
      }
    }
    const over = facts.grips(PART).filter(({ refusal }) => refusal?.code === 'footprint');
    expect(over.some(({ candidate }) => candidate.face === '+z')).toBe(true);
  });

  it('a triangle is also tried over its centre of mass', () => {
    const facts = factsFor(
      '{ plate: { outline: [[0, 0], [120, 0], [0, 120]], thickness: 10 }, at: [0, 0, 15] }',
    );
    // The centre of area is at (40, 40), the middle of the face at (60, 60).
    const over = facts
      .usableGrips(PART)
      .filter(({ face, position }) => face === '+z' && String(position) === '-20,-20');
    expect(over.length).toBeGreaterThan(0);
  });

  it('a finer grid keeps the positions of the coarser one', () => {
    const places = (density: number): Set<string> =>
      new Set(
        factsFor(DRILLED, settingsSchema.parse({ grips: { density } }))
          .grips(PART)
          .map(({ candidate: { gripper, face, position, turn } }) =>
            [gripper.id, face, position, turn].join(),
          ),
      );
    const [coarse, fine] = [places(3), places(5)];
    expect(fine.size).toBeGreaterThan(coarse.size);
    for (const one of coarse) expect(fine).toContain(one);
  });

  it('inside an angle the gripper must be clear of the other leg', () => {
    const grips = factsFor(ANGLE).grips(PART);
    const inner = grips.filter(({ candidate }) => candidate.face === 'inner-z');
    expect(inner.some(({ refusal }) => refusal?.code === 'gripper-in-part')).toBe(true);
    expect(grips.some(({ candidate, refusal }) => candidate.face === '-z' && !refusal)).toBe(true);
  });

  it('a grip is only dropped for one close by that is better in every respect', () => {
    const grips = factsFor(ANGLE).grips(PART);
    const dropped = grips.filter(({ refusal }) => refusal?.code === 'dominated');
    expect(dropped.length).toBeGreaterThan(0);
    const kept = grips.flatMap(({ candidate, refusal }) => (refusal ? [] : [candidate]));
    for (const { candidate } of dropped) {
      const near = kept.filter(
        ({ gripper, face, turn, position }) =>
          gripper === candidate.gripper &&
          face === candidate.face &&
          turn === candidate.turn &&
          Math.hypot(position[0] - candidate.position[0], position[1] - candidate.position[1]) <
            gripper.padDiameter / 2,
      );
      expect(near.length).toBeGreaterThan(0);
      expect(near.some(({ id }) => id < candidate.id)).toBe(true);
    }
  });

  it('none sits on a round face', () => {
    const grips = factsFor('{ round-bar: { length: 50, diameter: 90 }, at: [0, 0, 55] }').grips(PART);
    expect(new Set(grips.map(({ candidate }) => candidate.face))).toEqual(new Set(['+x', '-x']));
    expect(grips.some(({ refusal }) => refusal === undefined)).toBe(true);
  });
});

describe('round contacts', () => {
  it('a bar lying on a plate bears on a line, and a tube on its end on a ring', () => {
    const lying = factsFor('{ round-bar: { length: 150, diameter: 40 }, at: [0, 0, 30] }').scene.contacts[0]!;
    expect(lying.bearing).toHaveLength(1);
    const [from, to] = lying.bearing[0]!.corners;
    expect(lying.bearing[0]!.corners).toHaveLength(2);
    // 0.5 mm kept off either end, exactly under the axis.
    expect(length(subtract(to!, from!))).toBeCloseTo(149, 9);
    const tube =
      '{ round-hollow-section: { length: 80, diameter: 60, wall: 4 }, at: [0, 0, 50], turn: [0, 90, 0] }';
    const standing = factsFor(tube).scene;
    expect(standing.contacts[0]!.bearing).toHaveLength(1);
    const { solid } = standing.parts[PART]!;
    for (const corner of standing.contacts[0]!.bearing[0]!.corners)
      expect(distance(corner, [solid.centre[0], solid.centre[1], corner[2]])).toBeGreaterThan(29);
  });

  it('a round bar on a plate does not stand by itself, a square one of the same size does', () => {
    const reserve = (part: string): number => {
      const { scene } = factsFor(part);
      const state = { inPlace: [0, PART], tacks: [], held: [] };
      const assembly = assemblySystem(scene, state, DEFAULT_SETTINGS, new Set([0]));
      // Without the push, only the centre of mass may be 1 mm to the side: a line bears nothing there.
      const settings = settingsSchema.parse({ loads: { 'push-share': 0, 'push-least': 0 } });
      const pushes = asDisturbances(pushLoads(scene, PART, [0], settings), assembly);
      return Math.min(...judge(programs, assembly.system, pushes).disturbances.map((one) => one.reserve));
    };
    expect(reserve('{ round-bar: { length: 150, diameter: 40 }, at: [0, 0, 30] }')).toBe(0);
    expect(reserve('{ square-bar: { length: 150, width: 40 }, at: [0, 0, 30] }')).toBeGreaterThan(1.5);
  });

  it('round a tube: two chords on opposite sides, four for all sides, each as long as a facet', () => {
    const tube =
      '{ round-hollow-section: { length: 80, diameter: 60, wall: 4 }, at: [0, 0, 50], turn: [0, 90, 0] }';
    const seams = (sides: string) =>
      factsFor(tube, DEFAULT_SETTINGS, `joints: [{ between: [base, part], sides: ${sides} }]\n`).joints[0]!
        .seams;
    for (const [sides, count] of [
      ['one', 1],
      ['both', 2],
      ['all', 4],
    ] as const) {
      const found = seams(sides);
      expect(found).toHaveLength(count);
      // Twenty facets round a radius of 30 mm.
      for (const seam of found) expect(seam.length).toBeCloseTo(60 * Math.tan(Math.PI / 20), 4);
    }
    const outs = seams('all').map(({ out }) => out);
    for (const axis of [0, 1, 2] as const)
      expect(outs.reduce((sum, out) => sum + out[axis], 0)).toBeCloseTo(0, 9);
  });
});

describe('thickness', () => {
  const I: Shape = { kind: 'i-section', length: 300, width: 90, height: 120, web: 6, flange: 9 };
  it.each([
    ['+z', 9],
    ['inner+z+y', 9],
    ['web+y', 6],
    ['+x', 300],
  ] as const)('behind %s of an I-section is %d mm', (face, thickness) => {
    expect(faceThickness(I, face)).toBeCloseTo(thickness, 9);
  });

  it('for tack rules is the least', () => {
    expect(partThickness(I)).toBe(6);
    expect(
      partThickness({
        kind: 'prism',
        length: 100,
        outline: [
          [0, 0],
          [60, 0],
          [60, 7],
          [0, 7],
        ],
      }),
    ).toBe(7);
  });

  it('a wedge has no face behind its slope and counts as the tack rules count it', () => {
    const wedge: Shape = {
      kind: 'prism',
      length: 80,
      outline: [
        [0, 0],
        [60, 0],
        [0, 40],
      ],
    };
    expect(faceThickness(wedge, 'side-2')).toBe(partThickness(wedge));
    expect(partThickness(wedge)).toBeCloseTo((60 * 40) / Math.hypot(60, 40), 9);
  });
});

describe('frames of faces', () => {
  it('lie along the edge of an outline, about the middle of the face', () => {
    const shape: Shape = {
      kind: 'cut-plate',
      outline: [
        [0, 0],
        [100, 0],
        [60, 40],
        [0, 40],
      ],
      holes: [],
      thickness: 10,
    };
    const { centre, normal, u, v, halfU, halfV } = faceFrame(shape, 'side-2');
    expect(centre.map((x) => Math.round(x * 1e9) / 1e9)).toEqual([80, 20, 0]);
    expect(normal[0]).toBeCloseTo(Math.SQRT1_2, 12);
    expect(u[0]).toBeCloseTo(Math.SQRT1_2, 12);
    expect(u[1]).toBeCloseTo(-Math.SQRT1_2, 12);
    expect(v).toEqual([0, 0, 1]);
    expect(halfU).toBeCloseTo(20 * Math.SQRT2, 9);
    expect(halfV).toBe(5);
  });
});

import { describe, expect, it } from 'vitest';
import { cross, dot, type Vec3 } from '../../src/geometry/vector.js';
import { axisX, axisY, axisZ, fromRollPitchYaw, place, rotate } from '../../src/geometry/pose.js';
import { faceAxes, faceFrame, flatFaces, shapeSolid } from '../../src/model/part-geometry.js';
import { restPlanes, restPose } from '../../src/model/part-rests.js';
import type { Shape } from '../../src/model/shape.js';

const SHAPES: readonly Shape[] = [
  { kind: 'block', length: 100, width: 60, height: 30 },
  { kind: 'rectangular-hollow-section', length: 100, width: 60, height: 40, wall: 4 },
  { kind: 'round-bar', length: 80, diameter: 50 },
  { kind: 'angle', length: 150, width: 50, height: 70, thickness: 6 },
  { kind: 'channel', length: 150, width: 45, height: 80, web: 6, flange: 8 },
  { kind: 'i-section', length: 150, width: 55, height: 100, web: 4, flange: 6 },
  {
    kind: 'cut-plate',
    outline: [
      [0, 0],
      [90, 10],
      [120, 60],
      [60, 50],
      [10, 90],
    ],
    holes: [],
    thickness: 12,
  },
  {
    kind: 'prism',
    length: 70,
    outline: [
      [0, 0],
      [50, 0],
      [70, 30],
      [10, 40],
    ],
  },
];

const close = (got: Vec3, wanted: Vec3): void => got.forEach((x, i) => expect(x).toBeCloseTo(wanted[i]!, 9));

describe.each(SHAPES)('rests of a $kind', (shape) => {
  it('lie with their face straight down at z = 0, the middle of the box over the origin', () => {
    for (const { name, normal, corners } of restPlanes(shape)) {
      const pose = restPose(shape, name)!;
      close(rotate(pose.turn, normal), [0, 0, -1]);
      close(cross(axisX(pose.turn), axisY(pose.turn)), axisZ(pose.turn));
      for (const corner of corners) expect(place(pose, corner)[2]).toBeCloseTo(0, 9);
      const all = shapeSolid(shape).pieces.flatMap(({ vertices }) => vertices.map((v) => place(pose, v)));
      for (const axis of [0, 1] as const) {
        const along = all.map((point) => point[axis]);
        expect(Math.min(...along) + Math.max(...along)).toBeCloseTo(0, 9);
      }
      expect(Math.min(...all.map((point) => point[2]))).toBeCloseTo(0, 9);
    }
  });

  it('have names of their own, those of their faces where they are faces', () => {
    const names = restPlanes(shape).map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    const faces = shapeSolid(shape).faces.map(({ id }) => id);
    for (const name of names) expect(faces.includes(name) || name.startsWith('toes-')).toBe(true);
  });

  it('frames of flat faces are square, and hold the face', () => {
    for (const face of flatFaces(shape)) {
      const { centre, normal, u, v, halfU, halfV } = faceFrame(shape, face.id);
      expect([u, v]).toEqual([...faceAxes(normal)]);
      for (const [a, b] of [
        [u, v],
        [u, normal],
        [v, normal],
      ] as const)
        expect(dot(a, b)).toBeCloseTo(0, 12);
      for (const corner of face.polygons.flat()) {
        const off = corner.map((x, i) => x - centre[i]!) as unknown as Vec3;
        expect(Math.abs(dot(off, u))).toBeLessThanOrEqual(halfU + 1e-9);
        expect(Math.abs(dot(off, v))).toBeLessThanOrEqual(halfV + 1e-9);
        expect(dot(off, normal)).toBeCloseTo(0, 9);
      }
    }
  });
});

describe('the six sides of a block', () => {
  it.each([
    ['-z', 0, 0],
    ['+z', 180, 0],
    ['+x', 0, 90],
    ['-x', 0, -90],
    ['+y', -90, 0],
    ['-y', 90, 0],
  ] as const)('%s goes down by roll %d and pitch %d', (name, roll, pitch) => {
    expect(restPose(SHAPES[0]!, name)!.turn).toEqual(fromRollPitchYaw(roll, pitch, 0));
  });
});

import { fromRollPitchYaw, type Rotation } from '../geometry/pose.js';
import { block, plate, rectangularHollowSection } from '../geometry/shapes.js';
import type { Solid } from '../geometry/solid.js';
import { scale, type Vec3 } from '../geometry/vector.js';
import type { OuterFace } from './scalars.js';
import type { Part, Shape } from './weldment.js';

/** The solid of a shape in the shape's own frame, centred on its origin. */
export function shapeSolid(shape: Shape): Solid {
  switch (shape.kind) {
    case 'plate':
      return plate(shape.length, shape.width, shape.height);
    case 'block':
      return block(shape.length, shape.width, shape.height);
    case 'rectangular-hollow-section':
      return rectangularHollowSection(shape.length, shape.width, shape.height, shape.wall);
  }
}

/** Mass in kg: given, or density times volume. */
export const partMass = (part: Part, solid: Solid): number =>
  part.massGiven ?? solid.volume * part.material.density * 1e-9;

/** Thickness in mm that counts for tack rules and magnets: the wall of a hollow section, else the least dimension. */
export const partThickness = (shape: Shape): number =>
  shape.kind === 'rectangular-hollow-section'
    ? shape.wall
    : Math.min(shape.length, shape.width, shape.height);

/** A face of the bounding box: its centre, outward normal and two in-plane axes, all in the shape's frame. */
export interface FaceFrame {
  readonly centre: Vec3;
  readonly normal: Vec3;
  readonly u: Vec3;
  readonly v: Vec3;
  /** Half extents along u and v, mm. */
  readonly halfU: number;
  readonly halfV: number;
}

const X: Vec3 = [1, 0, 0];
const Y: Vec3 = [0, 1, 0];
const Z: Vec3 = [0, 0, 1];

/** Face axes: y, z on the x faces; x, z on the y faces; x, y on the z faces. */
export function faceFrame(shape: Shape, face: OuterFace): FaceFrame {
  const half = { x: shape.length / 2, y: shape.width / 2, z: shape.height / 2 };
  const sign = face[0] === '+' ? 1 : -1;
  const axis = face[1] as 'x' | 'y' | 'z';
  const [n, u, v] = axis === 'x' ? [X, Y, Z] : axis === 'y' ? [Y, X, Z] : [Z, X, Y];
  const halfU = axis === 'x' ? half.y : half.x;
  const halfV = axis === 'z' ? half.y : half.z;
  return { centre: scale(n, sign * half[axis]), normal: scale(n, sign), u, v, halfU, halfV };
}

const LYING: Readonly<Record<OuterFace, Rotation>> = {
  '-z': fromRollPitchYaw(0, 0, 0),
  '+z': fromRollPitchYaw(180, 0, 0),
  '+x': fromRollPitchYaw(0, 90, 0),
  '-x': fromRollPitchYaw(0, -90, 0),
  '+y': fromRollPitchYaw(-90, 0, 0),
  '-y': fromRollPitchYaw(90, 0, 0),
};

/** How a shape is turned when it lies on `face`, before any turn about the vertical. */
export const lyingOn = (face: OuterFace): Rotation => LYING[face];

export const OUTER_FACES: readonly OuterFace[] = ['+x', '-x', '+y', '-y', '+z', '-z'];

export const oppositeFace = (face: OuterFace): OuterFace =>
  `${face[0] === '+' ? '-' : '+'}${face[1]!}` as OuterFace;

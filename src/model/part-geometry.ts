import { compound } from '../geometry/compound.js';
import { cutPlate, polygonPrism } from '../geometry/cut-shapes.js';
import type { Point2 } from '../geometry/outline.js';
import { angle, channel, iSection, roundBar, roundHollowSection } from '../geometry/sections.js';
import { block, plate, rectangularHollowSection } from '../geometry/shapes.js';
import { placeSolid, type PlanarFace, type Solid } from '../geometry/solid.js';
import { add, cross, dot, scale, type Vec3 } from '../geometry/vector.js';
import type { FaceName } from './scalars.js';
import type { Shape } from './shape.js';
import type { Part } from './weldment.js';

function buildSolid(shape: Shape): Solid {
  switch (shape.kind) {
    case 'plate':
      return plate(shape.length, shape.width, shape.height);
    case 'block':
    case 'flat-bar':
    case 'square-bar':
      return block(shape.length, shape.width, shape.height);
    case 'rectangular-hollow-section':
      return rectangularHollowSection(shape.length, shape.width, shape.height, shape.wall);
    case 'round-hollow-section':
      return roundHollowSection(shape.length, shape.diameter, shape.wall);
    case 'round-bar':
      return roundBar(shape.length, shape.diameter);
    case 'angle':
      return angle(shape.length, shape.width, shape.height, shape.thickness);
    case 'channel':
      return channel(shape.length, shape.height, shape.width, shape.web, shape.flange);
    case 'i-section':
      return iSection(shape.length, shape.height, shape.width, shape.web, shape.flange);
    case 'cut-plate':
      return cutPlate(shape.outline, shape.holes, shape.thickness);
    case 'prism':
      return polygonPrism(shape.length, shape.outline);
    case 'group':
      return compound(
        shape.members.map(({ id, shape: own, pose, mass }) => ({
          ...{ id, weight: mass, solid: placeSolid(shapeSolid(own), pose) },
        })),
        shape.beads,
      );
  }
}

/** Solids that were built before, so that each shape's is built once. */
const SOLIDS = new WeakMap<Shape, Solid>();

/** The solid of a shape in the shape's own frame; all but outlines are centred on its origin by their bounding box. */
export function shapeSolid(shape: Shape): Solid {
  let solid = SOLIDS.get(shape);
  if (!solid) {
    solid = buildSolid(shape);
    SOLIDS.set(shape, solid);
  }
  return solid;
}

/** Mass in kg: given, or density times volume. */
export const partMass = (part: Part, solid: Solid): number =>
  part.massGiven ?? solid.volume * part.material.density * 1e-9;

/** The least width of an outline between two parallel lines: one of them lies on a side of its hull. */
function leastWidth(outline: readonly Point2[]): number {
  let least = Infinity;
  for (const a of outline)
    for (const b of outline) {
      const size = Math.hypot(b[0] - a[0], b[1] - a[1]);
      if (size === 0) continue;
      const off = outline.map((p) => ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / size);
      if (Math.min(...off) > -1e-9) least = Math.min(least, Math.max(...off));
    }
  return least;
}

/**
 * Thickness in mm that counts for tack rules: the thinnest wall, web, flange or leg, of a group that of its
 * thinnest member (at a seam: model/group.ts); else the least dimension.
 */
export function partThickness(shape: Shape): number {
  switch (shape.kind) {
    case 'rectangular-hollow-section':
    case 'round-hollow-section':
      return shape.wall;
    case 'angle':
    case 'cut-plate':
      return shape.thickness;
    case 'channel':
    case 'i-section':
      return Math.min(shape.web, shape.flange);
    case 'round-bar':
      return Math.min(shape.length, shape.diameter);
    case 'prism':
      return Math.min(shape.length, leastWidth(shape.outline));
    case 'group':
      return Math.min(...shape.members.map((member) => partThickness(member.shape)));
    default:
      return Math.min(shape.length, shape.width, shape.height);
  }
}

/** The face of that name; undefined when the shape has none. */
export const faceOf = (shape: Shape, name: FaceName): PlanarFace | undefined =>
  shapeSolid(shape).faces.find(({ id }) => id === name);

/** The faces on which a pad may sit. */
export const flatFaces = (shape: Shape): readonly PlanarFace[] =>
  shapeSolid(shape).faces.filter(({ curved }) => curved === undefined);

/** A face as a rectangle around it: its centre, outward normal and two in-plane axes, all in the shape's frame. */
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
const PARALLEL = 1 - 1e-12;

/** The same line, its first coordinate that is not 0 positive. */
const forward = (v: Vec3): Vec3 => (v.find((x) => Math.abs(x) > 1e-9)! > 0 ? v : scale(v, -1));

/**
 * Axes of a face by its normal: y, z on the x faces; x, z on the y faces; x, y on the z faces. Of any other face the
 * first axis is level in the shape's frame (the edge of a plate's outline, the axis of a section) with its first
 * coordinate positive, and the second at right angles to it, up.
 */
export function faceAxes(normal: Vec3): readonly [Vec3, Vec3] {
  const [x, y, z] = normal.map(Math.abs) as [number, number, number];
  if (x > PARALLEL) return [Y, Z];
  if (y > PARALLEL) return [X, Z];
  if (z > PARALLEL) return [X, Y];
  const size = Math.hypot(normal[0], normal[1]);
  const u = forward([-normal[1] / size, normal[0] / size, 0]);
  return [u, forward(x < 1e-12 ? cross(normal, X) : z < 1e-12 ? Z : cross(normal, u))];
}

/** Frames that were worked out before, by face. */
const FRAMES = new WeakMap<PlanarFace, FaceFrame>();

function frameOf(face: PlanarFace): FaceFrame {
  const { normal, offset } = face;
  const [u, v] = faceAxes(normal);
  const corners = face.polygons.flat();
  const span = (axis: Vec3): readonly [number, number] => {
    const along = corners.map((corner) => dot(corner, axis));
    const [low, high] = [Math.min(...along), Math.max(...along)];
    return [(low + high) / 2, (high - low) / 2];
  };
  const [[atU, halfU], [atV, halfV]] = [span(u), span(v)];
  const centre = add(scale(normal, offset), add(scale(u, atU), scale(v, atV)));
  return { centre, normal, u, v, halfU, halfV };
}

/** The frame of a face that the shape has; a RangeError for another name, which reading and the rules keep out. */
export function faceFrame(shape: Shape, name: FaceName): FaceFrame {
  const face = faceOf(shape, name);
  if (face === undefined) throw new RangeError(`a ${shape.kind} has no face ${name}`);
  let frame = FRAMES.get(face);
  if (!frame) {
    frame = frameOf(face);
    FRAMES.set(face, frame);
  }
  return frame;
}

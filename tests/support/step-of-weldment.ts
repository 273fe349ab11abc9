import type { Point2 } from '../../src/geometry/outline.js';
import { signedArea } from '../../src/geometry/outline.js';
import { compose, fromAxes, NO_TURN, type Pose } from '../../src/geometry/pose.js';
import type { Shape } from '../../src/model/shape.js';
import type { Weldment } from '../../src/model/weldment.js';
import { StepFile } from './step-file.js';
import { circle, polygon, rectangle, type Stroke } from './step-strokes.js';

/** Sections lie along x of a part, and along z of the writer. */
const ALONG_X = fromAxes([0, 1, 0], [0, 0, 1], [1, 0, 0]);

interface Drawn {
  readonly loops: readonly (readonly Stroke[])[];
  readonly depth: number;
  readonly along: 'x' | 'z';
}

const leftward = (corners: readonly Point2[]): readonly Point2[] =>
  signedArea(corners) > 0 ? corners : corners.toReversed();

/** The section of a shape and how far it is drawn out, with sharp corners as our shapes have them. */
export function drawnShape(shape: Shape): Drawn {
  switch (shape.kind) {
    case 'round-bar':
      return { loops: [circle([0, 0], shape.diameter)], depth: shape.length, along: 'x' };
    case 'round-hollow-section': {
      const bore = circle([0, 0], shape.diameter - 2 * shape.wall, true);
      return { loops: [circle([0, 0], shape.diameter), bore], depth: shape.length, along: 'x' };
    }
    case 'rectangular-hollow-section': {
      const { width, height, wall, length } = shape;
      const cavity = rectangle(width - 2 * wall, height - 2 * wall, 0, true);
      return { loops: [rectangle(width, height), cavity], depth: length, along: 'x' };
    }
    case 'cut-plate': {
      const holes = shape.holes.map((hole) =>
        'diameter' in hole
          ? circle(hole.at, hole.diameter, true)
          : polygon(leftward(hole.outline).toReversed()),
      );
      return { loops: [polygon(leftward(shape.outline)), ...holes], depth: shape.thickness, along: 'z' };
    }
    case 'prism':
      return { loops: [polygon(leftward(shape.outline))], depth: shape.length, along: 'x' };
    case 'angle': {
      const { width: w, height: h, thickness: t, length } = shape;
      const [y, z] = [w / 2, h / 2];
      return section(length, [
        [-y, -z],
        [y, -z],
        [y, t - z],
        [t - y, t - z],
        [t - y, z],
        [-y, z],
      ]);
    }
    case 'channel':
    case 'i-section':
      return section(shape.length, flanged(shape));
    case 'group':
      throw new RangeError('a group is written part by part');
    default:
      return { loops: [rectangle(shape.length, shape.width)], depth: shape.height, along: 'z' };
  }
}

const section = (length: number, corners: readonly Point2[]): Drawn => ({
  loops: [polygon(corners)],
  depth: length,
  along: 'x',
});

function flanged(shape: Extract<Shape, { web: number }>): readonly Point2[] {
  const [y, z, inside] = [shape.width / 2, shape.height / 2, shape.height / 2 - shape.flange];
  const web = shape.kind === 'channel' ? shape.web - y : shape.web / 2;
  const right: readonly Point2[] = [
    [y, -z],
    [y, -inside],
    [web, -inside],
    [web, inside],
    [y, inside],
    [y, z],
  ];
  if (shape.kind === 'channel') return [[-y, -z], ...right, [-y, z]];
  return [...right, ...right.map(([u, v]): Point2 => [-u, -v])];
}

/** A part as a product of its own, in place. */
export function drawPart(file: StepFile, name: string, shape: Shape, pose: Pose): void {
  const { loops, depth, along } = drawnShape(shape);
  const own: Pose =
    along === 'x' ? { at: [-depth / 2, 0, 0], turn: ALONG_X } : { at: [0, 0, -depth / 2], turn: NO_TURN };
  file.part(name, [file.prism(loops, depth, compose(pose, own))]);
}

/** A weldment as a STEP file: a product for each part. */
export function stepOfWeldment(weldment: Weldment): string {
  const file = new StepFile();
  for (const { id, shape, pose } of weldment.parts) drawPart(file, id, shape, pose);
  return file.text();
}

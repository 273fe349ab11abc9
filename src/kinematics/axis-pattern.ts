import type { Pose } from '../geometry/pose.js';
import { axisZ } from '../geometry/pose.js';
import { dot, subtract } from '../geometry/vector.js';
import type { Six } from './arm.js';
import { lineAngle, nearestOfLines, offLine, type Line } from './axis-lines.js';

/** Why a chain of joints is not an ortho-parallel arm with a spherical wrist: `before` value unit `after`. */
export interface ShapeMiss {
  readonly before: string;
  readonly value: number;
  readonly unit: 'mm' | 'deg';
  readonly after: string;
  /** What this tool needs instead. */
  readonly needs: string;
}

/** How far the axes of an arm may be off their pattern. */
export const SHAPE_TOLERANCE = { mm: 0.1, degrees: 0.05 } as const;

/** Shortest upper arm and forearm, mm. */
const SHORTEST = 1;

const PARALLEL = 'this tool needs axis 1 upright and axes 2 and 3 level and parallel';
const WRIST = 'this tool needs a spherical wrist';
const BASE = 'name as `base` a link with its origin on axis 1 and its z axis along it';
const TIP = 'name as `tip` a link on axis 6 whose z axis points out of the flange';

interface Test {
  readonly off: (axes: Six<Line>, flange: Pose) => number;
  readonly before: string;
  readonly unit: 'mm' | 'deg';
  readonly after: string;
  readonly needs: string;
  /** Instead of what is off, the value that is told. */
  readonly told?: (axes: Six<Line>) => number;
}

const Z = [0, 0, 1] as const;
const square = (a: Line, b: Line): number => 90 - lineAngle(a.way, b.way);
const pair = (a: 3 | 4, b: 4 | 5): Test => ({
  off: (axes) => square(axes[a], axes[b]),
  told: (axes) => lineAngle(axes[a].way, axes[b].way),
  before: `axes ${a + 1} and ${b + 1} stand at`,
  unit: 'deg',
  after: 'to each other, not square',
  needs: WRIST,
});

/** Where axes 4 and 5 come nearest, and the gap between them, mm. */
export const wristOf = (axes: Six<Line>): ReturnType<typeof nearestOfLines> =>
  nearestOfLines(axes[3], axes[4]);

/** In the order in which they are asked; each takes it that those before it hold. */
const TESTS: readonly Test[] = [
  {
    off: ([first]) => lineAngle(first.way, Z),
    ...{ before: 'axis 1 is tilted', unit: 'deg', after: 'from the z axis of the base link', needs: BASE },
  },
  {
    off: ([first]) => Math.hypot(first.point[0], first.point[1]),
    ...{ before: 'axis 1 passes', unit: 'mm', after: 'beside the origin of the base link', needs: BASE },
  },
  {
    off: ([first, second]) => square(first, second),
    ...{ before: 'axis 2 is tilted', unit: 'deg', after: 'from the level', needs: PARALLEL },
  },
  {
    off: ([, second, third]) => lineAngle(second.way, third.way),
    ...{ before: 'axes 2 and 3 are', unit: 'deg', after: 'off being parallel', needs: PARALLEL },
  },
  {
    off: ([, second, , fourth]) => square(second, fourth),
    ...{ before: 'axis 4 is', unit: 'deg', after: 'off being square to axes 2 and 3', needs: PARALLEL },
  },
  pair(3, 4),
  pair(4, 5),
  {
    off: (axes) => wristOf(axes).gap,
    before: 'axes 4, 5 and 6 do not meet: axis 5 passes',
    ...{ unit: 'mm', after: 'from axis 4', needs: WRIST },
  },
  {
    off: (axes) => offLine(axes[5], wristOf(axes).at),
    before: 'axes 4, 5 and 6 do not meet: axis 6 passes',
    ...{ unit: 'mm', after: 'from the point where 4 and 5 cross', needs: WRIST },
  },
  {
    off: (axes, flange) => lineAngle(axes[5].way, axisZ(flange.turn)),
    ...{ before: 'the z axis of the tip link stands at', unit: 'deg', after: 'to axis 6', needs: TIP },
  },
  {
    off: (axes, flange) => offLine(axes[5], flange.at),
    ...{ before: 'the origin of the tip link lies', unit: 'mm', after: 'beside axis 6', needs: TIP },
  },
  {
    off: (axes, flange) => dot(subtract(wristOf(axes).at, flange.at), axisZ(flange.turn)),
    before: 'the origin of the tip link lies',
    ...{ unit: 'mm', after: 'behind the wrist, as its z axis points', needs: TIP },
  },
];

/** The first way in which axes and flange (base frame, joints at zero) are not those of an arm that is understood. */
export function shapeMissOfAxes(axes: Six<Line>, flange: Pose): ShapeMiss | undefined {
  for (const { off, before, unit, after, needs, told } of TESTS) {
    const value = off(axes, flange);
    if (!(value <= (unit === 'mm' ? SHAPE_TOLERANCE.mm : SHAPE_TOLERANCE.degrees)))
      return { before, value: told?.(axes) ?? value, unit, after, needs };
  }
  return (
    shortLink('axes 2 and 3 lie', offLine(axes[1], axes[2].point)) ??
    shortLink('the wrist lies', forearm(axes))
  );
}

/** From axis 3 to the wrist, square to the axis. */
function forearm([, , third, fourth, fifth]: Six<Line>): number {
  return offLine(third, nearestOfLines(fourth, fifth).at);
}

const shortLink = (before: string, value: number): ShapeMiss | undefined =>
  value >= SHORTEST
    ? undefined
    : {
        before,
        value,
        unit: 'mm',
        after: before.startsWith('axes') ? 'apart' : 'from axis 3',
        needs: `links of at least ${SHORTEST} mm are needed`,
      };

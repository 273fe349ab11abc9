import type { Bounds } from '../geometry/bounds.js';
import { along, dot, scale, type Vec3 } from '../geometry/vector.js';
import { sideText } from './direction-text.js';
import { bestView } from './best-view.js';
import { FORESHORTENED, type View } from './isometric.js';
import type { Box } from './label-places.js';
import { amount } from './numbers.js';
import { PALETTE } from './palette.js';
import type { DrawnSet } from './part-set-view.js';
import { line, pointList, words, type Point } from './svg.js';
import { element } from './xml.js';

/** Size of a picture and of the area in it that the parts fill, pixels. */
export const SHEET = { width: 960, height: 760 } as const;
export const AREA: Box = { x: 200, y: 84, width: 560, height: 520 };

/** A view with a scale: from the weldment frame to pixels. */
export interface Sheet {
  readonly view: View;
  /** Pixels a millimetre of a length along x, y or z. */
  readonly perMillimetre: number;
  at(point: Vec3): Point;
}

const cornersOf = ({ low, high }: Bounds): Vec3[] =>
  [low[0], high[0]].flatMap((x) =>
    [low[1], high[1]].flatMap((y) => [low[2], high[2]].map((z): Vec3 => [x, y, z])),
  );

/** Length of the arrow of an approach as a share of the largest side of what is shown. */
const ARROW = 0.28;

/** Start and end of the arrow along which the newcomer comes; undefined when the picture shows no approach. */
export function approachArrow({ solids, view }: DrawnSet): readonly [Vec3, Vec3] | undefined {
  const { newcomer, approach } = view;
  if (newcomer === undefined || approach === undefined) return undefined;
  const { centre, pieces } = solids.get(newcomer)!;
  const reach = Math.max(
    ...pieces.flatMap(({ vertices }) =>
      vertices.map((vertex) => -dot(approach, vertex) + dot(approach, centre)),
    ),
  );
  const boxes = [...solids.values()].map(({ bounds }) => bounds);
  const size = Math.max(
    ...boxes.map(({ low, high }) => Math.max(...[0, 1, 2].map((i) => high[i]! - low[i]!))),
  );
  return [along(centre, approach, -reach - size * ARROW), along(centre, approach, -reach - size * 0.03)];
}

/** The view and scale in which a set of parts, and the arrow of an approach, fill the area. */
export function sheetFor(set: DrawnSet): Sheet {
  const view = bestView(set);
  const points = [
    ...[...set.solids.values()].flatMap(({ bounds }) => cornersOf(bounds)),
    ...(approachArrow(set) ?? []),
  ].map((point) => view.project(point));
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  const [width, height] = [Math.max(...xs) - left, Math.max(...ys) - top];
  const factor = Math.min(AREA.width / Math.max(width, 1e-6), AREA.height / Math.max(height, 1e-6));
  const shiftX = AREA.x + (AREA.width - width * factor) / 2 - left * factor;
  const shiftY = AREA.y + (AREA.height - height * factor) / 2 - top * factor;
  return {
    view,
    perMillimetre: factor * FORESHORTENED,
    at: (point) => {
      const [x, y] = view.project(point);
      return [x * factor + shiftX, y * factor + shiftY];
    },
  };
}

/** A line with a filled head at its end. */
export function arrow(from: Point, to: Point, colour: string, width: number): string {
  const size = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (size < 1e-6) return '';
  const [x, y] = [(to[0] - from[0]) / size, (to[1] - from[1]) / size];
  const head = 4 * width;
  const base: Point = [to[0] - x * head, to[1] - y * head];
  const side = head * 0.45;
  return (
    line(from, base, { stroke: colour, 'stroke-width': width }) +
    element('polygon', {
      points: pointList([
        to,
        [base[0] - y * side, base[1] + x * side],
        [base[0] + y * side, base[1] - x * side],
      ]),
      fill: colour,
    })
  );
}

const AXES = [
  ['x', [1, 0, 0]],
  ['y', [0, 1, 0]],
  ['z', [0, 0, 1]],
] as const;

/** The three axes of the weldment frame, in the corner at `origin`. */
export function triad({ view }: Sheet, origin: Point): string {
  const at = (v: Vec3, size: number): Point => {
    const [x, y] = view.project(v);
    return [origin[0] + x * size, origin[1] + y * size];
  };
  return element(
    'g',
    { 'font-size': 13, fill: PALETTE.ink, 'text-anchor': 'middle' },
    ...AXES.map(([name, axis]) => {
      const [x, y] = at(axis, 62);
      return arrow(origin, at(axis, 48), PALETTE.ink, 1.6) + words(x, y + 4, name);
    }),
  );
}

/** A bar of a round length that is true along x, y and z. */
export function scaleBar({ perMillimetre }: Sheet, [x, y]: Point): string {
  const steps = Array.from({ length: 15 }, (_, i) => [1, 2, 5][i % 3]! * 10 ** (Math.floor(i / 3) - 1));
  const length = [...steps].reverse().find((step) => step * perMillimetre <= 150) ?? steps[0]!;
  const end = x + length * perMillimetre;
  const stroke = { stroke: PALETTE.ink, 'stroke-width': 2 };
  return element(
    'g',
    { 'font-size': 13, fill: PALETTE.ink },
    line([x, y], [end, y], stroke),
    line([x, y - 5], [x, y + 5], stroke),
    line([end, y - 5], [end, y + 5], stroke),
    words(end + 10, y + 4, `${amount(length, 1)} mm along x, y or z`),
  );
}

/** `comes from above`: where the newcomer comes from. */
export const comesFrom = (approach: Vec3): string => `comes from ${sideText(scale(approach, -1))}`;

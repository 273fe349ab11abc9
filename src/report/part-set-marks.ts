import { along, dot, subtract, type Vec3 } from '../geometry/vector.js';
import { freePlace, type Box } from './label-places.js';
import { PALETTE } from './palette.js';
import type { DrawnSet, DrawnTack } from './part-set-view.js';
import { approachArrow, arrow, comesFrom, type Sheet } from './sheet.js';
import { isHidden, sightRuns, type Run } from './sight.js';
import { line, pointList, textWidth, words, type Point } from './svg.js';
import { element } from './xml.js';

const HALO = {
  stroke: PALETTE.halo,
  'stroke-width': 4,
  'stroke-linejoin': 'round',
  'paint-order': 'stroke',
} as const;

/** Patterns that a picture may fill with. Ids are the same in every picture. */
export const patterns = (): string => {
  const hatch = (id: string, turn: number, gap: number, colour: string, width: number): string =>
    element(
      'pattern',
      {
        id,
        width: gap,
        height: gap,
        patternUnits: 'userSpaceOnUse',
        patternTransform: `rotate(${turn})`,
      },
      line([0, 0], [0, gap], { stroke: colour, 'stroke-width': width }),
    );
  return element(
    'defs',
    {},
    hatch('newcomer', 60, 9, '#b98728', 1.4),
    hatch('bearing', -45, 5, PALETTE.bearing, 2),
  );
};

/** Areas where parts meet, as if seen through the parts: bearing hatched, adjacency dotted and empty. */
export const patchMarks = ({ patches, view }: DrawnSet, sheet: Sheet): string[] =>
  patches.map(({ corners, bearing }) =>
    element('polygon', {
      points: pointList(corners.map(sheet.at)),
      fill: bearing ? 'url(#bearing)' : 'none',
      'fill-opacity': bearing ? (view.newcomer === undefined ? 0.25 : 0.75) : undefined,
      stroke: bearing ? PALETTE.bearing : PALETTE.adjacent,
      'stroke-width': bearing ? (view.newcomer === undefined ? 0.6 : 1.2) : 1.8,
      'stroke-dasharray': bearing ? undefined : '1.5 4',
      'stroke-linecap': 'round',
    }),
  );

const runLine = (run: Run, sheet: Sheet): string =>
  line(sheet.at(run.from), sheet.at(run.to), {
    stroke: PALETTE.seam,
    'stroke-width': run.hidden ? 1.6 : 3.2,
    'stroke-dasharray': run.hidden ? '6 5' : undefined,
    'stroke-opacity': run.hidden ? 0.75 : undefined,
  });

/** Keeps labels off a line: small boxes along it. */
function keepOff(from: Point, to: Point, size: number, taken: Box[]): void {
  const steps = Math.max(1, Math.ceil(Math.hypot(to[0] - from[0], to[1] - from[1]) / (2 * size)));
  for (let i = 0; i <= steps; i += 1) {
    const [x, y] = [0, 1].map((k) => from[k]! + ((to[k]! - from[k]!) * i) / steps) as [number, number];
    taken.push({ x: x - size / 2, y: y - size / 2, width: size, height: size });
  }
}

const runLength = ({ from, to }: Run): number => {
  const way = subtract(to, from);
  return Math.sqrt(dot(way, way));
};

/** The middle of the longest stretch in sight; of the longest at all when none is. */
function namePlace(runs: readonly Run[]): Vec3 {
  const inSight = runs.filter(({ hidden }) => !hidden);
  const longest = (inSight.length > 0 ? inSight : runs).reduce((best, run) =>
    runLength(run) > runLength(best) + 1e-6 ? run : best,
  );
  return along(longest.from, subtract(longest.to, longest.from), 0.5);
}

/** Seams as thick lines, dashed where a part hides them, with their ids when there are no tacks to number. */
export function seamMarks(set: DrawnSet, sheet: Sheet, taken: Box[]): string[] {
  const solids = [...set.solids.values()];
  const seams = set.joints.flatMap(({ seams: own }) => own);
  const runs = seams.map(({ from, to }) => sightRuns(from, to, sheet.view.toward, solids));
  const lines = runs.flat().map((run) => runLine(run, sheet));
  for (const { from, to } of seams) keepOff(sheet.at(from), sheet.at(to), 5, taken);
  if (set.view.tacks !== undefined) return lines;
  return [
    ...lines,
    ...seams.map(({ id }, i) => {
      const at = sheet.at(namePlace(runs[i]!));
      const [x, y] = freePlace(id, 12, at, taken);
      return (
        line(at, [x, y], { stroke: PALETTE.seam, 'stroke-width': 0.8 }) +
        words(x, y + 4, id, { fill: PALETTE.seam, 'font-size': 12, 'text-anchor': 'middle', ...HALO })
      );
    }),
  ];
}

/** The bar of a tack: filled when it secures, hollow when it comes later, thin where a part hides it. */
function tackBar({ phase, from, to }: DrawnTack, sheet: Sheet, hidden: boolean): string {
  const bar = (colour: string, width: number): string =>
    line(sheet.at(from), sheet.at(to), {
      stroke: colour,
      'stroke-width': width,
      'stroke-linecap': 'round',
      'stroke-opacity': hidden ? 0.7 : undefined,
    });
  const width = hidden ? 5 : 8;
  return bar(PALETTE.seam, width) + (phase === 'securing' ? '' : bar(PALETTE.halo, width - 3));
}

function tackNumber({ order, phase, from, to }: DrawnTack, sheet: Sheet, taken: Box[]): string {
  const middle = sheet.at(along(from, subtract(to, from), 0.5));
  const [x, y] = freePlace('00', 16, middle, taken);
  const securing = phase === 'securing';
  const fill = securing ? PALETTE.seam : PALETTE.halo;
  const ring = { r: 10, fill, stroke: PALETTE.seam, 'stroke-width': 1.6 };
  return [
    line(middle, [x, y], { stroke: PALETTE.seam, 'stroke-width': 1 }),
    element('circle', { cx: x, cy: y, ...ring }),
    words(x, y + 4, String(order), {
      fill: securing ? PALETTE.halo : PALETTE.seam,
      'font-size': 12,
      'font-weight': 'bold',
      'text-anchor': 'middle',
    }),
  ].join('');
}

/** Tacks as bars with their number in the stage. */
export function tackMarks({ view, solids }: DrawnSet, sheet: Sheet, taken: Box[]): string[] {
  const tacks = view.tacks ?? [];
  const all = [...solids.values()];
  for (const { from, to } of tacks) keepOff(sheet.at(from), sheet.at(to), 8, taken);
  const hidden = ({ from, to }: DrawnTack): boolean =>
    isHidden(along(from, subtract(to, from), 0.5), sheet.view.toward, all);
  return [
    ...tacks.map((tack) => tackBar(tack, sheet, hidden(tack))),
    ...tacks.map((tack) => tackNumber(tack, sheet, taken)),
  ];
}

/** The arrow along which the newcomer comes. */
export function approachMarks(set: DrawnSet, sheet: Sheet, taken: Box[]): string[] {
  const ends = approachArrow(set);
  if (!ends) return [];
  const [from, to] = [sheet.at(ends[0]), sheet.at(ends[1])];
  const text = comesFrom(set.view.approach!);
  const size = Math.max(1, Math.hypot(to[0] - from[0], to[1] - from[1]));
  const [dx, dy] = [(from[0] - to[0]) / size, (from[1] - to[1]) / size];
  const width = textWidth(text, 13);
  const [x, y] = [from[0] + dx * (8 + width / 2), from[1] + dy * 16 + 4];
  taken.push({ x: x - width / 2, y: y - 12, width, height: 16 });
  keepOff(from, to, 8, taken);
  return [
    arrow(from, to, PALETTE.ink, 3),
    words(x, y, text, { 'font-size': 13, fill: PALETTE.ink, 'text-anchor': 'middle', ...HALO }),
  ];
}

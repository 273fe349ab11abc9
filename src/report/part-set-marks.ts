import { along, dot, subtract, type Vec3 } from '../geometry/vector.js';
import { freePlace, type Box } from './label-places.js';
import { PALETTE } from './palette.js';
import type { DrawnPatch, DrawnSet, DrawnTack } from './part-set-view.js';
import { approachArrow, arrow, comesFrom, type Sheet } from './sheet.js';
import { sightRuns, type Run } from './sight.js';
import { element, line, pointList, textWidth, words, type Point } from './svg.js';

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
export const patchMarks = (patches: readonly DrawnPatch[], sheet: Sheet): string[] =>
  patches.map(({ corners, bearing }) =>
    element('polygon', {
      points: pointList(corners.map(sheet.at)),
      fill: bearing ? 'url(#bearing)' : 'none',
      'fill-opacity': bearing ? 0.75 : undefined,
      stroke: bearing ? PALETTE.bearing : PALETTE.adjacent,
      'stroke-width': bearing ? 1.2 : 1.8,
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

function tackMark({ order, phase, from, to }: DrawnTack, sheet: Sheet, taken: Box[]): string {
  const [start, end] = [sheet.at(from), sheet.at(to)];
  const middle: Point = [(start[0] + end[0]) / 2, (start[1] + end[1]) / 2];
  const [x, y] = freePlace('000', 12, middle, taken);
  const securing = phase === 'securing';
  const bar = (colour: string, width: number): string =>
    line(start, end, { stroke: colour, 'stroke-width': width, 'stroke-linecap': 'round' });
  return [
    bar(PALETTE.seam, 9),
    securing ? '' : bar(PALETTE.halo, 5),
    line(middle, [x, y], { stroke: PALETTE.seam, 'stroke-width': 0.8 }),
    element('circle', {
      cx: x,
      cy: y,
      r: 10,
      fill: securing ? PALETTE.seam : PALETTE.halo,
      stroke: PALETTE.seam,
      'stroke-width': 1.6,
    }),
    words(x, y + 4, String(order), {
      fill: securing ? PALETTE.halo : PALETTE.seam,
      'font-size': 12,
      'font-weight': 'bold',
      'text-anchor': 'middle',
    }),
  ].join('');
}

/** Tacks as bars with their number in the stage: filled when they secure, hollow when they come later. */
export const tackMarks = ({ view }: DrawnSet, sheet: Sheet, taken: Box[]): string[] =>
  (view.tacks ?? []).map((tack) => tackMark(tack, sheet, taken));

/** The arrow along which the newcomer comes. */
export function approachMarks(set: DrawnSet, sheet: Sheet, taken: Box[]): string[] {
  const ends = approachArrow(set);
  if (!ends) return [];
  const [from, to] = [sheet.at(ends[0]), sheet.at(ends[1])];
  const text = comesFrom(set.view.approach!);
  const [x, y] = [from[0], Math.max(90, from[1] - 8)];
  const width = textWidth(text, 13);
  taken.push({ x: x - width / 2, y: y - 12, width, height: 16 });
  return [
    arrow(from, to, PALETTE.ink, 3),
    words(x, y, text, { 'font-size': 13, fill: PALETTE.ink, 'text-anchor': 'middle', ...HALO }),
  ];
}

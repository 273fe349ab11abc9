import type { Scene } from '../model/scene.js';
import type { Vec3 } from '../geometry/vector.js';
import { facetsToward, insidePoints } from './facets.js';
import { besideArea, type Box, type Label, type PlacedLabel } from './label-places.js';
import { PALETTE } from './palette.js';
import { paintOrder, type Facet } from './paint-order.js';
import { clipped, plain } from './plain.js';
import { approachMarks, patchMarks, patterns, seamMarks, tackMarks } from './part-set-marks.js';
import { partSetLegend } from './part-set-legend.js';
import { drawnSet, type DrawnSet, type PartSetView } from './part-set-view.js';
import { AREA, scaleBar, SHEET, sheetFor, triad, type Sheet } from './sheet.js';
import { isHidden, sightRuns } from './sight.js';
import { line, pathOf, picture, words, type Point } from './svg.js';
import { ON_PAPER } from './theme.js';
import { element } from './xml.js';

/** The tone of a facet: lightest where it faces up, darkest where it faces the right of the picture. */
const toneOf = (normal: Vec3, { view }: Sheet): 0 | 1 | 2 =>
  normal[2] > 0.5 ? 2 : view.project(normal)[0] < 0 ? 1 : 0;

/** The sides that are edges, those that go on from one another as one line. */
function sidesPath(corners: readonly Point[], edges: readonly boolean[]): string {
  if (edges.every((edge) => edge)) return pathOf(corners, true);
  const count = corners.length;
  return corners
    .map((_, i) => {
      if (edges[i] !== true || edges[(i + count - 1) % count] === true) return '';
      const run = [corners[i]!];
      for (let k = i; edges[k % count] === true; k += 1) run.push(corners[(k + 1) % count]!);
      return pathOf(run, false);
    })
    .join('');
}

function facetMark(
  { points, edges, normal, part }: Facet,
  sheet: Sheet,
  { newcomer, theme = ON_PAPER }: PartSetView,
): string {
  const corners = points.map(sheet.at);
  const own = part === newcomer;
  const outline = pathOf(corners, true);
  const sides = sidesPath(corners, edges);
  return [
    element('path', { d: outline, ...theme.paint(`${own ? 'new' : 'face'}-${toneOf(normal, sheet)}`) }),
    own ? element('path', { d: outline, fill: 'url(#newcomer)' }) : '',
    sides === '' ? '' : element('path', { d: sides, ...theme.paint(own ? 'new-side' : 'side') }),
  ].join('');
}

/** Edges of the newcomer that other parts hide, as thin dashes over them. */
function hiddenEdges(
  { solids, view: { newcomer } }: DrawnSet,
  sheet: Sheet,
  facets: readonly Facet[],
): string[] {
  if (newcomer === undefined) return [];
  const { toward } = sheet.view;
  const others = [...solids].filter(([part]) => part !== newcomer).map(([, solid]) => solid);
  const drawn = new Set<string>();
  return facets
    .filter(({ part }) => part === newcomer)
    .flatMap(({ points, edges }) =>
      points.flatMap((from, i) => {
        const to = points[(i + 1) % points.length]!;
        const key = [from, to]
          .map((point) => point.map((x) => x.toFixed(3)).join(' '))
          .sort()
          .join();
        if (edges[i] !== true || drawn.has(key)) return [];
        drawn.add(key);
        return sightRuns(from, to, toward, others).filter(({ hidden }) => hidden);
      }),
    )
    .map(({ from, to }) =>
      line(sheet.at(from), sheet.at(to), {
        stroke: PALETTE.ink,
        'stroke-width': 1,
        'stroke-opacity': 0.55,
        'stroke-dasharray': '5 4',
      }),
    );
}

interface PartLabel extends Label {
  readonly part: number;
  readonly hidden: boolean;
}

/** Area on the picture, square pixels. */
const areaOf = (corners: readonly Point[]): number =>
  Math.abs(
    corners.reduce((sum, [x, y], i) => {
      const [nextX, nextY] = corners[(i + 1) % corners.length]!;
      return sum + (x * nextY - nextX * y) / 2;
    }, 0),
  );

/** Where the line to a part's name ends: in sight, near the middle of what is in sight of its largest facet. */
function labelOf(set: DrawnSet, sheet: Sheet, part: number, facets: readonly Facet[]): PartLabel {
  const solids = [...set.solids.values()];
  const text = clipped(plain(set.names.get(part)!), 22);
  const judged = facets
    .filter((facet) => facet.part === part)
    .map((facet) => {
      const inside = insidePoints(facet);
      const seen = inside.filter((point) => !isHidden(point, sheet.view.toward, solids)).map(sheet.at);
      return { seen, shown: (areaOf(facet.points.map(sheet.at)) * seen.length) / inside.length };
    });
  const { seen, shown } = judged.reduce((best, next) => (next.shown > best.shown + 1e-6 ? next : best));
  if (shown === 0) return { part, text, anchor: sheet.at(set.solids.get(part)!.centre), hidden: true };
  const middle = [0, 1].map((i) => seen.reduce((sum, point) => sum + point[i]!, 0) / seen.length);
  const far = ([x, y]: Point): number => Math.hypot(x - middle[0]!, y - middle[1]!);
  const anchor = seen.reduce((best, point) => (far(point) < far(best) - 1e-6 ? point : best));
  return { part, text, anchor, hidden: false };
}

function labelMark({ label, at, side }: PlacedLabel<PartLabel>, newcomer: number | undefined): string {
  const start: Point = [side === 'left' ? at[0] - 6 : at[0] + 6, at[1]];
  const stroke = { stroke: PALETTE.ink, 'stroke-width': 1 };
  return [
    line(start, label.anchor, { ...stroke, 'stroke-dasharray': label.hidden ? '3 3' : undefined }),
    element('circle', { cx: label.anchor[0], cy: label.anchor[1], r: 2.6, fill: PALETTE.ink }),
    words(side === 'left' ? start[0] - 4 : start[0] + 4, at[1] + 4, label.text, {
      'font-size': 14,
      'font-weight': label.part === newcomer ? 'bold' : undefined,
      'text-anchor': side === 'left' ? 'end' : 'start',
      fill: PALETTE.ink,
    }),
  ].join('');
}

function heading({ title, note }: PartSetView): string[] {
  return [
    words(24, 36, clipped(title, 72), { 'font-size': 20, 'font-weight': 'bold', fill: PALETTE.ink }),
    note === undefined ? '' : words(24, 58, clipped(note, 110), { 'font-size': 14, fill: PALETTE.faint }),
  ];
}

/**
 * A picture of parts in their final place, seen from one of four corners above: hidden faces removed, the newcomer
 * hatched with heavy edges, patches where parts meet, seams (dashed where hidden), tacks, names, axes and scale.
 * `parts` must name at least one part.
 */
export function partSetSvg(scene: Scene, view: PartSetView): string {
  const set = drawnSet(scene, view);
  const sheet = sheetFor(set);
  const facets = [...set.solids].flatMap(([part, solid]) => facetsToward(solid, sheet.view.toward, part));
  const labels = besideArea(
    view.parts.map((part) => labelOf(set, sheet, part, facets)),
    AREA,
  );
  const taken: Box[] = labels.map(({ label: { anchor } }) => ({
    x: anchor[0] - 5,
    y: anchor[1] - 5,
    width: 10,
    height: 10,
  }));
  const marks = [
    ...paintOrder(facets).map((facet) => facetMark(facet, sheet, view)),
    ...hiddenEdges(set, sheet, facets),
    ...patchMarks(set, sheet),
    ...labels.map((label) => labelMark(label, view.newcomer)),
    ...approachMarks(set, sheet, taken),
    ...seamMarks(set, sheet, taken),
    ...tackMarks(set, sheet, taken),
  ].filter((mark) => mark !== '');
  return picture([SHEET.width, SHEET.height], view.title, PALETTE.ground, [
    patterns(),
    ...heading(view),
    ...marks,
    triad(sheet, [80, 650]),
    scaleBar(sheet, [24, 735]),
    view.legend === false ? '' : partSetLegend(set, [330, 640]),
  ]);
}

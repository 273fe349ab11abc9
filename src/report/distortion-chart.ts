import { rounded } from '../base/order.js';
import { length } from '../geometry/vector.js';
import type { GeometricPlan } from '../model/plan.js';
import { lineAcross, placed, type Across } from './across.js';
import { axisEnd, axisTicks, type ChartDrawing, type ChartRow, type RowsChart } from './chart-rows.js';
import { amount } from './numbers.js';
import { plain } from './plain.js';
import { words } from './svg.js';
import { picking, type Theme } from './theme.js';
import { element, escaped } from './xml.js';

/** Tolerance features: how far each is off, of what tacking may use up and of the whole tolerance. */
export function featuresChart({ distortion: { features } }: Pick<GeometricPlan, 'distortion'>): RowsChart {
  const rows = features.map(
    ({ name, from, to, nominal, class: of, deviation, limit, tolerance, within }): ChartRow => ({
      label: `${plain(name)}: ${plain(from)} to ${plain(to)}, ${amount(nominal, 0)} mm, class ${of}`,
      ...{ value: deviation, told: `${amount(deviation, 2)} of ${amount(limit, 2)} mm` },
      limits: [
        { at: limit, role: 'limit' },
        { at: tolerance, role: 'edge' },
      ],
      ...{ bad: !within, open: false },
    }),
  );
  return {
    axis: 'deviation after the last stage, mm',
    most: axisEnd(features.flatMap(({ deviation, tolerance }) => [deviation, tolerance])),
    rows,
    legend: [
      ['limit', 'limit: the share of the tolerance that tacking may use up'],
      ['edge', 'tolerance of the finished weldment, ISO 13920'],
    ],
  };
}

/** The farthest that the centre of mass of any part is moved in a stage; undefined where nothing moves. */
export interface FarthestMove {
  readonly stage: number;
  readonly part: string;
  readonly after: string;
  /** mm. */
  readonly mm: number;
}

export const farthestMoves = ({ stages }: Pick<GeometricPlan, 'stages'>): readonly FarthestMove[] =>
  stages.flatMap(({ number, distortion: { steps } }) => {
    const moves = steps.flatMap(({ after, moved }) =>
      moved.map(({ part, move }) => ({ stage: number, part, after, mm: rounded(length(move), 3) })),
    );
    const [first, ...rest] = moves;
    return first === undefined ? [] : [rest.reduce((most, next) => (next.mm > most.mm ? next : most), first)];
  });

/** How far parts move, stage by stage. */
export function movesChart(plan: Pick<GeometricPlan, 'stages'>): RowsChart {
  const moves = farthestMoves(plan);
  return {
    axis: 'greatest movement of the centre of mass of any part within the stage, mm',
    most: axisEnd(moves.map(({ mm }) => mm)),
    rows: moves.map(({ stage, part, after, mm }) => ({
      label: `${stage} ${plain(plan.stages.find(({ number }) => number === stage)!.part)}: ${plain(part)}, after ${plain(after)}`,
      ...{ value: mm, told: `${amount(mm, 2)} mm`, limits: [], bad: false, open: false },
      pick: `stage:${stage}`,
    })),
    legend: [],
  };
}

/** How far a seam stands open where a tack is laid, just before. */
export interface Opening {
  readonly stage: number;
  readonly order: number;
  readonly tack: string;
  /** mm. */
  readonly before: number;
  /** When the tack is laid, seconds. */
  readonly at: number | undefined;
}

/** Openings in the order in which tacks are laid. */
export function openingsOf({
  stages,
  programs,
}: Pick<GeometricPlan, 'stages' | 'programs'>): readonly Opening[] {
  const starts = new Map(
    programs.flatMap(({ steps }) =>
      steps.flatMap((step) => (step.do === 'tack' ? [[step.tack, step.start] as const] : [])),
    ),
  );
  return stages.flatMap(({ number, tacks, manual, distortion: { openings } }) => {
    const orders = new Map([...tacks, ...(manual?.tacks ?? [])].map(({ id, order }) => [id, order]));
    return openings.map(({ tack, before }, i) => ({
      ...{ stage: number, order: orders.get(tack) ?? i + 1, tack, before, at: starts.get(tack) },
    }));
  });
}

const PLOT = { top: 26, height: 200, left: 44 } as const;

/** Openings of the seams over the stages, against the gap within which parts may be joined. */
export function openingsChart(
  openings: readonly Opening[],
  gap: number,
  across: Across,
  theme: Theme,
): ChartDrawing {
  const most = axisEnd([gap, ...openings.map(({ before }) => before)]);
  const inset = PLOT.left / across.pixels;
  const x = (i: number): number => inset + ((1 - inset) * (i + 0.5)) / openings.length;
  const y = (mm: number): number => PLOT.top + PLOT.height * (1 - mm / most);
  const small = { ...theme.paint('small'), 'font-size': 13 };
  const bottom = y(0);
  const ticks = axisTicks(most).flatMap((tick) => [
    lineAcross(across, [inset, y(tick)], [1, y(tick)], theme.paint('rule')),
    placed(across.at(inset), y(tick), words(-6, 4.5, amount(tick, 6), { ...small, 'text-anchor': 'end' })),
  ]);
  const limit = `fit-up gap ${amount(gap, 3)} mm`;
  return {
    content: [
      placed(across.at(0), 0, words(0, 13, 'opening of the seam just before the tack, mm', small)),
      ...ticks,
      ...stageBands(openings, x, across, theme, bottom),
      lineAcross(across, [inset, bottom], [1, bottom], theme.paint('axis')),
      lineAcross(across, [inset, y(gap)], [1, y(gap)], theme.paint('limit')),
      placed(across.at(1), y(gap), words(-4, -5, limit, { ...small, 'text-anchor': 'end' })),
      ...openings.map((opening, i) => openingMark(opening, x(i), y, gap, across, theme)),
      placed(
        across.at(inset),
        bottom,
        words(0, 44, 'tacks in the order in which they are laid, by stage', small),
      ),
    ],
    height: bottom + 52,
  };
}

/** Stages below the axis: a line under the tacks of each, and its number. */
function stageBands(
  openings: readonly Opening[],
  x: (i: number) => number,
  across: Across,
  theme: Theme,
  bottom: number,
): string[] {
  const stages = [...new Set(openings.map(({ stage }) => stage))];
  const half = (x(1) - x(0)) / 2;
  return stages.map((stage) => {
    const own = openings.flatMap((opening, i) => (opening.stage === stage ? [i] : []));
    const [from, to] = [x(own[0]!) - half * 0.8, x(own.at(-1)!) + half * 0.8];
    const label = { ...theme.paint('word'), 'font-size': 13, 'text-anchor': 'middle' };
    return (
      lineAcross(across, [from, bottom + 7], [to, bottom + 7], theme.paint('edge')) +
      placed(across.at((from + to) / 2), bottom, words(0, 24, String(stage), label))
    );
  });
}

function openingMark(
  { stage, order, tack, before, at }: Opening,
  x: number,
  y: (mm: number) => number,
  gap: number,
  across: Across,
  theme: Theme,
): string {
  const beyond = before > gap + 1e-9;
  const name = `stage ${stage}, tack ${plain(tack)}: ${amount(before, 3)} mm${beyond ? ', beyond the fit-up gap' : ''}`;
  const mark = beyond
    ? element('path', { d: 'M 0 -7 L 7 0 L 0 7 L -7 0 Z', ...theme.paint('beyond') })
    : element('circle', { r: 4.5, ...theme.paint('mark') });
  return element(
    'g',
    { ...picking(theme, `tack:${stage}.${order}`, at), 'data-value': String(before) },
    theme.marks === 'picked' ? element('title', {}, escaped(name)) : '',
    lineAcross(across, [x, y(0)], [x, y(before)], theme.paint('link')),
    placed(across.at(x), y(before), mark),
  );
}

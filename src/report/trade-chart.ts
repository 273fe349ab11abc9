import { rounded } from '../base/order.js';
import type { ObjectiveTerm } from '../model/settings.js';
import { lineAcross, placed, type Across } from './across.js';
import { axisStep, type ChartDrawing } from './chart-rows.js';
import { termName, termText } from './claim-text.js';
import { spread } from './label-places.js';
import { amount } from './numbers.js';
import { words, type Point } from './svg.js';
import type { Theme } from './theme.js';
import type { TradePoint, TradePoints } from './trade-points.js';
import { element, escaped } from './xml.js';

/** Terms that a plan counts in tenths, and the unit of the whole. */
const UNITS: Readonly<Partial<Record<ObjectiveTerm, string>>> = { time: 's', distortion: 'mm' };

const AXES: Readonly<Partial<Record<ObjectiveTerm, string>>> = { distortion: 'distortion beyond its limits' };

/** A value of a term in the unit of its axis. */
const scaled = (term: ObjectiveTerm, value: number): number =>
  UNITS[term] === undefined ? value : value / 10;

/** A term with its unit, as an axis is named. */
function axisName(term: ObjectiveTerm): string {
  const unit = UNITS[term];
  const name = AXES[term] ?? termName(term);
  return unit === undefined ? name : `${name}, ${unit}`;
}

interface Axis {
  readonly low: number;
  readonly high: number;
  readonly ticks: readonly number[];
}

/** An axis about some values, which need not begin at zero: what counts are the differences. */
function axisAbout(values: readonly number[], whole: boolean): Axis {
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const raw = axisStep(Math.max(most - least, whole ? 1 : 0.1) * 1.5);
  const step = whole ? Math.max(1, raw) : raw;
  const low = Math.max(0, Math.floor(least / step - 1e-9 - (least > 0 ? 0.3 : 0)) * step);
  const high = Math.ceil(most / step + 0.3) * step;
  const count = Math.round((high - low) / step);
  return {
    ...{ low, high },
    ticks: Array.from({ length: count + 1 }, (_, i) => rounded(low + i * step, 9)),
  };
}

const PLOT = { top: 30, height: 230, left: 66, right: 0.97 } as const;
const TEXT = 13;
/** Least distance of two names, pixels. */
const LINE = 17;

/** What a point is called. */
const pointName = ({ number, own }: TradePoint): string =>
  number === 0 ? 'this plan' : `plan ${number}${own ? ', this one' : ''}`;

/** Two terms against each other: a point for each plan, the one that is shown with a ring around it. */
export function tradeChart({ terms, points }: TradePoints, across: Across, theme: Theme): ChartDrawing {
  const inset = PLOT.left / across.pixels;
  const [first, second] = [0, 1].map((side) => {
    const term = terms[side]!;
    const values = points.map((point) => scaled(term, point.values[side]!));
    return axisAbout(values, UNITS[term] === undefined);
  }) as [Axis, Axis];
  const x = (value: number): number =>
    inset + ((PLOT.right - inset) * (value - first.low)) / (first.high - first.low);
  const y = (value: number): number =>
    PLOT.top + PLOT.height * (1 - (value - second.low) / (second.high - second.low));
  const places = points.map(({ values: [a, b] }): Point => [x(scaled(terms[0], a)), y(scaled(terms[1], b))]);
  const small = { ...theme.paint('small'), 'font-size': TEXT };
  const bottom = PLOT.top + PLOT.height;
  return {
    content: [
      placed(across.at(0), 0, words(0, 14, axisName(terms[1]), small)),
      ...second.ticks.flatMap((tick) => [
        lineAcross(across, [inset, y(tick)], [PLOT.right, y(tick)], theme.paint('rule')),
        placed(
          across.at(inset),
          y(tick),
          words(-8, 4.5, amount(tick, 6), { ...small, 'text-anchor': 'end' }),
        ),
      ]),
      ...first.ticks.map((tick) =>
        placed(
          across.at(x(tick)),
          bottom,
          words(0, 20, amount(tick, 6), { ...small, 'text-anchor': 'middle' }),
        ),
      ),
      lineAcross(across, [inset, bottom], [PLOT.right, bottom], theme.paint('axis')),
      lineAcross(across, [inset, PLOT.top], [inset, bottom], theme.paint('axis')),
      placed(across.at(inset), bottom, words(0, 42, axisName(terms[0]), small)),
      ...steps(points, places, across, theme),
      ...points.map((point, i) => pointMark(point, terms, places[i]!, across, theme)),
      ...names(points, places, across, theme),
    ],
    height: bottom + 50,
  };
}

/** A line from each plan of the trade to the next. */
function steps(
  points: readonly TradePoint[],
  places: readonly Point[],
  across: Across,
  theme: Theme,
): string[] {
  return points.slice(1).flatMap(({ number }, i) => {
    if (number === 0) return [];
    const [from, to] = [places[i]!, places[i + 1]!];
    return [
      lineAcross(across, from, [to[0], from[1]], theme.paint('link')),
      lineAcross(across, [to[0], from[1]], to, theme.paint('link')),
    ];
  });
}

function pointMark(
  point: TradePoint,
  terms: TradePoints['terms'],
  [x, y]: Point,
  across: Across,
  theme: Theme,
): string {
  const told = point.values.map((value, side) => termText(terms[side]!, value)).join(', ');
  return element(
    'g',
    { 'data-value': point.values.join(' ') },
    element('title', {}, escaped(`${pointName(point)}: ${told}`)),
    placed(
      across.at(x),
      y,
      point.own ? element('circle', { r: 10, ...theme.paint('own') }) : '',
      element('circle', { r: 5, ...theme.paint('mark') }),
    ),
  );
}

/** The names of the points beside them, pushed apart where they would lie on one another. */
function names(
  points: readonly TradePoint[],
  places: readonly Point[],
  across: Across,
  theme: Theme,
): string[] {
  const order = points.map((_, i) => i).sort((a, b) => places[a]![1] - places[b]![1] || a - b);
  const heights = spread(
    order.map((i) => places[i]![1] - 6),
    LINE,
    PLOT.top,
    PLOT.top + PLOT.height - 8,
  );
  return order.map((i, k) => {
    const [x] = places[i]!;
    const left = x > 0.75;
    const text = { ...theme.paint(points[i]!.own ? 'strong' : 'word'), 'font-size': TEXT };
    return placed(
      across.at(x),
      heights[k]!,
      words(left ? -15 : 15, 4.5, pointName(points[i]!), { ...text, 'text-anchor': left ? 'end' : 'start' }),
    );
  });
}

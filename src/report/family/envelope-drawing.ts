import type { FamilyEnvelope, FamilyResult } from '../../model/family-result.js';
import { limitsText, valuesText } from '../family-claim-text.js';
import { freeAcross, lineAcross, placed, type Across } from '../across.js';
import { amount } from '../numbers.js';
import { plain } from '../plain.js';
import { pixels, words } from '../svg.js';
import { ON_PAGE } from '../theme.js';
import { element, escaped } from '../xml.js';

/** A parameter with a range. */
export interface Ranged {
  readonly name: string;
  readonly unit: string | undefined;
  readonly low: number;
  readonly high: number;
}

type Sample = FamilyEnvelope['samples'][number];

/** A sample as one pattern sees it. */
interface Seen {
  readonly values: Sample['values'];
  readonly fits: boolean;
  readonly title: string;
}

/** The parameters of a result that have a range, in the order of the family. */
export const rangedOf = ({ parameters, envelope }: FamilyResult): readonly Ranged[] =>
  parameters.flatMap(({ name, unit, low, high }) =>
    envelope === null || low === undefined || high === undefined ? [] : [{ name, unit, low, high }],
  );

const rangeWords = ({ name, unit }: Ranged): string =>
  unit === undefined ? plain(name) : `${plain(name)}, ${plain(unit)}`;

const seenBy = (samples: readonly Sample[], id: string): readonly Seen[] =>
  samples.flatMap(({ values, patterns }) =>
    patterns
      .filter(({ pattern }) => pattern === id)
      .map(({ fits, reasons }) => ({
        values,
        fits,
        title: `${valuesText(values)}: ${fits ? 'works' : limitsText(reasons)}`,
      })),
  );

const shareOf = ({ low, high }: Ranged, value: unknown): number =>
  typeof value === 'number' && high > low ? (value - low) / (high - low) : 0;

/** A filled round where it works, a cross where it does not; both say what they stand for. */
function sign({ fits, title }: Seen): string {
  const shape = fits
    ? element('circle', { r: 4.5, ...ON_PAGE.paint('mark') })
    : element('path', { d: 'M-4 -4L4 4M-4 4L4 -4', class: 'fails' });
  return element('g', {}, element('title', {}, escaped(title)), shape);
}

/** Where the first and the last place of a strip or field lie, of its width. */
const ENDS = [0.04, 0.96] as const;
const inside = (share: number): number => ENDS[0] + share * (ENDS[1] - ENDS[0]);

const WIDE = 640;
const STRIP = 46;

/** One strip a pattern along the one range: places that were tried, and a stroke where it ends. */
export function stripDrawing(envelope: FamilyEnvelope, range: Ranged, ids: readonly string[]): string {
  const across = freeAcross(WIDE);
  const height = ids.length * STRIP + 34;
  const strips = ids.map((id, i) => strip(envelope, range, id, { across, y: i * STRIP + 30 }));
  return drawing('100%', height, `Where in ${plain(range.name)} the patterns work`, [
    ...strips,
    ...axis(across, range, height - 6),
  ]);
}

function strip(
  { samples, boundaries }: FamilyEnvelope,
  range: Ranged,
  id: string,
  { across, y }: { readonly across: Across; readonly y: number },
): string {
  const at = (value: unknown): number => inside(shareOf(range, value));
  const ends = boundaries
    .filter(({ pattern }) => pattern === id)
    .map(({ works, fails }) => (at(works[range.name]) + at(fails[range.name])) / 2);
  return [
    placed(across.at(ENDS[0]), y - 12, words(0, 0, plain(id), ON_PAGE.paint('strong'))),
    lineAcross(across, [inside(0), y], [inside(1), y], ON_PAGE.paint('axis')),
    ...ends.map((end) => lineAcross(across, [end, y - 11], [end, y + 11], ON_PAGE.paint('limit'))),
    ...seenBy(samples, id).map((seen) => placed(across.at(at(seen.values[range.name])), y, sign(seen))),
  ].join('');
}

function axis(across: Across, { low, high, name, unit }: Ranged, y: number): readonly string[] {
  const small = ON_PAGE.paint('small');
  const middle = unit === undefined ? plain(name) : `${plain(name)}, ${plain(unit)}`;
  const label = (share: number, text: string, anchor: string): string =>
    placed(across.at(inside(share)), y, words(0, 0, text, { ...small, 'text-anchor': anchor }));
  return [label(0, amount(low, 3), 'start'), label(0.5, middle, 'middle'), label(1, amount(high, 3), 'end')];
}

const FIELD = [272, 216] as const;
const LEFT = 44;
const TOP = 24;

/** A field over two ranges for one pattern. */
export function fieldDrawing(
  { samples, boundaries }: FamilyEnvelope,
  [x, y]: readonly [Ranged, Ranged],
  id: string,
): string {
  const [width, height] = FIELD;
  const small = ON_PAGE.paint('small');
  const at = (values: Sample['values']): readonly [number, number] => [
    LEFT + 10 + shareOf(x, values[x.name]) * (width - LEFT - 24),
    height - 40 - shareOf(y, values[y.name]) * (height - TOP - 50),
  ];
  const put = (values: Sample['values'], content: string): string => {
    const [px, py] = at(values);
    return element('g', { transform: `translate(${pixels(px)} ${pixels(py)})` }, content);
  };
  const borders = boundaries
    .filter(({ pattern }) => pattern === id)
    .map(({ works, fails }) => {
      const [[x1, y1], [x2, y2]] = [at(works), at(fails)];
      const [mx, my, dx, dy] = [(x1 + x2) / 2, (y1 + y2) / 2, x2 - x1, y2 - y1];
      const long = Math.hypot(dx, dy) || 1;
      const [sx, sy] = [(-dy / long) * 11, (dx / long) * 11];
      return element('line', {
        x1: mx - sx,
        y1: my - sy,
        x2: mx + sx,
        y2: my + sy,
        ...ON_PAGE.paint('limit'),
      });
    });
  const frame = { x: LEFT, y: TOP, width: width - LEFT - 4, height: height - TOP - 30 };
  return drawing(width, height, `Where ${plain(id)} works`, [
    words(LEFT, 14, plain(id), ON_PAGE.paint('strong')),
    element('rect', { ...frame, ...ON_PAGE.paint('rule') }),
    ...borders,
    ...seenBy(samples, id).map((seen) => put(seen.values, sign(seen))),
    words(LEFT + 10, height - 16, amount(x.low, 3), { ...small, 'text-anchor': 'middle' }),
    words(width - 14, height - 16, amount(x.high, 3), { ...small, 'text-anchor': 'middle' }),
    words((LEFT + width) / 2, height - 2, rangeWords(x), { ...small, 'text-anchor': 'middle' }),
    words(LEFT - 5, height - 36, amount(y.low, 3), { ...small, 'text-anchor': 'end' }),
    words(LEFT - 5, TOP + 14, amount(y.high, 3), { ...small, 'text-anchor': 'end' }),
    element(
      'g',
      { transform: `translate(12 ${pixels((TOP + height - 30) / 2)}) rotate(-90)` },
      words(0, 0, rangeWords(y), { ...small, 'text-anchor': 'middle' }),
    ),
  ]);
}

const drawing = (width: number | string, height: number, name: string, content: readonly string[]): string =>
  element(
    'svg',
    { class: 'drawing', width, height, role: 'img', 'aria-label': name, 'font-size': 13 },
    ...content,
  );

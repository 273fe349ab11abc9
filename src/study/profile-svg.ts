import { counted } from '../report/numbers.js';
import { spread } from '../report/label-places.js';
import { PALETTE } from '../report/palette.js';
import { clipped } from '../report/plain.js';
import { line, picture, pointList, words, type Point } from '../report/svg.js';
import { element } from '../report/xml.js';
import { MEASURED, type Profile, type ProfileCurve } from './profile.js';

const SIZE: Point = [900, 560];
/** The plot itself; right of it is room for the names of the curves. */
const PLOT = { left: 70, top: 70, right: 650, bottom: 490 };
/** Least distance of two names, pixels. */
const NAME_HEIGHT = 20;
/** Columns of a name; longer ones are cut. */
const NAME_COLUMNS = 30;

/** Curves are told apart by dashes and marks, and by hue beside; after the last the dashes go on with other marks. */
const DASHES: readonly (string | undefined)[] = [undefined, '9 4', '2 4', '12 4 2 4', '5 2'];
const HUES: readonly string[] = ['#1c4f7c', '#a8321a', '#3f6b35', '#6d4a8c', '#7a5a12', '#20303b'];
type Mark = (at: Point, hue: string) => string;
const MARKS: readonly Mark[] = [
  ([cx, cy], fill) => element('circle', { cx, cy, r: 4, fill }),
  ([x, y], fill) => element('rect', { x: x - 4, y: y - 4, width: 8, height: 8, fill }),
  ([x, y], fill) =>
    polygon(
      [
        [x, y - 5],
        [x + 5, y + 4],
        [x - 5, y + 4],
      ],
      fill,
    ),
  ([x, y], fill) =>
    polygon(
      [
        [x, y - 5],
        [x + 5, y],
        [x, y + 5],
        [x - 5, y],
      ],
      fill,
    ),
];
const polygon = (points: readonly Point[], fill: string): string =>
  element('polygon', { points: pointList(points), fill });

/** The largest factor that is drawn: the next power of two beyond every step, at least 2 and at most 2^20. */
const widest = ({ curves }: Profile): number => {
  const last = Math.max(2, ...curves.flatMap(({ steps }) => steps.map(({ factor }) => factor)));
  return 2 ** Math.min(20, Math.ceil(Math.log2(last) + 1e-9));
};

/** A performance profile as a picture that needs no colour: every curve has its name beside its end. */
export function profileSvg(profile: Profile): string {
  const most = widest(profile);
  const x = (factor: number): number =>
    PLOT.left + ((PLOT.right - PLOT.left) * Math.log2(Math.min(factor, most))) / Math.log2(most);
  const y = (share: number): number => PLOT.bottom - (PLOT.bottom - PLOT.top) * share;
  const title = `Performance profile, ${MEASURED[profile.measure]}, ${counted(profile.instances, 'instance')}`;
  return picture(SIZE, title, PALETTE.ground, [
    element('desc', {}, descriptionOf(profile)),
    words(PLOT.left, 32, title, { 'font-size': 17, fill: PALETTE.ink }),
    ...axes(most, x, y),
    ...profile.curves.map((curve, i) => curveLine(curve, i, most, x, y)),
    ...names(profile.curves, y),
  ]);
}

/** The curves in words, for who does not see them; names are escaped where the words are put. */
function descriptionOf({ curves }: Profile): string {
  const said = curves.map(({ steps }, i) => {
    const [first, last] = [steps[0]!.share, steps.at(-1)!.share];
    return `Curve ${i + 1}: fastest on ${percent(first)}, solved ${percent(last)}.`;
  });
  return said.join(' ');
}

const percent = (share: number): string => `${Math.round(100 * share)}%`;

function axes(most: number, x: (factor: number) => number, y: (share: number) => number): string[] {
  const small = { 'font-size': 13, fill: PALETTE.faint };
  const powers = Math.log2(most);
  const every = Math.max(1, Math.ceil(powers / 8));
  const factors = Array.from({ length: powers + 1 }, (_, i) => i).filter((i) => i % every === 0);
  return [
    ...[0, 0.25, 0.5, 0.75, 1].flatMap((share) => [
      line([PLOT.left, y(share)], [PLOT.right, y(share)], { stroke: '#d5d9d6', 'stroke-width': 1 }),
      words(PLOT.left - 8, y(share) + 4, percent(share), { ...small, 'text-anchor': 'end' }),
    ]),
    ...factors.map((power) =>
      words(x(2 ** power), PLOT.bottom + 20, String(2 ** power), { ...small, 'text-anchor': 'middle' }),
    ),
    words(PLOT.left, PLOT.top - 14, 'share of the instances', small),
    words(PLOT.right, PLOT.bottom + 44, 'at most this many times what the best solver needs', {
      ...small,
      'text-anchor': 'end',
    }),
  ];
}

const hueOf = (i: number): string => HUES[i % HUES.length]!;

function curveLine(
  { steps }: ProfileCurve,
  i: number,
  most: number,
  x: (factor: number) => number,
  y: (share: number) => number,
): string {
  const shown = steps.filter(({ factor }) => factor <= most);
  const corners: Point[] = shown.flatMap(({ factor, share }, k): Point[] => {
    const before = shown[k - 1];
    return before === undefined
      ? [[x(factor), y(share)]]
      : [
          [x(factor), y(before.share)],
          [x(factor), y(share)],
        ];
  });
  const end: Point = [PLOT.right, y(shown.at(-1)!.share)];
  const mark = MARKS[i % MARKS.length]!;
  return element(
    'g',
    {},
    element('polyline', {
      points: pointList([...corners, end]),
      ...{ fill: 'none', stroke: hueOf(i), 'stroke-width': 2.2, 'stroke-linejoin': 'round' },
      'stroke-dasharray': DASHES[i % DASHES.length],
    }),
    ...shown.slice(0, 40).map(({ factor, share }) => mark([x(factor), y(share)], hueOf(i))),
    mark(end, hueOf(i)),
  );
}

/** Each name beside the end of its curve, pushed apart where ends are close, with a thin line to it. */
function names(curves: readonly ProfileCurve[], y: (share: number) => number): string[] {
  const ends = curves.map(({ steps, solver }, i) => ({ solver, i, at: y(steps.at(-1)!.share) }));
  const sorted = [...ends].sort((a, b) => a.at - b.at || a.i - b.i);
  const heights = spread(
    sorted.map(({ at }) => at),
    NAME_HEIGHT,
    PLOT.top - 30,
    SIZE[1] - 20,
  );
  return sorted.map(({ solver, i, at }, k) => {
    const height = heights[k]!;
    const mark = MARKS[i % MARKS.length]!([PLOT.right + 36, height], hueOf(i));
    return element(
      'g',
      {},
      line([PLOT.right + 6, at], [PLOT.right + 28, height], { stroke: PALETTE.faint, 'stroke-width': 0.8 }),
      mark,
      words(PLOT.right + 46, height + 5, clipped(solver, NAME_COLUMNS), {
        'font-size': 14,
        fill: PALETTE.ink,
      }),
    );
  });
}

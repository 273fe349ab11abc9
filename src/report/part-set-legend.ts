import { PALETTE } from './palette.js';
import type { DrawnSet } from './part-set-view.js';
import { line, words, type Point } from './svg.js';
import { element } from './xml.js';

type Sample = (at: Point) => string;

const box =
  (fill: string, width: number, dash?: string): Sample =>
  ([x, y]) =>
    element('rect', {
      x,
      y: y - 8,
      width: 30,
      height: 15,
      fill,
      stroke: dash === undefined ? PALETTE.ink : PALETTE.adjacent,
      'stroke-width': width,
      'stroke-dasharray': dash,
      'stroke-linecap': 'round',
    });

const both =
  (first: Sample, second: Sample): Sample =>
  (at) =>
    first(at) + second(at);

const stroke =
  (width: number, dash?: string): Sample =>
  ([x, y]) =>
    line([x, y], [x + 30, y], { stroke: PALETTE.seam, 'stroke-width': width, 'stroke-dasharray': dash });

const tack =
  (fill: string): Sample =>
  ([x, y]) =>
    line([x + 4, y], [x + 26, y], { stroke: PALETTE.seam, 'stroke-width': 9, 'stroke-linecap': 'round' }) +
    line([x + 4, y], [x + 26, y], { stroke: fill, 'stroke-width': 5, 'stroke-linecap': 'round' });

function entries({ view, patches, joints }: DrawnSet): (readonly [string, Sample])[] {
  const { newcomer, tacks = [] } = view;
  const some = (phase: string): boolean => tacks.some((own) => own.phase === phase);
  const all: (readonly [boolean, string, Sample])[] = [
    [
      newcomer !== undefined,
      view.tacks === undefined ? 'this part' : 'the part that joins',
      both(box(PALETTE.newcomer[2], 2.4), box('url(#newcomer)', 2.4)),
    ],
    [newcomer === undefined || view.parts.length > 1, 'parts in place', box(PALETTE.part[2], 1)],
    [patches.some(({ bearing }) => bearing), 'bearing: may carry force', box('url(#bearing)', 1.2)],
    [patches.some(({ bearing }) => !bearing), 'only adjacent: may be joined', box('none', 1.8, '1.5 4')],
    [joints.some(({ seams }) => seams.length > 0), 'seam (dashed: hidden)', both(stroke(3.2), () => '')],
    [some('securing'), 'securing tack, in this order (thin: hidden)', tack(PALETTE.seam)],
    [some('completing'), 'later tack (thin: hidden)', tack(PALETTE.halo)],
  ];
  return all.flatMap(([shown, text, sample]) => (shown ? [[text, sample] as const] : []));
}

/** What the marks of a picture mean; only those that it has. */
export const partSetLegend = (set: DrawnSet, [x, y]: Point): string =>
  element(
    'g',
    { 'font-size': 13, fill: PALETTE.ink },
    ...entries(set).map(([text, sample], i) => {
      const at: Point = [x + (i % 2) * 300, y + Math.floor(i / 2) * 26];
      return sample(at) + words(at[0] + 40, at[1] + 4, text);
    }),
  );

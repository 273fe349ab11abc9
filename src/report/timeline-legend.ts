import { line, textWidth, words, type Point } from './svg.js';
import type { Role, Theme } from './theme.js';
import { hatchId } from './timeline-hatches.js';
import { ACTIVITY_KINDS, kindOf, type ActivityGroup } from './timeline-kinds.js';
import type { Lanes } from './timeline-lanes.js';
import { element } from './xml.js';

export interface LegendEntry {
  readonly text: string;
  /** A sample, 34 by 18 pixels, drawn from its own upper left corner. */
  readonly sample: string;
}

const SIZE = { width: 34, height: 18 } as const;

function box(group: ActivityGroup, theme: Theme, id: string): string {
  const hatch = hatchId(group, id);
  return (
    element('rect', { ...SIZE, ...theme.paint(group) }) +
    (hatch === undefined ? '' : element('rect', { ...SIZE, fill: `url(#${hatch})` }))
  );
}

const bar = (role: Role, theme: Theme): string =>
  element('rect', { y: 6, width: SIZE.width, height: 6, ...theme.paint(role) });

const arrow = (theme: Theme): string =>
  line([17, 0], [17, 10], theme.paint('arrow')) +
  element('path', { d: 'M 17 18 L 12.5 9 L 21.5 9 Z', ...theme.paint('arrow-head') });

const GROUP_ORDER: readonly ActivityGroup[] = [
  'carry',
  'change',
  'secure',
  'release',
  'tack',
  'wait',
  'other',
];

/** What the boxes, bars and arrows of a timeline mean; only those that it has. `id` as for its patterns. */
export function legendEntries({ lanes, arrows }: Lanes, theme: Theme, id: string): readonly LegendEntry[] {
  const all = lanes.flatMap(({ activities }) => activities);
  const seen = new Set(all.map(({ what }) => what));
  const groups = GROUP_ORDER.flatMap((group) => {
    const known = [...ACTIVITY_KINDS].filter(([what, kind]) => seen.has(what) && kind.group === group);
    const names = known.map(([what, { mark }]) => (mark === '.' ? what : `${what} (${mark})`));
    const others = [...seen].some((what) => !ACTIVITY_KINDS.has(what) && kindOf(what).group === group);
    const told = [...names, ...(others ? ['other (o)'] : [])];
    return told.length === 0 ? [] : [{ text: told.join(', '), sample: box(group, theme, id) }];
  });
  const thick =
    element('rect', { ...SIZE, ...theme.paint('other') }) +
    [0, SIZE.height].map((y) => line([0, y], [SIZE.width, y], theme.paint('critical'))).join('');
  const more: readonly (readonly [boolean, string, string])[] = [
    [all.some(({ critical }) => critical), 'thick edges: on the critical path', thick],
    [lanes.some(({ holds }) => holds.length > 0), 'holds a part still', bar('hold', theme)],
    [lanes.some(({ ahead }) => ahead.length > 0), 'fetched ahead while tacks are laid', bar('ahead', theme)],
    [arrows.length > 0, 'signal, to the wait that it ends', arrow(theme)],
  ];
  return [...groups, ...more.flatMap(([has, text, sample]) => (has ? [{ text, sample }] : []))];
}

/** A legend in rows no wider than `width`, and how high it is. */
export function legendRows(
  entries: readonly LegendEntry[],
  theme: Theme,
  [left, top]: Point,
  width: number,
): { readonly content: readonly string[]; readonly height: number } {
  let [x, y] = [left, top];
  const content = entries.map(({ text, sample }) => {
    const wide = SIZE.width + 8 + textWidth(text, 13) + 22;
    if (x > left && x + wide > left + width) [x, y] = [left, y + 28];
    const mark = element('g', { transform: `translate(${x} ${y})` }, sample);
    const label = words(x + SIZE.width + 8, y + 13.5, text, { ...theme.paint('word'), 'font-size': 13 });
    x += wide;
    return mark + label;
  });
  return { content, height: entries.length === 0 ? 0 : y + 28 - top };
}

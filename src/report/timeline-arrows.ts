import { rounded } from '../base/order.js';
import { lineAcross, placed } from './across.js';
import { plain } from './plain.js';
import { words } from './svg.js';
import { mark, picking } from './theme.js';
import type { SignalArrow } from './timeline-lanes.js';
import { secondsText, type TimelineView } from './timeline-view.js';
import { element } from './xml.js';

/** Length of the head of an arrow, pixels. */
const HEAD = 9;

/** A signal in words, where its arrow is not seen. */
function arrowName({ id, name, meaning, from, to, waited }: SignalArrow, { lanes }: TimelineView): string {
  const [sender, receiver] = [from, to].map(({ lane }) => plain(lanes.lanes[lane]?.robot ?? ''));
  const waiting = waited > 0 ? `waited ${secondsText(rounded(waited, 3))}` : 'without waiting';
  return [
    `signal ${plain(id)} ${plain(name)}: ${plain(meaning)}`,
    `${sender!} at ${secondsText(from.at)}`,
    `${receiver!} goes on at ${secondsText(to.at)}, ${waiting}`,
  ].join('; ');
}

/** How times and lanes lie in the drawing. */
export interface ArrowPlaces {
  /** Upper and lower edge of a lane. */
  readonly edges: (lane: number) => readonly [top: number, bottom: number];
  readonly share: (time: number) => number;
}

/** Room that the name of a signal takes beside its arrow, pixels. */
const NAME_ROOM = 34;

/** On which side of its arrow each name stands: on the right, unless only the left has room up to the next arrow. */
function sidesOf(tips: readonly number[], width: number): ('left' | 'right')[] {
  return tips.map((tip) => {
    const right = Math.min(width, ...tips.filter((other) => other > tip)) - tip;
    const left = tip - Math.max(0, ...tips.filter((other) => other < tip));
    return right < NAME_ROOM && left > right ? 'left' : 'right';
  });
}

/**
 * The arrows of the signals whose waits end in the window of a view; an arrow begins at the edge of the window where its
 * signal was given before it.
 */
export function arrowMarks(view: TimelineView, places: ArrowPlaces): string[] {
  const { window, across, lanes } = view;
  const shown = lanes.arrows.filter(
    ({ from, to }) =>
      (to.at > window.start || (to.at === 0 && window.start === 0)) &&
      to.at <= window.end &&
      from.lane >= 0 &&
      to.lane >= 0 &&
      from.lane !== to.lane,
  );
  const sides = sidesOf(
    shown.map(({ to }) => places.share(to.at) * across.pixels),
    across.pixels,
  );
  return shown.map((arrow, i) => arrowMark(arrow, view, places, sides[i]!));
}

function arrowMark(
  arrow: SignalArrow,
  view: TimelineView,
  { edges, share }: ArrowPlaces,
  side: 'left' | 'right',
): string {
  const { from, to, index, id, waited } = arrow;
  const { theme, across } = view;
  const down = to.lane > from.lane;
  const [start, end] = down
    ? [edges(from.lane)[1], edges(to.lane)[0]]
    : [edges(from.lane)[0], edges(to.lane)[1]];
  const tip = down ? -HEAD : HEAD;
  const [x1, x2] = [share(from.at), share(to.at)];
  const middle = (start + end) / 2 + (down ? 16 : 0);
  return mark(
    theme,
    arrowName(arrow, view),
    {
      ...picking(theme, `handshake:${index}`, to.at),
      ...{ 'data-signal': plain(id), 'data-from': String(from.at), 'data-to': String(to.at) },
      'data-waited': String(rounded(waited, 3)),
    },
    theme.marks === 'picked'
      ? lineAcross(across, [x1, start], [x2, end], { stroke: 'transparent', 'stroke-width': 14 })
      : '',
    lineAcross(across, [x1, start], [x2, end + tip], theme.paint('arrow')),
    placed(
      across.at(x2),
      end,
      element('path', { d: `M 0 0 L -4.5 ${tip} L 4.5 ${tip} Z`, ...theme.paint('arrow-head') }),
      words(side === 'right' ? 6 : -6, middle - end, plain(id), {
        ...theme.paint('small'),
        'data-room': theme.marks === 'picked' ? NAME_ROOM : undefined,
        ...{ 'font-size': 12, 'text-anchor': side === 'right' ? 'start' : 'end' },
      }),
    ),
  );
}

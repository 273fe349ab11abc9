import { fittingLabel } from '../report/timeline-kinds.js';
import type { Clock } from './clock.js';
import type { Picks } from './picks.js';
import { roveFocus } from './rove-focus.js';

export interface TimelineParts {
  readonly clock: Clock;
  readonly picks: Picks;
  /** The section with the drawing of the timeline. */
  readonly place: HTMLElement;
}

/** How much wider one press makes the drawing, and how wide it can become, as a share of its first width. */
const ZOOM = { step: 1.5, most: 8 } as const;

/** The drawing inside the box in which it scrolls. */
interface Drawing {
  readonly box: HTMLElement;
  readonly svg: SVGSVGElement;
  /** Width before anybody zooms, pixels. */
  readonly first: number;
  /** Seconds. */
  readonly makespan: number;
}

/** Ties the drawing of the timeline to the clock and to what is picked, and lets it be made wider. */
export function tieTimeline({ clock, picks, place }: TimelineParts): void {
  const box = place.querySelector<HTMLElement>('.timeline-box');
  const svg = place.querySelector<SVGSVGElement>('.timeline-drawing');
  if (!box || !svg) return;
  const first = Number(svg.getAttribute('width'));
  const drawing = { box, svg, first, makespan: Number(svg.getAttribute('data-makespan')) };
  box.before(zoomButtons(drawing));
  tieCursor(drawing, clock);
  roveFocus(svg);
  picks.listen((pick) => {
    if (pick !== undefined) showPicked(drawing);
  });
}

/** The line at the moment of the clock; the box follows it where it would leave what is seen. */
function tieCursor({ box, svg, makespan }: Drawing, clock: Clock): void {
  const cursor = svg.querySelector('.cursor');
  clock.listen((now) => {
    const share = makespan > 0 ? now / makespan : 0;
    for (const end of ['x1', 'x2']) cursor?.setAttribute(end, `${100 * share}%`);
    svg.setAttribute('data-now', String(now));
    keepSeen(box, share * svg.clientWidth);
  });
}

/** Scrolls only where a place lies outside of what is seen. */
function keepSeen(box: HTMLElement, x: number): void {
  const margin = Math.min(40, box.clientWidth / 4);
  if (x < box.scrollLeft) box.scrollLeft = Math.max(0, x - margin);
  else if (x > box.scrollLeft + box.clientWidth - margin / 2)
    box.scrollLeft = x - Math.min(box.clientWidth / 2, 4 * margin);
}

/** Scrolls to what is picked in the drawing. */
function showPicked({ box, svg }: Drawing): void {
  const picked = svg.querySelector('.picked');
  if (picked === null) return;
  const left = picked.getBoundingClientRect().left - svg.getBoundingClientRect().left;
  keepSeen(box, left);
}

function zoomButtons(drawing: Drawing): HTMLElement {
  const bar = document.createElement('p');
  bar.className = 'zoom';
  const button = (name: string, title: string, width: () => number): void => {
    const made = document.createElement('button');
    made.type = 'button';
    made.textContent = name;
    made.title = title;
    made.addEventListener('click', () => setWidth(drawing, width()));
    bar.append(made);
  };
  const now = (): number => drawing.svg.clientWidth;
  button('Wider', 'A second takes more room', () => now() * ZOOM.step);
  button('Narrower', 'A second takes less room', () => now() / ZOOM.step);
  button('Whole', 'The whole timeline at once', () => drawing.box.clientWidth);
  button('As at first', 'Wide enough to read', () => drawing.first);
  return bar;
}

/** Makes the drawing wider or narrower about the middle of what is seen; words keep their size. */
function setWidth({ box, svg, first, makespan }: Drawing, wished: number): void {
  const width = Math.min(first * ZOOM.most, Math.max(box.clientWidth, wished));
  const middle = (box.scrollLeft + box.clientWidth / 2) / svg.clientWidth;
  svg.style.width = `${width}px`;
  box.scrollLeft = middle * width - box.clientWidth / 2;
  for (const activity of svg.querySelectorAll('[data-what]')) {
    const [what, start, end] = ['data-what', 'data-start', 'data-end'].map((name) =>
      activity.getAttribute(name),
    );
    const seconds = Number(end) - Number(start);
    const label = activity.querySelector('text');
    if (label) label.textContent = fittingLabel(what ?? '', seconds, (seconds / makespan) * width);
  }
  thinOut(svg, width);
}

/** Hides words that would stand on others of their row: each of those with `data-room` needs that many pixels. */
function thinOut(svg: SVGSVGElement, width: number): void {
  const free = new Map<string, number>();
  const words = [...svg.querySelectorAll<SVGTextElement>('[data-room]')].map((word) => {
    const room = Number(word.getAttribute('data-room'));
    const at = (Number.parseFloat(word.parentElement?.getAttribute('x') ?? '0') / 100) * width;
    return { word, room, x: word.getAttribute('text-anchor') === 'end' ? at - room : at };
  });
  for (const { word, room, x } of words.sort((a, b) => a.x - b.x)) {
    const row = `${room} ${word.getAttribute('y') ?? ''}`;
    const hidden = x < (free.get(row) ?? 0);
    word.style.visibility = hidden ? 'hidden' : '';
    if (!hidden) free.set(row, x + room);
  }
}

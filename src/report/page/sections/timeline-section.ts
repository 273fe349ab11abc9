import { rounded } from '../../../base/order.js';
import { freeAcross } from '../../across.js';
import { makespanText, waitingText } from '../../critical-text.js';
import { amount } from '../../numbers.js';
import { plain } from '../../plain.js';
import { ON_PAGE, ON_PAGE_STILL } from '../../theme.js';
import { legendEntries } from '../../timeline-legend.js';
import { lanesOf, type Lanes } from '../../timeline-lanes.js';
import { partNames, windowsOf } from '../../timeline-picture.js';
import { TimelinePainter, WINDOW_WIDTH } from '../../timeline-svg.js';
import { element } from '../../xml.js';
import { html, table, text, type Cell } from '../html.js';
import type { GeometricContext } from '../page-context.js';

/** Pixels for a second, and at least and most for the whole, before anybody zooms. */
const SCALE = { perSecond: 7, least: 900, most: 9000 } as const;

/** What all patterns of the drawing are called by. */
const ID = 'tl';

/** Robots as lanes over time, and the same as a table. */
export function timelineSection({ plan }: GeometricContext): string {
  const lanes = lanesOf(plan);
  if (lanes.makespan <= 0) return '';
  return [
    html('p', {}, text(`Makespan: ${makespanText(plan)}`)),
    wide(lanes, partNames(plan)),
    printed(lanes, plan),
    legend(lanes),
    waits(plan),
    html(
      'details',
      { class: 'as-table' },
      html('summary', {}, 'The timeline as a table'),
      activityTable(lanes, partNames(plan)),
      signalTable(lanes),
    ),
  ].join('\n');
}

/** The drawing on a screen: as wide as it must be, inside a box that scrolls. */
function wide(lanes: Lanes, partOf: (stage: number) => string): string {
  const { perSecond, least, most } = SCALE;
  const pixels = Math.round(Math.min(most, Math.max(least, lanes.makespan * perSecond)));
  const window = { start: 0, end: lanes.makespan };
  const view = { lanes, window, across: freeAcross(pixels), theme: ON_PAGE, id: ID, partOf };
  const { content, height, names } = new TimelinePainter(view).drawing(false);
  const drawing = element(
    'svg',
    {
      ...{ class: 'drawing timeline-drawing', width: pixels, height, role: 'group' },
      ...{ 'aria-label': 'Timeline of the robots', 'data-makespan': String(lanes.makespan) },
    },
    ...content,
    element('line', { class: 'cursor', x1: 0, x2: 0, y1: 0, y2: height }),
  );
  const named = lanes.lanes.map(({ robot }, i) =>
    html('span', { style: `top: ${names[i]! + 2}px` }, text(robot)),
  );
  return html(
    'div',
    { class: 'timeline-frame screen-only' },
    html(
      'div',
      { class: 'timeline-box', tabindex: 0, role: 'region', 'aria-label': 'Timeline, scrolls sideways' },
      html('div', { class: 'timeline-names', 'aria-hidden': 'true' }, ...named),
      drawing,
    ),
  );
}

/** The same in pieces as wide as a sheet of paper. */
function printed(lanes: Lanes, plan: GeometricContext['plan']): string {
  const windows = windowsOf(lanes, plan, ON_PAGE_STILL, 'tp').map(({ content, height }) =>
    element(
      'svg',
      { class: 'drawing', viewBox: `0 0 ${WINDOW_WIDTH} ${height}`, width: WINDOW_WIDTH, height },
      ...content,
    ),
  );
  return html('div', { class: 'print-only', 'aria-hidden': 'true' }, ...windows);
}

function legend(lanes: Lanes): string {
  const entries = legendEntries(lanes, ON_PAGE_STILL, ID).map(({ text: told, sample }) =>
    html(
      'li',
      {},
      element(
        'svg',
        { class: 'drawing', width: 38, height: 22, viewBox: '-2 -2 38 22', 'aria-hidden': 'true' },
        sample,
      ),
      text(told),
    ),
  );
  return html('ul', { class: 'legend' }, ...entries);
}

function waits(plan: GeometricContext['plan']): string {
  const told = waitingText(plan);
  return told === '' ? '' : html('p', {}, text(`Waits: ${told}.`));
}

const seconds = (value: number): Cell => ({
  html: text(amount(value, 3)),
  attributes: { 'data-value': String(rounded(value, 3)) },
});

function activityTable({ lanes }: Lanes, partOf: (stage: number) => string): string {
  const rows = lanes.flatMap(({ robot, program, activities }) =>
    activities.map(({ what, stage, start, end, critical, step }) => ({
      cells: [
        robot,
        stage === 0 ? '-' : `${stage} ${partOf(stage)}`,
        step === undefined ? what : pickable(what, `step:${program}.${step}`, start),
        seconds(start),
        seconds(end),
        seconds(end - start),
        critical ? 'yes' : '',
      ],
    })),
  );
  return table({
    caption: 'What every robot does, in seconds from the start',
    heads: ['robot', 'stage', 'what', 'start', 'end', 'seconds', 'on the critical path'],
    numbers: [3, 4, 5],
    rows,
  });
}

const pickable = (what: string, pick: string, at: number): Cell => ({
  html: html('button', { type: 'button', class: 'plain', 'data-pick': pick, 'data-at': at }, text(what)),
});

function signalTable({ lanes, arrows }: Lanes): string {
  if (arrows.length === 0) return '';
  const robot = (lane: number): string => lanes[lane]?.robot ?? '';
  return table({
    caption: 'Signals between the robots, in seconds',
    heads: ['signal', 'given by', 'at', 'awaited by', 'goes on at', 'waited'],
    numbers: [2, 4, 5],
    rows: arrows.map(({ index, id, name, from, to, waited }) => ({
      cells: [
        pickable(plain(`${id} ${name}`), `handshake:${index}`, to.at),
        robot(from.lane),
        seconds(from.at),
        robot(to.lane),
        seconds(to.at),
        seconds(waited),
      ],
    })),
  });
}

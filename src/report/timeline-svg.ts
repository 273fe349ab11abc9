import { rounded } from '../base/order.js';
import { fixedAcross, lineAcross, placed, type Across } from './across.js';
import { clipped, plain } from './plain.js';
import { textWidth, words } from './svg.js';
import { mark, picking } from './theme.js';
import { arrowMarks } from './timeline-arrows.js';
import { fittingLabel, kindOf } from './timeline-kinds.js';
import { hatchId, hatches } from './timeline-hatches.js';
import type { Lane, LaneActivity, Span } from './timeline-lanes.js';
import { secondsText, type TimelineView } from './timeline-view.js';
import { TIME_STEPS, timeName } from './time-steps.js';
import { element, escaped } from './xml.js';

/** Heights in a lane, pixels: its name, its stages, its activities, what it holds, what it fetches ahead. */
const ROW = { axis: 28, name: 24, stage: 20, gap: 3, box: 36, bar: 16, after: 30 } as const;
const TEXT = 13;
/** Least distance of two named times, pixels. */
const TICK = 90;

/** All of the box around it. */
const WHOLE = { width: '100%', height: '100%' } as const;

export interface TimelineDrawing {
  readonly content: readonly string[];
  readonly height: number;
  /** Where the name of each lane stands, pixels from the top. */
  readonly names: readonly number[];
}

/** What an activity is called where its drawing is not seen. */
const activityName = (robot: string, { what, stage, start, end, critical }: LaneActivity): string =>
  [
    `${robot}: ${what}${stage > 0 ? `, stage ${stage}` : ''}`,
    `from ${secondsText(start)} to ${secondsText(end)}, ${secondsText(rounded(end - start, 3))}`,
    ...(critical ? ['on the critical path'] : []),
  ].join(', ');

/** Draws one window of a timeline. */
export class TimelinePainter {
  private readonly tops: readonly number[];
  readonly height: number;

  constructor(private readonly view: TimelineView) {
    const tops: number[] = [];
    let y: number = ROW.axis;
    for (const lane of view.lanes.lanes) {
      tops.push(y);
      y += laneHeight(lane) + ROW.after;
    }
    this.tops = tops;
    this.height = y - (tops.length > 0 ? ROW.after - 8 : 0);
  }

  /** `named`: whether the names of the robots are drawn too. */
  drawing(named: boolean): TimelineDrawing {
    const { lanes, theme, id } = this.view;
    return {
      content: [
        hatches(id, theme),
        ...this.axis(),
        ...lanes.lanes.flatMap((lane, i) => this.lane(lane, this.tops[i]!)),
        ...arrowMarks(this.view, {
          edges: (lane) => this.edgesOf(lane),
          share: (time) => this.share(time),
        }),
        ...(named ? lanes.lanes.map(({ robot }, i) => this.laneName(robot, this.tops[i]!)) : []),
      ],
      height: this.height,
      names: this.tops,
    };
  }

  private share(time: number): number {
    const { start, end } = this.view.window;
    return Math.min(1, Math.max(0, (time - start) / (end - start)));
  }

  /** Where arrows meet a lane: above its stages and below its activities. */
  private edgesOf(lane: number): readonly [number, number] {
    const top = this.tops[lane]! + ROW.name;
    return [top, top + ROW.stage + ROW.gap + ROW.box];
  }

  private axis(): string[] {
    const { window, across, theme } = this.view;
    const perPixel = (window.end - window.start) / across.pixels;
    const step = TIME_STEPS.find((seconds) => seconds / perPixel >= TICK) ?? window.end - window.start;
    const first = Math.ceil(window.start / step - 1e-9);
    const marks: string[] = [];
    for (let i = first; i * step <= window.end + 1e-9; i += 1) {
      const share = this.share(i * step);
      marks.push(lineAcross(across, [share, 4], [share, this.height], theme.paint('rule')));
      if ((1 - share) * across.pixels < 64) continue;
      const spaced = {
        ...theme.paint('small'),
        'font-size': TEXT,
        'data-room': theme.marks === 'picked' ? TICK + 14 : undefined,
      };
      const label = words(4, 16, timeName(i * step), spaced);
      marks.push(placed(across.at(share), 0, label));
    }
    return marks;
  }

  /** Over the arrows, which may pass where it stands. */
  private laneName(robot: string, top: number): string {
    const { theme, across } = this.view;
    const text = clipped(plain(robot), 40);
    const ground = { x: -4, y: 3, width: textWidth(text, 14) + 8, height: 19 };
    return placed(
      across.at(0),
      top,
      element('rect', { ...ground, ...theme.paint('halo') }),
      words(0, 17, text, { ...theme.paint('strong'), 'font-size': 14 }),
    );
  }

  private lane(lane: Lane, top: number): string[] {
    const { theme, across } = this.view;
    const end = this.share(this.view.lanes.makespan);
    const at = top + ROW.name + ROW.stage + ROW.gap;
    const seen = <S extends Span>(spans: readonly S[]): S[] =>
      spans.filter((span) => span.end > this.view.window.start && span.start < this.view.window.end);
    return [
      lineAcross(across, [0, at + ROW.box], [end, at + ROW.box], theme.paint('rule')),
      ...seen(lane.stages).map((stage, i) => this.stage(lane, stage, i, top + ROW.name)),
      ...seen(lane.activities).map((activity) => this.activity(lane, activity, at)),
      ...seen(lane.holds).map((hold) =>
        this.bar(hold, at + ROW.box + 3, 'hold', `holds ${plain(hold.part)}`, {
          'data-hold': String(hold.stage),
        }),
      ),
      ...seen(lane.ahead).map((span) =>
        this.bar(
          span,
          at + ROW.box + 3 + (lane.holds.length > 0 ? ROW.bar : 0),
          'ahead',
          `fetched ahead for stage ${span.stage}, while stage ${span.tacked} is tacked`,
          { 'data-ahead': String(span.stage) },
        ),
      ),
    ];
  }

  private width({ start, end }: Span): number {
    return this.share(end) - this.share(start);
  }

  private stage({ robot }: Lane, span: Lane['stages'][number], order: number, y: number): string {
    const { across, theme, partOf } = this.view;
    const from = across.at(this.share(span.start));
    const room = Math.floor((this.width(span) * across.pixels - 10) / 8);
    const full = `${span.stage} ${plain(partOf(span.stage))}`;
    const least = String(span.stage).length;
    const text = room < least ? '' : room < least + 5 ? String(span.stage) : clipped(full, room);
    const box = { x: from, y, width: across.length(this.width(span)), height: ROW.stage };
    const name = `${plain(robot)}: stage ${full}, from ${secondsText(span.start)} to ${secondsText(span.end)}`;
    return mark(
      theme,
      name,
      { ...picking(theme, `stage:${span.stage}`, span.start), 'data-stage': String(span.stage) },
      element('rect', { ...box, ...theme.paint(order % 2 === 0 ? 'band' : 'other-band') }),
      text === ''
        ? ''
        : element('svg', box, words(4, 14.5, text, { ...theme.paint('word'), 'font-size': TEXT })),
    );
  }

  private activity(lane: Lane, activity: LaneActivity, y: number): string {
    const { across, theme, id } = this.view;
    const { what, start, end, step, critical } = activity;
    const { group } = kindOf(what);
    const [x, width] = [across.at(this.share(start)), across.length(this.width(activity))];
    const name = activityName(plain(lane.robot), { ...activity, what: plain(what) });
    const hatch = hatchId(group, id);
    const label = fittingLabel(what, end - start, this.width(activity) * across.pixels);
    return mark(
      theme,
      name,
      {
        ...picking(theme, step === undefined ? undefined : `step:${lane.program}.${step}`, start),
        ...{ 'data-what': what, 'data-start': String(start), 'data-end': String(end) },
        'data-critical': critical ? 'yes' : undefined,
      },
      // Its place is said once; the label is chosen to fit, and nothing else is larger.
      element(
        'svg',
        { x, y, width, height: ROW.box, overflow: 'visible' },
        element('rect', { ...WHOLE, ...theme.paint(group) }),
        hatch === undefined ? '' : element('rect', { ...WHOLE, fill: `url(#${hatch})` }),
        critical ? this.thickEdges() : '',
        theme.marks === 'seen' && label === ''
          ? ''
          : element('text', { x: 5, y: 23, ...theme.paint('word'), 'font-size': TEXT }, escaped(label)),
      ),
    );
  }

  /** Above and below only: sides as thick would blacken what takes a second. */
  private thickEdges(): string {
    const paint = this.view.theme.paint('critical');
    return [undefined, ROW.box].map((y) => element('line', { x2: '100%', y1: y, y2: y, ...paint })).join('');
  }

  private bar(
    span: Span,
    y: number,
    role: 'hold' | 'ahead',
    text: string,
    attributes: Readonly<Record<string, string>>,
  ): string {
    const { across, theme } = this.view;
    const [x, width] = [across.at(this.share(span.start)), across.length(this.width(span))];
    const thick = role === 'hold' ? 5 : 6;
    const name = `${text}, from ${secondsText(span.start)} to ${secondsText(span.end)}`;
    const room = Math.floor((this.width(span) * across.pixels) / 6.4);
    const label = role === 'hold' ? text : 'fetched ahead';
    return mark(
      theme,
      name,
      { ...attributes, 'data-start': String(span.start), 'data-end': String(span.end) },
      element('rect', { x, y: y + 0.5, width, height: thick, ...theme.paint(role) }),
      room < label.length + 3 && room < 8
        ? ''
        : element(
            'svg',
            { x, y: y + thick, width, height: 14 },
            words(5, 10.5, clipped(label, Math.max(4, room)), { ...theme.paint('small'), 'font-size': 12 }),
          ),
    );
  }
}

function laneHeight({ holds, ahead }: Lane): number {
  const bars = (holds.length > 0 ? 1 : 0) + (ahead.length > 0 ? 1 : 0);
  return ROW.name + ROW.stage + ROW.gap + ROW.box + bars * (ROW.bar + 4);
}

const WINDOW = { pixels: 760, perSecond: 6, most: 8 } as const;
/** Windows last a multiple of this, seconds. */
const STEP = 10;

/** The windows in which a timeline is shown where nobody can scroll, each about two minutes unless it is very long. */
export function timelineWindows(makespan: number): readonly Span[] {
  const count = Math.min(WINDOW.most, Math.max(1, Math.ceil((makespan * WINDOW.perSecond) / WINDOW.pixels)));
  const length = Math.ceil(makespan / count / STEP - 1e-9) * STEP;
  return Array.from({ length: count }, (_, i) => ({ start: i * length, end: (i + 1) * length }));
}

/** How wide a window is drawn, with a margin on either side. */
export const windowAcross = (): Across => fixedAcross(10, WINDOW.pixels);
export const WINDOW_WIDTH = WINDOW.pixels + 20;

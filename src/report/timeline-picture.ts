import type { GeometricPlan } from '../model/plan.js';
import { duration, tenthsOf } from './numbers.js';
import { PAPER } from './palette.js';
import { plain } from './plain.js';
import { picture, words } from './svg.js';
import { ON_PAPER, type Theme } from './theme.js';
import { legendEntries, legendRows } from './timeline-legend.js';
import { lanesOf, type Lanes } from './timeline-lanes.js';
import { TimelinePainter, timelineWindows, windowAcross, WINDOW_WIDTH } from './timeline-svg.js';
import { element } from './xml.js';

/** Name of the part of a stage of a plan; empty where there is no such stage. */
export const partNames = ({ stages }: Pick<GeometricPlan, 'stages'>): ((stage: number) => string) => {
  const names = new Map(stages.map(({ number, part }) => [number, part]));
  return (stage) => names.get(stage) ?? '';
};

/** A timeline in windows below one another, each as wide as a sheet of paper: where nobody can scroll. */
export function windowsOf(
  lanes: Lanes,
  plan: Pick<GeometricPlan, 'stages'>,
  theme: Theme,
  id: string,
): readonly { readonly content: readonly string[]; readonly height: number }[] {
  const partOf = partNames(plan);
  return timelineWindows(lanes.makespan).map((window, i) => {
    const across = windowAcross();
    return new TimelinePainter({ lanes, window, across, theme, id: `${id}${i}`, partOf }).drawing(true);
  });
}

/** The timeline of a plan as a picture of its own; undefined where nothing takes time. */
export function timelinePicture(plan: GeometricPlan): string | undefined {
  const lanes = lanesOf(plan);
  if (lanes.makespan <= 0) return undefined;
  const theme = ON_PAPER;
  const windows = windowsOf(lanes, plan, theme, 'timeline');
  const title = `${plain(plan.weldment.name)}: timeline, ${duration(tenthsOf(lanes.makespan))}`;
  let y = 50;
  const content = windows.map((window) => {
    const group = element('g', { transform: `translate(0 ${y})` }, ...window.content);
    y += window.height + 26;
    return group;
  });
  const entries = legendEntries(lanes, theme, 'timeline0');
  const legend = legendRows(entries, theme, [10, y], WINDOW_WIDTH - 20);
  return picture([WINDOW_WIDTH, y + legend.height + 6], title, PAPER.ground, [
    words(10, 28, title, { ...theme.paint('strong'), 'font-size': 17 }),
    ...content,
    ...legend.content,
  ]);
}

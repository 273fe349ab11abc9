/** From the first to before the last; at least one long. */
export interface Interval {
  readonly from: number;
  readonly to: number;
}

/**
 * A colour, counted from 0, for each interval, so that those of one colour do not overlap; with as few colours as
 * there can be: as many as intervals overlap somewhere. Each in the order of its beginning takes the first colour free.
 */
export function colourIntervals(intervals: readonly Interval[]): number[] {
  const order = intervals.map((_, i) => i).sort((i, j) => intervals[i]!.from - intervals[j]!.from || i - j);
  const freeFrom: number[] = [];
  const colours = intervals.map(() => 0);
  for (const i of order) {
    const { from, to } = intervals[i]!;
    const free = freeFrom.findIndex((end) => end <= from);
    const colour = free < 0 ? freeFrom.length : free;
    colours[i] = colour;
    freeFrom[colour] = to;
  }
  return colours;
}

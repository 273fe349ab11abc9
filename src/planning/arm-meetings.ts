import { CrossingOrder } from '../algorithms/crossing-order.js';
import { coursesApart, STRETCHES, TORCH_STRETCHES, type ArmCourse } from './arms-apart.js';
import { inWorkZone } from './in-work-zone.js';
import { durationsOf, eventAt, type RawPrograms } from './programs.js';
import type { StepDraft } from './steps.js';

/**
 * Steps of a robot, `first` to `last`, in which its arm is in the way of another; `before` and `after`: also while it
 * stands before the first, or after the last, for as long as that may be.
 */
export interface Stretch {
  readonly robot: number;
  readonly first: number;
  readonly last: number;
  readonly before: boolean;
  readonly after: boolean;
}

/** Two robots whose arms may meet while both are in their stretches: one has to be done before the other begins. */
export type ArmMeeting = readonly [Stretch, Stretch];

/** Numbers of the first and the last item that belong to something. */
type Range = readonly [number, number];

/** A step (item 2 k + 1 for step k), or the standing before it (item 2 k), as an arm takes up room. */
interface Item {
  readonly course: ArmCourse;
  /** Stages of the step, or of the steps before and after. */
  readonly stages: Range;
  readonly inWork: boolean;
}

/**
 * All meetings of arms that the precedences of the work leave possible. Pairs of items that may be at the same time and
 * come too near are cells of a grid. Cells that touch along a side belong to one meeting, so that a robot between two
 * meetings stands where it is in nobody's way. A meeting is the whole box around its cells: errs on the side of waiting.
 */
export class ArmMeetings {
  private readonly known = new Map<ArmCourse, Map<ArmCourse, boolean>>();

  constructor(private readonly clearance: number) {}

  /** No two welding robots are planned to be at the weldment together. */
  of({ programs, precedences, robots }: RawPrograms): readonly ArmMeeting[] {
    const order = CrossingOrder.of(
      durationsOf(programs),
      precedences.map(({ from, to }) => ({ from: eventAt(from), to: eventAt(to) })),
    );
    if (order === undefined) throw new Error('the robots would wait for each other');
    const items = programs.map(itemsOf);
    return programs.flatMap((_, robot) =>
      programs.slice(robot + 1).flatMap((__, k): ArmMeeting[] => {
        const other = robot + 1 + k;
        // A robot that does nothing has no steps to wait with.
        if (items[other]!.length === 0) return [];
        const torches = robot >= robots.handlers;
        const grid = new Grid(items[robot]!, items[other]!, (a, b) =>
          !torches && plannedTogether(a, b) ? PLANNED : this.meet(a, b, torches) ? MEETS : CLEAR,
        );
        items[robot]!.forEach((___, i) => grid.fillRow(i, windowOf(order, robot, i, other)));
        return grid.boxes().map(({ rows, columns }) => [stretchOf(robot, rows), stretchOf(other, columns)]);
      }),
    );
  }

  /** Whether two courses come too near, asked once for each pair. */
  private meet({ course: a }: Item, { course: b }: Item, torches: boolean): boolean {
    let row = this.known.get(a);
    if (!row) this.known.set(a, (row = new Map()));
    let meets = row.get(b);
    if (meets === undefined) {
      const stretches = torches ? TORCH_STRETCHES : STRETCHES;
      row.set(b, (meets = !coursesApart(a, b, this.clearance, stretches)));
    }
    return meets;
  }
}

/** Who is in the work zone with another at one stage was planned so: it holds what is tacked or joined. */
const plannedTogether = (a: Item, b: Item): boolean =>
  a.inWork && b.inWork && a.stages[0] <= b.stages[1] && b.stages[0] <= a.stages[1];

/** The items of another robot that may be at the same time as an item. */
function windowOf(order: CrossingOrder, robot: number, item: number, other: number): Range {
  const index = Math.floor((item - 1) / 2);
  const over = order.overBefore({ program: robot, event: index }, other);
  const next = item % 2 === 0 ? index + 1 : index;
  return [2 * over, 2 * order.firstAfter({ program: robot, event: next }, other)];
}

const UNASKED = 0;
const CLEAR = 1;
const MEETS = 2;
const PLANNED = 3;

/** The cells of two robots: items of the one in rows, of the other in columns. */
class Grid {
  private readonly cells: Uint8Array;

  constructor(
    private readonly rows: readonly Item[],
    private readonly columns: readonly Item[],
    private readonly judge: (a: Item, b: Item) => number,
  ) {
    this.cells = new Uint8Array(rows.length * columns.length);
  }

  fillRow(row: number, [from, to]: Range): void {
    for (let column = from; column <= to; column += 1) {
      // Where both stand, at least one has come: that step is asked for.
      if (row % 2 === 0 && column % 2 === 0) continue;
      this.cells[row * this.columns.length + column] = this.clearWhileMoving(row, column)
        ? CLEAR
        : this.judge(this.rows[row]!, this.columns[column]!);
    }
  }

  /** Whoever stands is where its step before has ended; but what it has at its flange may be another by then. */
  private clearWhileMoving(row: number, column: number): boolean {
    const alike = (items: readonly Item[], i: number): boolean =>
      i % 2 === 0 && i > 0 && items[i]!.course.body === items[i - 1]!.course.body;
    if (alike(this.rows, row)) return this.at(row - 1, column) === CLEAR;
    if (alike(this.columns, column)) return this.at(row, column - 1) === CLEAR;
    return false;
  }

  private at(row: number, column: number): number {
    if (row < 0 || column < 0 || row >= this.rows.length || column >= this.columns.length) return UNASKED;
    return this.cells[row * this.columns.length + column]!;
  }

  /** A box around each set of cells that touch along their sides, in the order of rows, then columns. */
  boxes(): readonly { readonly rows: Range; readonly columns: Range }[] {
    const width = this.columns.length;
    const seen = new Set<number>();
    const found: { readonly rows: Range; readonly columns: Range }[] = [];
    for (let cell = 0; cell < this.cells.length; cell += 1) {
      if (this.cells[cell] !== MEETS || seen.has(cell)) continue;
      const component = [cell];
      seen.add(cell);
      for (const at of component) {
        const [row, column] = [Math.floor(at / width), at % width];
        for (const [r, c] of [
          [row - 1, column],
          [row + 1, column],
          [row, column - 1],
          [row, column + 1],
        ] as const) {
          const next = r * width + c;
          if (this.at(r, c) !== MEETS || seen.has(next)) continue;
          seen.add(next);
          component.push(next);
        }
      }
      found.push({
        rows: rangeOf(component.map((at) => Math.floor(at / width))),
        columns: rangeOf(component.map((at) => at % width)),
      });
    }
    return found;
  }
}

const rangeOf = (numbers: readonly number[]): Range =>
  numbers.reduce<Range>(
    ([low, high], one) => [Math.min(low, one), Math.max(high, one)],
    [Infinity, -Infinity],
  );

const stretchOf = (robot: number, [from, to]: Range): Stretch => ({
  robot,
  first: Math.floor(from / 2),
  last: Math.ceil(to / 2) - 1,
  before: from % 2 === 0,
  after: to % 2 === 0,
});

const STANDINGS = new WeakMap<ArmCourse, { first?: ArmCourse; last?: ArmCourse }>();

/** Standing where a course begins or ends. */
function standing(course: ArmCourse, end: 'first' | 'last'): ArmCourse {
  let ends = STANDINGS.get(course);
  if (!ends) STANDINGS.set(course, (ends = {}));
  const { body, way } = course;
  return (ends[end] ??= { body, way: [end === 'first' ? way[0]! : way.at(-1)!] });
}

/** The steps of a robot and where it stands before, between and after them. */
function itemsOf(steps: readonly StepDraft[]): readonly Item[] {
  const zone = inWorkZone(steps.map(({ step }) => step));
  const items = steps.flatMap(({ step: { stage }, room }, i): Item[] => {
    const { before, after } = zone[i]!;
    const stages = [steps[i - 1]?.step.stage ?? stage, stage] as const;
    return [
      { course: standing(room, 'first'), stages, inWork: before },
      { course: room, stages: [stage, stage], inWork: before || after },
    ];
  });
  const last = steps.at(-1);
  if (last === undefined) return items;
  const { stage } = last.step;
  const inWork = zone.at(-1)!.after;
  return [...items, { course: standing(last.room, 'last'), stages: [stage, stage], inWork }];
}

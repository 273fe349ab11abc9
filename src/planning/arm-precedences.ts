import { fail, ok, type Result } from '../base/result.js';
import { coursesApart, STRETCHES, TORCH_STRETCHES, type ArmCourse } from './arms-apart.js';
import type { Precedence, ProgramPoint, RawPrograms, RobotCounts } from './programs.js';
import type { StepDraft } from './steps.js';

/** A step of a robot, or the wait before one, as it takes up room. */
interface Item {
  readonly robot: number;
  /** Of the step, or of the one that is waited for. */
  readonly index: number;
  readonly waits: boolean;
  readonly stage: number;
  /** Whether it is done in the work zone. */
  readonly inWork: boolean;
  readonly course: ArmCourse;
  /** How many items of every robot are surely over when this one is. */
  readonly clock: readonly number[];
}

/** What a robot does, or where it stands. */
type Placed = Pick<Item, 'robot' | 'course'>;

/** Two robots whose arms might meet, at the later of their stages, and that no wait keeps apart. */
export interface ArmMeeting {
  readonly stage: number;
  readonly robots: readonly [number, number];
}

/** More waits than this are not added. */
const MOST_WAITS = 40;

/**
 * Adds to the precedences of the work those that keep arms apart: where steps of two robots may be at the same time and
 * their arms come too near, the robot of the later stage waits, where it stands clear, until the other is done with the
 * earlier stage. Of two welding robots that meet in one stage the later of the cell waits. Fails with other robots that
 * meet in one stage, or that no wait tells apart.
 */
export function withArmPrecedences(
  raw: RawPrograms,
  clearance: number,
  names: readonly string[],
): Result<RawPrograms, ArmMeeting> {
  const meetings = new Meetings(clearance, raw.robots);
  let { precedences } = raw;
  for (;;) {
    const meeting = firstMeeting(itemsOf(raw.programs, precedences), meetings, raw.robots);
    if (meeting === undefined) return ok({ ...raw, precedences });
    const torches = areTorches(meeting, raw.robots) && meeting[0].stage === meeting[1].stage;
    const added = torches
      ? torchPrecedence(raw.programs, meeting, meetings, names)
      : precedenceFor(raw.programs, meeting, names);
    const [{ robot: one }, { robot: other, stage }] = meeting;
    if (added === undefined || precedences.length >= raw.precedences.length + MOST_WAITS)
      return fail({ stage, robots: [one, other] });
    precedences = [...precedences, added];
  }
}

/** Whether the arms of two items come too near, asked once for each pair of steps. */
class Meetings {
  private readonly known = new Map<ArmCourse, Map<ArmCourse, boolean>>();

  constructor(
    private readonly clearance: number,
    private readonly robots: RobotCounts,
  ) {}

  meet(a: Placed, b: Placed): boolean {
    let row = this.known.get(a.course);
    if (!row) this.known.set(a.course, (row = new Map()));
    let meets = row.get(b.course);
    if (meets === undefined) {
      const stretches = areTorches([a, b], this.robots) ? TORCH_STRETCHES : STRETCHES;
      meets = !coursesApart(a.course, b.course, this.clearance, stretches);
      row.set(b.course, meets);
    }
    return meets;
  }
}

function firstMeeting(
  items: readonly (readonly Item[])[],
  apart: Meetings,
  robots: RobotCounts,
): readonly [Item, Item] | undefined {
  for (const [robot, own] of items.entries())
    for (const others of items.slice(robot + 1))
      for (const [i, a] of own.entries())
        for (const [j, b] of others.entries()) {
          const before = j > 0 && others[j - 1]!.clock[a.robot]! > i;
          const after = i > 0 && own[i - 1]!.clock[b.robot]! > j;
          if (before || after) continue;
          // Who is in the work zone with another at one stage was planned so: it holds what is tacked or joined.
          // Nobody planned how two torches keep clear of one another.
          if (a.inWork && b.inWork && a.stage === b.stage && !areTorches([a, b], robots)) continue;
          if (apart.meet(a, b)) return a.stage <= b.stage ? [a, b] : [b, a];
        }
  return undefined;
}

const areTorches = (items: readonly Placed[], { handlers }: RobotCounts): boolean =>
  items.every(({ robot }) => robot >= handlers);

/** Indices of the steps from the one by which a robot enters the work zone for a step to that by which it leaves. */
function stayAround(steps: readonly StepDraft[], index: number): readonly number[] {
  const enter = steps.findLastIndex(({ step }, i) => i <= index && step.do === 'enter');
  const leave = steps.findIndex(({ step }, i) => i >= index && step.do === 'leave');
  return Array.from({ length: leave - enter + 1 }, (_, i) => enter + i);
}

/**
 * Of two welding robots that meet in one stage the later of the cell waits until the other is done with that phase of
 * it: before the step that meets it, or an earlier one, where it stands clear of all that the other does there. Before the
 * first it stands at home, which every motion of the other is clear of.
 */
function torchPrecedence(
  programs: readonly (readonly StepDraft[])[],
  [first, second]: readonly [Item, Item],
  apart: Meetings,
  names: readonly string[],
): Precedence | undefined {
  const [own, waiting] = [programs[first.robot]!, programs[second.robot]!];
  const theirs = stayAround(own, first.index);
  const places = stayAround(waiting, second.index).filter((index) => index <= second.index);
  const clearAt = (index: number): boolean =>
    theirs.every(
      (i) =>
        !apart.meet(
          { robot: first.robot, course: own[i]!.room },
          { robot: second.robot, course: startOf(waiting[index]!.room) },
        ),
    );
  const index = places.findLast(clearAt);
  if (index === undefined) return undefined;
  const [one, other] = [names[first.robot]!, names[second.robot]!];
  return {
    from: { robot: first.robot, index: theirs.at(-1)! },
    to: { robot: second.robot, index },
    meaning: `${one} done with its tacks`,
    guards: `the arms of ${one} and ${other} would meet`,
  };
}

/** The robot of the later stage waits before its step until the other is done with its stage. */
function precedenceFor(
  programs: readonly (readonly StepDraft[])[],
  [earlier, later]: readonly [Item, Item],
  names: readonly string[],
): Precedence | undefined {
  if (earlier.stage >= later.stage) return undefined;
  const index = programs[earlier.robot]!.findLastIndex(({ step }) => step.stage <= earlier.stage);
  // A wait where arms meet is moved to before the step that led there, but not into the stage that is waited for.
  const at = later.waits ? later.index - 1 : later.index;
  if (at < 0 || programs[later.robot]![at]!.step.stage <= earlier.stage) return undefined;
  const [one, other] = [names[earlier.robot]!, names[later.robot]!];
  return {
    from: { robot: earlier.robot, index },
    to: { robot: later.robot, index: at },
    meaning: `${one} done with stage ${earlier.stage}`,
    guards: `the arms of ${one} and ${other} would meet`,
  };
}

/** The steps of all robots with the waits before them, and what is over when. */
function itemsOf(
  programs: readonly (readonly StepDraft[])[],
  precedences: readonly Precedence[],
): readonly (readonly Item[])[] {
  const clocks = new Clocks(programs, precedences);
  while (programs.map((_, robot) => clocks.runOn(robot)).includes(true));
  return clocks.items;
}

/** Vector clocks over steps and waits: of each the number of items of every robot that are over with it. */
class Clocks {
  readonly items: readonly Item[][];
  /** By robot and step. */
  private readonly ends: readonly (readonly number[])[][];
  private readonly sources = new Map<string, ProgramPoint[]>();
  private readonly inWork: readonly (readonly boolean[])[];

  constructor(
    private readonly programs: readonly (readonly StepDraft[])[],
    precedences: readonly Precedence[],
  ) {
    this.items = programs.map(() => []);
    this.ends = programs.map(() => []);
    this.inWork = programs.map(workSteps);
    for (const { from, to } of precedences) {
      const key = `${to.robot} ${to.index}`;
      this.sources.set(key, [...(this.sources.get(key) ?? []), from]);
    }
  }

  /** Goes on with one robot until it is done or waits for a step that is not over; whether it did anything. */
  runOn(robot: number): boolean {
    const begin = this.ends[robot]!.length;
    while (this.ends[robot]!.length < this.programs[robot]!.length && this.next(robot));
    return this.ends[robot]!.length > begin;
  }

  private next(robot: number): boolean {
    const index = this.ends[robot]!.length;
    const over: (readonly number[])[] = [];
    for (const from of this.sources.get(`${robot} ${index}`) ?? []) {
      const clock = this.ends[from.robot]![from.index];
      if (clock === undefined) return false;
      over.push(clock);
    }
    const { room } = this.programs[robot]![index]!;
    if (over.length > 0) this.add(robot, index, true, startOf(room), over);
    this.add(robot, index, false, room, []);
    this.ends[robot]!.push(this.items[robot]!.at(-1)!.clock);
    return true;
  }

  private add(
    robot: number,
    index: number,
    waits: boolean,
    course: ArmCourse,
    over: readonly (readonly number[])[],
  ): void {
    const own = this.items[robot]!;
    const known = own.length > 0 ? [own.at(-1)!.clock, ...over] : over;
    const clock = this.programs.map((_, other) =>
      other === robot ? own.length + 1 : Math.max(0, ...known.map((one) => one[other]!)),
    );
    const { stage } = this.programs[robot]![index]!.step;
    own.push({ robot, index, waits, stage, inWork: this.inWork[robot]![index]!, course, clock });
  }
}

const STARTS = new WeakMap<ArmCourse, ArmCourse>();

/** Standing where a course begins. */
function startOf(course: ArmCourse): ArmCourse {
  let start = STARTS.get(course);
  if (!start) STARTS.set(course, (start = { body: course.body, way: [course.way[0]!] }));
  return start;
}

/** For each step whether its robot is in the work zone. */
function workSteps(steps: readonly StepDraft[]): readonly boolean[] {
  let inside = false;
  return steps.map(({ step }) => {
    const was = inside;
    if (step.do === 'enter' && step.zone === 'work') inside = true;
    if (step.do === 'leave' && step.zone === 'work') inside = false;
    return was || inside;
  });
}

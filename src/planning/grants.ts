import { Budget } from '../base/budget.js';
import { slug } from '../base/identifier.js';
import { fail, ok, type Result } from '../base/result.js';
import { leastMakespan } from '../algorithms/disjunctive.js';
import type { Arc, DisjunctiveProblem, Span } from '../algorithms/disjunctive-problem.js';
import type { ArmMeeting, Stretch } from './arm-meetings.js';
import {
  durationsOf,
  type Precedence,
  type ProgramPoint,
  type RawPrograms,
  type StationStay,
  type Words,
} from './programs.js';

/** Steps of the scheduler for one order of the parts; it ends with a bound where they do not suffice. */
const MOST_STEPS = 20_000;

/** Steps of a robot that take something for themselves. */
type Use = Pick<Stretch, 'robot' | 'first' | 'last'>;

/** What robots take one after the other; who goes first is a choice of the timeline. */
interface Shared {
  readonly uses: readonly Use[];
  /** What the signal means and guards when a use is over and another, by its place in the list, may begin. */
  granted(earlier: number, later: number): Words;
}

/** The programs with what is granted in which order, and what is proved of the makespan. */
export interface GrantedPrograms extends RawPrograms {
  /** Whole milliseconds. */
  readonly makespan: number;
  /** No order in which the shared is granted ends earlier; whole milliseconds. */
  readonly bound: number;
  /** Between how many pairs of uses there was a choice. */
  readonly choices: number;
  /** What was solved, for whoever wants to solve it again by other means. */
  readonly problem: DisjunctiveProblem;
}

/** Two robots of which neither can let the other go first, at the later of their stages. */
export interface Deadlock {
  readonly stage: number;
  readonly robots: readonly [number, number];
}

/**
 * Decides who goes first wherever robots share something: at infeed and regrip table, and wherever their arms would
 * meet. Least makespan by branch and bound on the disjunctive graph (Carlier and Pinson 1989), programs and the
 * precedences of the work being given. Fails where every choice would make robots wait for each other.
 */
export function grant(
  raw: RawPrograms,
  meetings: readonly ArmMeeting[],
  names: readonly string[],
): Result<GrantedPrograms, Deadlock> {
  const network = new Network(raw, names);
  const solved = network.solve(meetings);
  return solved ? ok(solved) : fail(network.deadlock(meetings));
}

class Network {
  /** Number of the first operation of each robot. */
  private readonly offsets: readonly number[];
  private readonly durations: readonly number[];
  private readonly arcs: readonly Arc[];

  constructor(
    private readonly raw: RawPrograms,
    private readonly names: readonly string[],
  ) {
    const { programs, precedences } = raw;
    this.offsets = programs.map((_, robot) =>
      programs.slice(0, robot).reduce((sum, steps) => sum + steps.length, 0),
    );
    this.durations = durationsOf(programs).flat();
    this.arcs = [
      ...programs.flatMap((steps, robot) =>
        steps
          .slice(1)
          .map((_, index) => this.arc({ from: { robot, index }, to: { robot, index: index + 1 } })),
      ),
      ...precedences.map((one) => this.arc(one)),
    ];
  }

  /** Undefined where no choice leaves all robots able to go on. */
  solve(meetings: readonly ArmMeeting[]): GrantedPrograms | undefined {
    const shared = [...this.stations()];
    const given: Precedence[] = [];
    for (const meeting of meetings) {
      const orders = possibleOrders(meeting);
      if (orders.length === 0) return undefined;
      if (orders.length === 1) given.push(precedence(...orders[0]!, this.outOfTheWay(...orders[0]!)));
      else shared.push(this.choice(meeting));
    }
    const { raw } = this;
    const problem: DisjunctiveProblem = {
      durations: this.durations,
      arcs: [...this.arcs, ...given.map((one) => this.arc(one))],
      resources: shared.map(({ uses }) => ({ spans: uses.map((use) => this.span(use)) })),
    };
    const report = leastMakespan(problem, { budget: new Budget({ steps: MOST_STEPS }) });
    const { best } = report;
    if (best === undefined) return undefined;
    const chosen = shared.flatMap((one, i) => precedencesOf(one, best.orders[i]!));
    return {
      ...raw,
      precedences: [...raw.precedences, ...given, ...chosen],
      makespan: best.makespan,
      bound: report.bound,
      problem,
      choices: shared.reduce((sum, { uses }) => sum + pairs(uses), 0),
    };
  }

  /** Where the meetings of the first stages alone leave no choice, for the least number of stages. */
  deadlock(meetings: readonly ArmMeeting[]): Deadlock {
    const stages = meetings.map((meeting) => Math.max(...meeting.map((stretch) => this.stageOf(stretch))));
    const last = [...new Set(stages)].sort((a, b) => a - b);
    const stage =
      last.find((most) => this.solve(meetings.filter((_, i) => stages[i]! <= most)) === undefined) ??
      Math.max(0, ...last);
    const [one, other] = meetings.find((_, i) => stages[i] === stage)!;
    return { stage, robots: [one.robot, other.robot] };
  }

  private stageOf({ robot, first }: Stretch): number {
    const steps = this.raw.programs[robot]!;
    return steps[Math.min(first, steps.length - 1)]!.step.stage;
  }

  private operation({ robot, index }: ProgramPoint): number {
    return this.offsets[robot]! + index;
  }

  private arc({ from, to }: Pick<Precedence, 'from' | 'to'>): Arc {
    const before = this.operation(from);
    return { from: before, to: this.operation(to), lag: this.durations[before]! };
  }

  private span({ robot, first, last }: Use): Span {
    return {
      first: this.operation({ robot, index: first }),
      last: this.operation({ robot, index: last }),
    };
  }

  /** Infeed and regrip table, where several robots fetch. */
  private stations(): readonly Shared[] {
    const { stays } = this.raw;
    if (new Set(stays.map(({ robot }) => robot)).size < 2) return [];
    return [{ uses: stays, granted: (earlier, later) => stationsFree(stays[earlier]!, stays[later]!) }];
  }

  private choice(meeting: ArmMeeting): Shared {
    return {
      uses: meeting,
      granted: (earlier, later) => this.outOfTheWay(meeting[earlier]!, meeting[later]!),
    };
  }

  private outOfTheWay(earlier: Stretch, later: Stretch): Words {
    const [one, other] = [this.names[earlier.robot]!, this.names[later.robot]!];
    const place = placeAfter(this.raw, earlier);
    return {
      name: `${slug(one, 'robot')}-out-of-the-way`,
      meaning: `${one} at ${place}, out of the way of ${other}`,
      guards: `the arms of ${one} and ${other} would meet`,
    };
  }
}

const stationsFree = (earlier: StationStay, later: StationStay): Words => ({
  name: `${slug(earlier.part, 'part')}-fetched`,
  meaning: `${earlier.part} fetched, infeed and regrip table free`,
  guards: `two robots would meet at the infeed or the regrip table over ${later.part}`,
});

/**
 * The orders in which the two of a meeting may go: who is in the way before its first step must go first, and who is so
 * after its last step cannot.
 */
const possibleOrders = ([one, other]: ArmMeeting): readonly (readonly [Stretch, Stretch])[] =>
  (
    [
      [one, other],
      [other, one],
    ] as const
  ).filter(([first, second]) => !first.after && !second.before);

const precedence = (earlier: Use, later: Use, words: Words): Precedence => ({
  from: { robot: earlier.robot, index: earlier.last },
  to: { robot: later.robot, index: later.first },
  ...words,
});

/** Each use before the next in the order, unless program order says so. */
const precedencesOf = ({ uses, granted }: Shared, order: readonly number[]): readonly Precedence[] =>
  order.slice(1).flatMap((later, i) => {
    const earlier = order[i]!;
    const [one, other] = [uses[earlier]!, uses[later]!];
    return one.robot === other.robot ? [] : [precedence(one, other, granted(earlier, later))];
  });

/** Pairs of uses by different robots. */
const pairs = (uses: readonly Use[]): number =>
  uses.reduce(
    (sum, { robot }, i) => sum + uses.slice(i + 1).filter((other) => other.robot !== robot).length,
    0,
  );

/** Where a robot is after a stretch: the place of its last move up to there. */
function placeAfter({ programs }: RawPrograms, { robot, last }: Stretch): string {
  const steps = programs[robot]!.slice(0, last + 1);
  for (const { step } of steps.reverse()) if (step.do === 'move') return step.place;
  return 'home';
}

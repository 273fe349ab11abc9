import { Budget } from '../base/budget.js';
import { slug } from '../base/identifier.js';
import { fail, ok, type Result } from '../base/result.js';
import { leastMakespan } from '../algorithms/disjunctive.js';
import type { DisjunctiveProblem, Span } from '../algorithms/disjunctive-problem.js';
import type { ArmMeeting, Stretch } from './arm-meetings.js';
import type { Precedence, ProgramPoint, RawPrograms, StationStay } from './programs.js';

/** Nodes of the branch and bound for one order of the parts; it ends with a bound where they do not suffice. */
const MOST_NODES = 20_000;

type Words = Pick<Precedence, 'name' | 'meaning' | 'guards'>;

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
  private readonly arcs: DisjunctiveProblem['arcs'];

  constructor(
    private readonly raw: RawPrograms,
    private readonly names: readonly string[],
  ) {
    const { programs, precedences } = raw;
    this.offsets = programs.map((_, robot) =>
      programs.slice(0, robot).reduce((sum, steps) => sum + steps.length, 0),
    );
    const durations = programs.flatMap((steps) => steps.map(({ milliseconds }) => milliseconds));
    this.durations = durations;
    const arc = (from: ProgramPoint, to: ProgramPoint): DisjunctiveProblem['arcs'][number] => ({
      from: this.operation(from),
      to: this.operation(to),
      lag: durations[this.operation(from)]!,
    });
    this.arcs = [
      ...programs.flatMap((steps, robot) =>
        steps.slice(1).map((_, index) => arc({ robot, index }, { robot, index: index + 1 })),
      ),
      ...precedences.map(({ from, to }) => arc(from, to)),
    ];
  }

  /** Undefined where no choice leaves all robots able to go on. */
  solve(meetings: readonly ArmMeeting[]): GrantedPrograms | undefined {
    const shared = [...this.stations(), ...meetings.flatMap((meeting) => this.choice(meeting))];
    const forced = meetings.map(forcedOrder);
    if (forced.includes('none')) return undefined;
    const given = meetings.flatMap((meeting, i) => this.forcedPrecedence(meeting, forced[i]!));
    const { raw } = this;
    const problem: DisjunctiveProblem = {
      durations: this.durations,
      arcs: [
        ...this.arcs,
        ...given.map(({ from, to }) => ({
          from: this.operation(from),
          to: this.operation(to),
          lag: this.durations[this.operation(from)]!,
        })),
      ],
      resources: shared.map(({ uses }) => ({ spans: uses.map((use) => this.span(use)) })),
    };
    const report = leastMakespan(problem, { budget: new Budget({ steps: MOST_NODES }) });
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

  private choice(meeting: ArmMeeting): readonly Shared[] {
    if (forcedOrder(meeting) !== undefined) return [];
    return [
      {
        uses: meeting,
        granted: (earlier, later) => this.outOfTheWay(meeting[earlier]!, meeting[later]!),
      },
    ];
  }

  private forcedPrecedence(
    meeting: ArmMeeting,
    order: ReturnType<typeof forcedOrder>,
  ): readonly Precedence[] {
    if (order === undefined || order === 'none') return [];
    const [earlier, later] = order === 'as listed' ? meeting : [meeting[1], meeting[0]];
    return [precedence(earlier, later, this.outOfTheWay(earlier, later))];
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
 * A robot that is in the way before its first step must be done first, and one that is in the way after its last step
 * can never be; undefined where either may go first.
 */
function forcedOrder([one, other]: ArmMeeting): 'as listed' | 'the other first' | 'none' | undefined {
  const listed = !one.after && !other.before;
  const reversed = !other.after && !one.before;
  if (listed && reversed) return undefined;
  return listed ? 'as listed' : reversed ? 'the other first' : 'none';
}

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

import type { GeometricPlan, Step } from '../model/plan.js';

type Activity = GeometricPlan['timeline']['activities'][number];
type Program = GeometricPlan['programs'][number];

/** A stretch of time, seconds. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

export interface LaneActivity extends Activity {
  /** Number of its first step that takes time; undefined where the program has none there. */
  readonly step: number | undefined;
}

/** A part that a robot keeps still in its place, for a stage. */
export interface HoldSpan extends Span {
  readonly part: string;
  readonly stage: number;
}

/** A robot fetches the part of a stage while tacks of an earlier one are laid. */
export interface AheadSpan extends Span {
  readonly stage: number;
  readonly tacked: number;
}

/** What one robot is at. */
export interface Lane {
  readonly robot: string;
  /** Index of its program; -1: it has none. */
  readonly program: number;
  readonly activities: readonly LaneActivity[];
  /** Stages in the order in which it works for them, each from its first activity to its last. */
  readonly stages: readonly (Span & { readonly stage: number })[];
  readonly holds: readonly HoldSpan[];
  readonly ahead: readonly AheadSpan[];
}

/** A signal from one lane to a wait in another. */
export interface SignalArrow {
  /** Among the handshakes of the plan. */
  readonly index: number;
  readonly id: string;
  readonly name: string;
  readonly meaning: string;
  /** Index of the lane and when the signal is given. */
  readonly from: { readonly lane: number; readonly at: number };
  /** Index of the lane and when its wait is over. */
  readonly to: { readonly lane: number; readonly at: number };
  /** Seconds that the wait lasted. */
  readonly waited: number;
}

export interface Lanes {
  readonly lanes: readonly Lane[];
  readonly arrows: readonly SignalArrow[];
  /** Seconds. */
  readonly makespan: number;
}

type Timed = Pick<GeometricPlan, 'timeline' | 'programs' | 'handshakes'>;

const CLOSE = 1e-6;

/** From every step `hold` to the next `let-go` of the same part. */
function holdsOf(steps: readonly Step[]): HoldSpan[] {
  return steps.flatMap((step, i) => {
    if (step.do !== 'hold') return [];
    const over = steps.slice(i).find((later) => later.do === 'let-go' && later.part === step.part);
    const again = steps
      .slice(0, i)
      .some(
        (earlier, k) =>
          earlier.do === 'hold' &&
          earlier.part === step.part &&
          !steps.slice(k, i).some((between) => between.do === 'let-go' && between.part === step.part),
      );
    if (again) return [];
    return [{ part: step.part, stage: step.stage, start: step.start, end: (over ?? steps.at(-1)!).start }];
  });
}

function stagesOf(activities: readonly Activity[]): Lane['stages'] {
  const runs: { stage: number; start: number; end: number }[] = [];
  for (const { stage, start, end } of activities) {
    const last = runs.at(-1);
    if (last?.stage === stage) last.end = end;
    else if (stage > 0) runs.push({ stage, start, end });
  }
  return runs;
}

const FETCHED: ReadonlySet<string> = new Set(['fetch', 'regrip', 'locate', 'tool change']);

/** Where a robot fetches while another lays tacks of an earlier stage, neighbouring stretches as one. */
function aheadOf(own: readonly Activity[], all: readonly Activity[]): AheadSpan[] {
  const robots = new Set(own.map(({ robot }) => robot));
  const tacks = all.filter(({ what, robot }) => what === 'tack' && !robots.has(robot));
  const spans = own
    .filter(({ what }) => FETCHED.has(what))
    .flatMap(({ stage, start, end }) =>
      tacks
        .filter((tack) => tack.stage > 0 && tack.stage < stage)
        .map((tack) => ({
          ...{ stage, tacked: tack.stage },
          start: Math.max(start, tack.start),
          end: Math.min(end, tack.end),
        }))
        .filter((span) => span.end - span.start > CLOSE),
    )
    .sort((a, b) => a.start - b.start);
  const joined: { stage: number; tacked: number; start: number; end: number }[] = [];
  for (const span of spans) {
    const last = joined.at(-1);
    const goesOn = last?.stage === span.stage && last.tacked === span.tacked && span.start - last.end < CLOSE;
    if (goesOn) last.end = Math.max(last.end, span.end);
    else joined.push({ ...span });
  }
  return joined;
}

/** The first step of an activity that takes time. */
const firstStep = (steps: readonly Step[], { stage, start, end }: Activity): number | undefined =>
  steps.find(
    (step) =>
      step.stage === stage && step.end > step.start && step.start > start - CLOSE && step.end < end + CLOSE,
  )?.n;

function laneOf(robot: string, programs: readonly Program[], all: readonly Activity[]): Lane {
  const program = programs.findIndex((one) => one.robot === robot);
  const steps = programs[program]?.steps ?? [];
  const own = all.filter((activity) => activity.robot === robot).sort((a, b) => a.start - b.start);
  return {
    ...{ robot, program, stages: stagesOf(own), holds: holdsOf(steps), ahead: aheadOf(own, all) },
    activities: own.map((activity) => ({ ...activity, step: firstStep(steps, activity) })),
  };
}

/** What every robot is at, and which signals go between them; the robots in the order of their programs. */
export function lanesOf({ timeline, programs, handshakes }: Timed): Lanes {
  const { activities, makespan } = timeline;
  const named = programs.map(({ robot }) => robot);
  const robots = [...new Set([...named, ...activities.map(({ robot }) => robot)])];
  const stepOf = (end: { readonly robot: string; readonly step: number }): Step | undefined =>
    programs.find(({ robot }) => robot === end.robot)?.steps.find(({ n }) => n === end.step);
  const arrows = handshakes.flatMap(({ id, name, meaning, from, to }, index): SignalArrow[] => {
    const [signal, wait] = [stepOf(from), stepOf(to)];
    if (!signal || !wait) return [];
    return [
      {
        ...{ index, id, name, meaning, waited: wait.end - wait.start },
        from: { lane: robots.indexOf(from.robot), at: signal.end },
        to: { lane: robots.indexOf(to.robot), at: wait.end },
      },
    ];
  });
  return { lanes: robots.map((robot) => laneOf(robot, programs, activities)), arrows, makespan };
}

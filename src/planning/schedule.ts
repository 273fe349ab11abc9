import type { Step } from '../model/plan.js';
import type { Precedence, RawPrograms } from './programs.js';
import type { StepDraft } from './steps.js';

/** A handshake as the schedule places it; step numbers count from 1 in each robot's program. */
export interface PlacedHandshake {
  readonly id: string;
  readonly precedence: Precedence;
  readonly signalStep: number;
  readonly awaitStep: number;
}

export interface Schedule {
  readonly handler: readonly Step[];
  readonly welder: readonly Step[];
  readonly handshakes: readonly PlacedHandshake[];
  /** Whole milliseconds. */
  readonly makespan: number;
  /** Numbers of the steps on the critical path, by robot. */
  readonly critical: { readonly handler: ReadonlySet<number>; readonly welder: ReadonlySet<number> };
}

type Robot = 'handler' | 'welder';
type Draft = StepDraft & { readonly signal?: string; readonly wait?: string };

/** Puts a signal right after each source step and a wait right before each target step. */
function withSignals(
  robot: Robot,
  steps: readonly StepDraft[],
  needed: readonly (Precedence & { id: string })[],
): Draft[] {
  return steps.flatMap((draft, index) => {
    const { stage } = draft.step;
    const waits = needed.filter(({ to }) => to.robot === robot && to.index === index);
    const signals = needed.filter(({ from }) => from.robot === robot && from.index === index);
    return [
      ...waits.map(({ id }): Draft => ({
        step: { do: 'await', handshake: id, stage },
        milliseconds: 0,
        wait: id,
      })),
      draft,
      ...signals.map(({ id }): Draft => ({
        step: { do: 'signal', handshake: id, stage },
        milliseconds: 0,
        signal: id,
      })),
    ];
  });
}

interface Timed {
  readonly start: number;
  readonly end: number;
}

/** Earliest times: a step starts when the one before it ends; a wait ends no sooner than its signal. */
function earliest(programs: Readonly<Record<Robot, readonly Draft[]>>): Readonly<Record<Robot, Timed[]>> {
  const times: Record<Robot, Timed[]> = { handler: [], welder: [] };
  const sent = new Map<string, number>();
  const run = (robot: Robot): boolean => {
    let moved = false;
    for (let i = times[robot].length; i < programs[robot].length; i += 1) {
      const step = programs[robot][i]!;
      const start = times[robot].at(-1)?.end ?? 0;
      const signal = step.wait === undefined ? 0 : sent.get(step.wait);
      if (signal === undefined) break;
      const end = Math.max(start, signal) + step.milliseconds;
      times[robot].push({ start, end });
      if (step.signal !== undefined) sent.set(step.signal, end);
      moved = true;
    }
    return moved;
  };
  let moved = true;
  while (moved) {
    const first = run('handler');
    moved = run('welder') || first;
  }
  return times;
}

/** Steps without slack, walking back from the last end: to the step before, or over a wait to its signal. */
function criticalSteps(
  programs: Readonly<Record<Robot, readonly Draft[]>>,
  times: Readonly<Record<Robot, readonly Timed[]>>,
): Schedule['critical'] {
  const found = { handler: new Set<number>(), welder: new Set<number>() };
  const lastEnd = (robot: Robot): number => times[robot].at(-1)?.end ?? 0;
  let robot: Robot = lastEnd('handler') >= lastEnd('welder') ? 'handler' : 'welder';
  let index = times[robot].length - 1;
  while (index >= 0) {
    found[robot].add(index + 1);
    const { wait } = programs[robot][index]!;
    const { start, end } = times[robot][index]!;
    if (wait !== undefined && end > start) {
      robot = robot === 'handler' ? 'welder' : 'handler';
      index = programs[robot].findIndex(({ signal }) => signal === wait);
    } else index -= 1;
  }
  return found;
}

const steps = (drafts: readonly Draft[], times: readonly Timed[]): readonly Step[] =>
  drafts.map(({ step }, i) => ({
    ...step,
    n: i + 1,
    start: times[i]!.start / 1000,
    end: times[i]!.end / 1000,
  }));

/** Both programs with signals, waits and earliest times; the makespan is that of the longest chain of steps. */
export function schedule(raw: RawPrograms, needed: readonly Precedence[]): Schedule {
  const named = needed.map((precedence, i) => ({ ...precedence, id: `H${i + 1}` }));
  const programs = {
    handler: withSignals('handler', raw.handler, named),
    welder: withSignals('welder', raw.welder, named),
  };
  const times = earliest(programs);
  const place = (robot: Robot, key: 'signal' | 'wait', id: string): number =>
    programs[robot].findIndex((step) => step[key] === id) + 1;
  return {
    handler: steps(programs.handler, times.handler),
    welder: steps(programs.welder, times.welder),
    handshakes: named.map((precedence) => ({
      id: precedence.id,
      precedence,
      signalStep: place(precedence.from.robot, 'signal', precedence.id),
      awaitStep: place(precedence.to.robot, 'wait', precedence.id),
    })),
    makespan: Math.max(times.handler.at(-1)?.end ?? 0, times.welder.at(-1)?.end ?? 0),
    critical: criticalSteps(programs, times),
  };
}

import { criticalPath, type CriticalPath } from '../algorithms/critical-path.js';
import type { TimedStep } from './bare-step.js';
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
  /** Of each handling robot, then of each welding robot. */
  readonly programs: readonly (readonly TimedStep[])[];
  readonly handshakes: readonly PlacedHandshake[];
  /** Whole milliseconds. */
  readonly makespan: number;
  /** Numbers of the steps on the critical path, by program. */
  readonly critical: readonly ReadonlySet<number>[];
}

type Draft = Pick<StepDraft, 'step' | 'milliseconds'> & { readonly signal?: string; readonly wait?: string };

/** Puts a signal right after each source step and a wait right before each target step. */
function withSignals(
  robot: number,
  steps: readonly StepDraft[],
  needed: readonly (Precedence & { id: string })[],
): Draft[] {
  let at = 'home';
  return steps.flatMap((draft, index) => {
    const { stage } = draft.step;
    const waitsAt = at;
    if (draft.step.do === 'move') at = draft.step.place;
    const waits = needed.filter(({ to }) => to.robot === robot && to.index === index);
    const signals = needed.filter(({ from }) => from.robot === robot && from.index === index);
    return [
      ...waits.map(({ id }): Draft => ({
        step: { do: 'await', handshake: id, at: waitsAt, stage },
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

const idOf = (robot: number, index: number): string => `${robot} ${index}`;

/** The network of all programs: steps in their order, and every wait after its signal. */
function network(programs: readonly (readonly Draft[])[]): CriticalPath {
  const activities = programs.flatMap((steps, robot) =>
    steps.map(({ milliseconds }, index) => ({ id: idOf(robot, index), duration: milliseconds })),
  );
  const inOrder = programs.flatMap((steps, robot) =>
    steps.slice(1).map((_, index) => ({ from: idOf(robot, index), to: idOf(robot, index + 1) })),
  );
  const senders = new Map<string, string>();
  programs.forEach((steps, robot) =>
    steps.forEach(({ signal }, index) => {
      if (signal !== undefined) senders.set(signal, idOf(robot, index));
    }),
  );
  const waits = programs.flatMap((steps, robot) =>
    steps.flatMap(({ wait }, index) =>
      wait === undefined ? [] : [{ from: senders.get(wait)!, to: idOf(robot, index) }],
    ),
  );
  const path = criticalPath(activities, [...inOrder, ...waits]);
  if (!path.ok) throw new Error('the robots would wait for each other');
  return path.value;
}

/** The steps of one robot with their times: each starts when the one before it ends, a wait lasts until its signal. */
function timedSteps(
  robot: number,
  drafts: readonly Draft[],
  { earliestStart }: CriticalPath,
): readonly TimedStep[] {
  let before = 0;
  return drafts.map(({ step, milliseconds }, i) => {
    const start = before;
    before = earliestStart.get(idOf(robot, i))! + milliseconds;
    return { ...step, n: i + 1, start: start / 1000, end: before / 1000 };
  });
}

/** All programs with signals, waits and earliest times; the makespan is that of the longest chain of steps. */
export function schedule(raw: RawPrograms, needed: readonly Precedence[]): Schedule {
  const named = needed.map((precedence, i) => ({ ...precedence, id: `H${i + 1}` }));
  const programs = raw.programs.map((steps, robot) => withSignals(robot, steps, named));
  const path = network(programs);
  const place = (robot: number, key: 'signal' | 'wait', id: string): number =>
    programs[robot]!.findIndex((step) => step[key] === id) + 1;
  return {
    programs: programs.map((drafts, robot) => timedSteps(robot, drafts, path)),
    handshakes: named.map((precedence) => ({
      id: precedence.id,
      precedence,
      signalStep: place(precedence.from.robot, 'signal', precedence.id),
      awaitStep: place(precedence.to.robot, 'wait', precedence.id),
    })),
    makespan: path.makespan,
    critical: programs.map(
      (drafts, robot) =>
        new Set(drafts.flatMap((_, i) => (path.chain.includes(idOf(robot, i)) ? [i + 1] : []))),
    ),
  };
}

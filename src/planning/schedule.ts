import { criticalPath, type CriticalPath } from '../algorithms/critical-path.js';
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

const ROBOTS = ['handler', 'welder'] as const;
type Robot = (typeof ROBOTS)[number];
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

const idOf = (robot: Robot, index: number): string => `${robot} ${index}`;

/** The network of both programs: steps in their order, and every wait after its signal. */
function network(programs: Readonly<Record<Robot, readonly Draft[]>>): CriticalPath {
  const activities = ROBOTS.flatMap((robot) =>
    programs[robot].map(({ milliseconds }, index) => ({ id: idOf(robot, index), duration: milliseconds })),
  );
  const inOrder = ROBOTS.flatMap((robot) =>
    programs[robot].slice(1).map((_, index) => ({ from: idOf(robot, index), to: idOf(robot, index + 1) })),
  );
  const senders = new Map(
    ROBOTS.flatMap((robot) =>
      programs[robot].flatMap(({ signal }, index) =>
        signal === undefined ? [] : [[signal, idOf(robot, index)]],
      ),
    ) as [string, string][],
  );
  const waits = ROBOTS.flatMap((robot) =>
    programs[robot].flatMap(({ wait }, index) =>
      wait === undefined ? [] : [{ from: senders.get(wait)!, to: idOf(robot, index) }],
    ),
  );
  const path = criticalPath(activities, [...inOrder, ...waits]);
  if (!path.ok) throw new Error('the robots would wait for each other');
  return path.value;
}

/** The steps of one robot with their times: each starts when the one before it ends, a wait lasts until its signal. */
function timedSteps(
  robot: Robot,
  drafts: readonly Draft[],
  { earliestStart }: CriticalPath,
): readonly Step[] {
  let before = 0;
  return drafts.map(({ step, milliseconds }, i) => {
    const start = before;
    before = earliestStart.get(idOf(robot, i))! + milliseconds;
    return { ...step, n: i + 1, start: start / 1000, end: before / 1000 };
  });
}

/** Both programs with signals, waits and earliest times; the makespan is that of the longest chain of steps. */
export function schedule(raw: RawPrograms, needed: readonly Precedence[]): Schedule {
  const named = needed.map((precedence, i) => ({ ...precedence, id: `H${i + 1}` }));
  const programs = {
    handler: withSignals('handler', raw.handler, named),
    welder: withSignals('welder', raw.welder, named),
  };
  const path = network(programs);
  const place = (robot: Robot, key: 'signal' | 'wait', id: string): number =>
    programs[robot].findIndex((step) => step[key] === id) + 1;
  const critical = (robot: Robot): ReadonlySet<number> =>
    new Set(programs[robot].flatMap((_, i) => (path.chain.includes(idOf(robot, i)) ? [i + 1] : [])));
  return {
    handler: timedSteps('handler', programs.handler, path),
    welder: timedSteps('welder', programs.welder, path),
    handshakes: named.map((precedence) => ({
      id: precedence.id,
      precedence,
      signalStep: place(precedence.from.robot, 'signal', precedence.id),
      awaitStep: place(precedence.to.robot, 'wait', precedence.id),
    })),
    makespan: path.makespan,
    critical: { handler: critical('handler'), welder: critical('welder') },
  };
}

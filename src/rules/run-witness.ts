import type { EventRef } from '../algorithms/concurrent-program.js';
import { fourPhasePrograms } from '../algorithms/four-phase-programs.js';
import { happensBefore } from '../algorithms/happens-before.js';
import { explore, type Exploration } from '../algorithms/interleavings.js';
import type { Witness } from '../model/plan-safety.js';
import type { GeometricPlan, Step } from '../model/plan.js';
import { allowedArcs } from './arcs-allowed.js';
import { lineUses } from './handshake-lines.js';
import { eventsOf, runOf, type ProgramRun } from './program-run.js';
import { comings, type Coming } from './parts-in-order.js';
import { peopleApart, type Apart } from './people-apart.js';
import { mayBeTogether, stationStirs, workStirs, type Stir } from './zones-apart.js';

/** Most states of the programs that are explored (our choice: a few seconds). */
export const MOST_STATES = 2_000_000;

/** Steps on which a property depends; where a robot is in any other step, no property can tell. */
const SEEN: ReadonlySet<Step['do']> = new Set([
  'enter',
  'leave',
  'hold',
  'proof-pull',
  'let-go',
  'tack',
  'turn',
  'manual',
]);

/** For every position of every program, the stir that the robot is in. */
const stirsAt = (
  run: ProgramRun,
  stirs: readonly (readonly Stir[])[],
): readonly (readonly (Stir | undefined)[])[] =>
  run.programs.map(({ events }, program) => {
    const at = new Array<Stir | undefined>(events.length + 1).fill(undefined);
    for (const stir of stirs[program]!)
      for (let p = stir.begin + 1; p <= Math.min(stir.end, events.length); p += 1) at[p] = stir;
    return at;
  });

/** What positions together break, in words. */
function invariantOf(run: ProgramRun): (positions: ArrayLike<number>) => string | undefined {
  const [work, stations] = [stirsAt(run, workStirs(run)), stirsAt(run, stationStirs(run))];
  const inside = stirsAt(
    run,
    run.work.map((stays, program) =>
      stays.map((stay) => ({ program, stay, begin: stay.enter, end: stay.leave, job: undefined })),
    ),
  );
  const burning = run.programs.map(() => new Map<number, ReturnType<typeof allowedArcs>[number]>());
  for (const one of allowedArcs(run)) burning[one.arc.program]!.set(one.arc.on + 1, one);
  const turning = run.turns.map((turns) => new Set(turns.map(({ begin }) => begin + 1)));
  const coming = run.programs.map(() => new Map<number, Coming>());
  for (const one of comings(run)) coming[one.program]!.set(one.enter + 1, one);
  const apart = run.programs.map(() => new Map<number, Apart>());
  for (const one of peopleApart(run)) apart[one.manual.program]!.set(one.manual.begin + 1, one);
  const robots = run.programs.length;
  return (positions) => {
    let atStations = 0;
    for (let program = 0; program < robots; program += 1) {
      const position = positions[program]!;
      if (stations[program]![position] !== undefined) atStations += 1;
      const stir = work[program]![position];
      for (let other = 0; stir !== undefined && other < program; other += 1) {
        const met = work[other]![positions[other]!];
        if (met !== undefined && !mayBeTogether(stir, met))
          return 'two robots are in the work zone and neither keeps still';
      }
      const arc = burning[program]!.get(position);
      if (arc?.windows.some(({ program: p, from, to }) => positions[p]! < from || positions[p]! > to))
        return `the arc of ${arc.arc.tack.phase} tack ${arc.arc.tack.id} burns other than ${arc.why}`;
      const early = coming[program]!.get(position)?.after.find(
        ({ program: p, event }) => positions[p]! <= event,
      );
      if (early !== undefined) return `a part is brought before ${early.what}`;
      if (turning[program]!.has(position))
        for (let other = 0; other < robots; other += 1)
          if (inside[other]![positions[other]!] !== undefined)
            return 'the table turns with a robot in the work zone';
      const stray = apart[program]!.get(position)?.rests.find(
        ({ program: p, from, to }) => positions[p]! < from || positions[p]! > to,
      );
      if (stray !== undefined)
        return `${run.robots[stray.program]!.robot} does something while a person is at work`;
    }
    return atStations > 1 ? 'two robots are at the infeed or the regrip table' : undefined;
  };
}

/** The step that an event belongs to. */
function stepsByEvent(run: ProgramRun): readonly (readonly Step['do'][])[] {
  return run.programs.map(({ events, first, last }, program) => {
    const kinds = new Array<Step['do']>(events.length);
    run.robots[program]!.steps.forEach((step, i) => {
      for (let event = first[i]!; event <= last[i]!; event += 1) kinds[event] = step.do;
    });
    return kinds;
  });
}

export interface WitnessReport extends Exploration {
  readonly reduction: Witness['reduction'];
}

/**
 * Explores the runs of the programs: in full for two robots with single-use handshakes; for more, or with the phases of
 * handshakes and what goes on in the background, with unseen events first. Signals must be sound: each sent once,
 * consumed once. The trace is in events of the programs given.
 */
export function exploreRun(run: ProgramRun): WitnessReport {
  const lines = lineUses(run.plan);
  const programs = eventsOf(run);
  const invariant = invariantOf(run);
  const limit = MOST_STATES;
  if (lines.length === 0 && programs.length <= 2)
    return { ...explore(programs, { invariant, limit }), reduction: 'none' };
  const kinds = stepsByEvent(run);
  const phased = fourPhasePrograms(programs, lines);
  const base = new Int32Array(programs.length);
  const given = ({ program, event }: EventRef): number | undefined => {
    const map = phased.given[program];
    return map && map[event]! < map[event + 1]! ? map[event] : undefined;
  };
  const explored = explore(phased.programs, {
    limit,
    unseen: (ref) => {
      const event = given(ref);
      return event === undefined || !SEEN.has(kinds[ref.program]![event]!);
    },
    invariant: (positions) => {
      for (let p = 0; p < base.length; p += 1) base[p] = phased.given[p]![positions[p]!]!;
      return invariant(base);
    },
  });
  const trace = explored.trace?.flatMap((ref) => {
    const event = given(ref);
    return event === undefined ? [] : [{ program: ref.program, event }];
  });
  return { ...explored, ...(trace && { trace }), reduction: 'unseen-events-first' };
}

export const witnessOf = (run: ProgramRun, { verdict, states, reduction }: WitnessReport): Witness => ({
  robots: run.robots.length,
  states,
  complete: verdict === 'ok',
  reduction,
});

/** What the exploration of a plan's programs comes to; no state where signals are not sent and awaited once each. */
export function exploredWitness(plan: GeometricPlan): Witness {
  const run = runOf(plan);
  const order = happensBefore(eventsOf(run));
  if (!order.ok && order.error.kind === 'signal')
    return { robots: run.robots.length, states: 0, complete: false, reduction: 'none' };
  return witnessOf(run, exploreRun(run));
}

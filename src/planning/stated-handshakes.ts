import type { EventRef } from '../algorithms/concurrent-program.js';
import { FOUR_PHASE_PROTOCOL } from '../algorithms/four-phase-programs.js';
import { happensBefore } from '../algorithms/happens-before.js';
import { colourIntervals } from '../algorithms/interval-colouring.js';
import { madeUnique } from '../base/identifier.js';
import type { HandshakeKind } from '../model/handshake-kind.js';
import type { Handshake } from '../model/plan.js';
import type { Settings } from '../model/settings.js';
import { runEvents } from '../rules/run-events.js';
import { waitingAfter, waitLimit } from '../rules/waiting.js';
import { reactionOf } from './reaction.js';
import type { PlacedHandshake, Schedule } from './schedule.js';

interface Robot {
  readonly id: string;
  readonly duty: 'handle' | 'weld';
}

/** The handshakes of a schedule as the plan states them. */
export function statedHandshakes(
  robots: readonly Robot[],
  schedule: Schedule,
  { handshakes: { kind, 'time-limit': timeLimit } }: Settings,
): Handshake[] {
  const names = madeUnique(schedule.handshakes.map(({ precedence }) => precedence.name));
  const people = schedule.programs
    .flat()
    .flatMap((step) => (step.do === 'manual' ? [{ number: step.stage, seconds: step.planned }] : []));
  const lines = kind === 'four-phase' ? linesOf(schedule) : undefined;
  return schedule.handshakes.map(({ id, precedence, signalStep, awaitStep }, i): Handshake => {
    const receiver = precedence.to.robot;
    const before = schedule.programs[receiver]!.slice(0, awaitStep - 1);
    const { waiting, part } = waitingAfter(robots[receiver]!.duty, before);
    const given = schedule.programs[precedence.from.robot]![signalStep - 1]!.stage;
    return {
      id,
      name: names[i]!,
      kind,
      ...(lines && { line: lines.get(id)! }),
      from: { robot: robots[precedence.from.robot]!.id, step: signalStep },
      to: { robot: robots[receiver]!.id, step: awaitStep },
      meaning: precedence.meaning,
      guards: precedence.guards,
      ...(precedence.carries && { carries: [...precedence.carries] }),
      waiting,
      timeLimit: waitLimit(timeLimit, people, before, given),
      reaction: reactionOf(waiting, part, robots.length),
    };
  });
}

export const protocolOf = (kind: HandshakeKind): string[] =>
  kind === 'four-phase' ? [...FOUR_PHASE_PROTOCOL] : [];

/**
 * As few pairs of lines as there can be for each sender and receiver, numbered from 1. A handshake takes up its line from
 * its sending until the sender's first step that surely comes after it was consumed; what overlaps has lines of its own.
 */
function linesOf({ programs, handshakes }: Schedule): ReadonlyMap<string, number> {
  const runs = programs.map(runEvents);
  const order = happensBefore(runs.map(({ events }) => events));
  if (!order.ok) throw new Error('the robots would wait for each other');
  const sentAt = ({ precedence, signalStep }: PlacedHandshake): EventRef => ({
    program: precedence.from.robot,
    event: runs[precedence.from.robot]!.first[signalStep - 1]!,
  });
  const freeFrom = ({ precedence: { from, to }, awaitStep }: PlacedHandshake): number => {
    const consumed = { program: to.robot, event: runs[to.robot]!.last[awaitStep - 1]! };
    const { events } = runs[from.robot]!;
    const after = events.findIndex((_, event) =>
      order.value.before(consumed, { program: from.robot, event }),
    );
    return after < 0 ? events.length : after;
  };
  const directions = new Map<string, PlacedHandshake[]>();
  for (const one of handshakes) {
    const key = `${one.precedence.from.robot} ${one.precedence.to.robot}`;
    directions.set(key, [...(directions.get(key) ?? []), one]);
  }
  return new Map(
    [...directions.values()].flatMap((own) => {
      const colours = colourIntervals(own.map((one) => ({ from: sentAt(one).event, to: freeFrom(one) })));
      return own.map(({ id }, i) => [id, colours[i]! + 1] as const);
    }),
  );
}

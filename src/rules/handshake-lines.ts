import type { EventRef } from '../algorithms/concurrent-program.js';
import type { HappensBefore } from '../algorithms/happens-before.js';
import type { Finding } from '../model/finding.js';
import type { GeometricPlan, Handshake } from '../model/plan.js';
import type { ProgramRun } from './program-run.js';
import { breach } from './rule.js';

type OnLine = Handshake & { readonly line: number };

/** Handshakes that use the same pair of lines, in the order in which they are sent. */
function linesOf({ handshakes }: GeometricPlan): readonly (readonly OnLine[])[] {
  const lines = new Map<string, OnLine[]>();
  for (const handshake of handshakes) {
    const { kind, line, from, to } = handshake;
    if (kind !== 'four-phase' || line === undefined) continue;
    const key = JSON.stringify([from.robot, to.robot, line]);
    lines.set(key, [...(lines.get(key) ?? []), { ...handshake, line }]);
  }
  return [...lines.values()].map((uses) => uses.sort((a, b) => a.from.step - b.from.step));
}

/** The signals of each pair of lines in the order of use; none where all handshakes are single-use. */
export const lineUses = (plan: GeometricPlan): readonly (readonly string[])[] =>
  linesOf(plan).map((uses) => uses.map(({ id }) => id));

/** The event that sends or awaits a handshake, which must be there. */
function eventOf({ programs }: ProgramRun, kind: 'send' | 'await', id: string): EventRef {
  const at = programs.map(({ events }) => events.findIndex((one) => one.kind === kind && one.signal === id));
  const program = at.findIndex((event) => event >= 0);
  return { program, event: at[program]! };
}

/** Lines that are used again although, in some run, the handshake before on them is not consumed yet. */
export const lineFindings = (rule: string, run: ProgramRun, { before }: HappensBefore): Finding[] =>
  linesOf(run.plan).flatMap((uses) =>
    uses.slice(1).flatMap((next, i) => {
      const last = uses[i]!;
      if (before(eventOf(run, 'await', last.id), eventOf(run, 'send', next.id))) return [];
      const where = `handshakes[${run.plan.handshakes.findIndex(({ id }) => id === next.id)}].line`;
      const message = `handshake ${next.name} may be sent on line ${next.line} before ${last.name} is consumed on it`;
      return [breach(rule, where, message, { value: next.line })];
    }),
  );

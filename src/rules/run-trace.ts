import type { Step } from '../model/plan.js';
import type { ProgramRun } from './program-run.js';

/** Most steps that one line of a trace tells. */
const MOST_TOLD = 8;

/** A step in a few words, its handshake by name. */
function words({ plan }: ProgramRun, step: Step): string {
  switch (step.do) {
    case 'signal':
    case 'await': {
      const { handshake } = step;
      return `${step.do} ${plan.handshakes.find(({ id }) => id === handshake)?.name ?? handshake}`;
    }
    case 'enter':
    case 'leave':
      return `${step.do} ${step.zone}`;
    case 'tack':
      return `tack ${step.tack}`;
    default:
      return 'part' in step ? `${step.do} ${step.part}` : step.do;
  }
}

/** What a robot does from one event to before another, moves left out. */
function lineOf(run: ProgramRun, program: number, from: number, to: number): string {
  const { robot, steps } = run.robots[program]!;
  const { first, last } = run.programs[program]!;
  const done = steps.flatMap((step, i) => (last[i]! >= from && first[i]! < to ? [{ step, i }] : []));
  const numbers = [done[0]!.step.n, done.at(-1)!.step.n];
  const told = done
    .filter(({ step }, k) => step.do !== 'move' || k === done.length - 1)
    .map(({ step, i }) => `${words(run, step)}${last[i]! >= to ? ' begun' : ''}`);
  const cut = told.length > MOST_TOLD ? ['...', ...told.slice(-MOST_TOLD)] : told;
  return `${robot} ${numbers[0] === numbers[1] ? numbers[0] : `${numbers[0]} to ${numbers[1]}`}: ${cut.join(', ')}`;
}

/**
 * A run of the programs to a state, given as how many events of each are done, one line for each stretch of one robot's
 * steps: of the runs that lead there, one that goes from robot to robot seldom.
 */
export function runLines(run: ProgramRun, positions: ArrayLike<number>): string[] {
  const at = run.programs.map(() => 0);
  const sent = new Set<string>();
  const lines: string[] = [];
  for (let moved = true; moved;) {
    moved = false;
    run.programs.forEach(({ events }, program) => {
      const from = at[program]!;
      let to = from;
      for (let event = events[to]; event !== undefined && to < positions[program]!; event = events[to]) {
        if (event.kind === 'await' && !sent.has(event.signal)) break;
        if (event.kind === 'send') sent.add(event.signal);
        to += 1;
      }
      if (to === from) return;
      lines.push(lineOf(run, program, from, to));
      at[program] = to;
      moved = true;
    });
  }
  return lines;
}

/** Where every robot that is not done stands once these events are done: its next step, and who sends what it awaits. */
export function standingLines(run: ProgramRun, positions: ArrayLike<number>): string[] {
  return run.robots.flatMap(({ robot, steps }, program) => {
    const next = steps.find((_, i) => run.programs[program]!.last[i]! >= positions[program]!);
    if (next === undefined) return [];
    if (next.do !== 'await') return [`${robot} before ${next.n}: ${words(run, next)}`];
    const sender = run.plan.handshakes.find(({ id }) => id === next.handshake)?.from;
    const by = sender ? `, sent by ${sender.robot} in ${sender.step}` : '';
    return [`${robot} stuck at ${next.n}: ${words(run, next)}${by}`];
  });
}

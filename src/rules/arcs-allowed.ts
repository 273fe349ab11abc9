import type { EventRef } from '../algorithms/concurrent-program.js';
import type { HappensBefore } from '../algorithms/happens-before.js';
import type { Finding } from '../model/finding.js';
import type { ProgramRun } from './program-run.js';
import { breach } from './rule.js';
import type { Stay } from './run-events.js';
import { runLines } from './run-trace.js';

/** Between which positions (events done) of a handling robot an arc may burn. */
export interface Window {
  readonly program: number;
  readonly from: number;
  readonly to: number;
}

/** When an arc may burn: in all of these windows at once. */
export interface Allowed {
  readonly arc: ProgramRun['arcs'][number];
  readonly windows: readonly Window[];
  readonly why: string;
}

/** Of every arc, but where what shall be held is never let go, or the part never brought. */
export const allowedArcs = (run: ProgramRun): readonly Allowed[] =>
  run.arcs.flatMap((arc) => allowedFor(run, arc) ?? []);

function allowedFor(run: ProgramRun, arc: Allowed['arc']): Allowed | undefined {
  const { number, part, robot, held, alsoHeld } = run.plan.stages[arc.stage]!;
  const holds = [
    ...(held === null && alsoHeld ? [] : [{ robot, part }]),
    ...(alsoHeld ? [{ robot: alsoHeld.robot, part: alsoHeld.part }] : []),
  ].map((hold) => ({ ...hold, program: run.robots.findIndex((one) => one.robot === hold.robot) }));
  const stays = holds.flatMap((hold) => {
    const stay = run.work[hold.program]?.findLast(
      (one) => one.part === hold.part && one.stage <= number && number <= one.lastStage,
    );
    return stay?.letGo === undefined ? [] : [{ stay, program: hold.program, letGo: stay.letGo }];
  });
  if (stays.length < holds.length) return undefined;
  const names = holds.map((hold) => hold.part).join(' and ');
  if (arc.tack.phase === 'securing') {
    const windows = stays.map(({ program, stay: { hold }, letGo }) => ({
      program,
      from: hold === undefined ? Infinity : hold + 1,
      to: letGo,
    }));
    return { arc, windows, why: `while ${names} ${holds.length > 1 ? 'are' : 'is'} held` };
  }
  const why = `between the handler's leaving ${names} and its bringing the next part`;
  const own = new Map(stays.map(({ program, stay }) => [program, stay]));
  return { arc, windows: awayAfter(run, number, own), why };
}

/** Every handling robot between its stay for a stage, or its last one before, and its next in the work zone. */
const awayAfter = (
  { work, robots }: ProgramRun,
  number: number,
  own: ReadonlyMap<number, Stay>,
): readonly Window[] =>
  work.flatMap((stays, program) => {
    if (robots[program]!.duty !== 'handle') return [];
    const stay = own.get(program);
    const last = stay ? stays.indexOf(stay) : stays.findLastIndex(({ stage }) => stage <= number);
    const from = last < 0 ? 0 : stays[last]!.leave + 1;
    return [{ program, from, to: stays[last + 1]?.enter ?? Infinity }];
  });

/** Events that a run can have done although the window is not open yet, or is closed; undefined where none can. */
function outside(
  { arc: { program, on, off } }: Allowed,
  window: Window,
  { before }: HappensBefore,
): { readonly end: 'begin' | 'end'; readonly done: readonly EventRef[] } | undefined {
  const [lit, out] = [on, off].map((event) => ({ program, event }));
  const { from, to } = window;
  const opened = { program: window.program, event: from - 1 };
  if (from > 0 && !(Number.isFinite(from) && before(opened, lit!))) return { end: 'begin', done: [lit!] };
  const closed = { program: window.program, event: to };
  if (to !== Infinity && !before(out!, closed)) return { end: 'end', done: [lit!, closed] };
  return undefined;
}

/** Each arc by itself, by what happens before what in every run. */
export const arcFindings = (
  rule: string,
  run: ProgramRun,
  order: HappensBefore,
  allowed: readonly Allowed[],
): Finding[] =>
  allowed.flatMap((one) => {
    const { arc, windows, why } = one;
    const wrong = windows.flatMap((window) => outside(one, window, order) ?? []);
    const worst = wrong.find(({ end }) => end === 'begin') ?? wrong[0];
    if (worst === undefined) return [];
    const message = `nothing makes the arc of ${arc.tack.phase} tack ${arc.tack.id} ${worst.end} ${why}`;
    const trace = runLines(run, order.past(worst.done));
    return [{ ...breach(rule, `stages[${arc.stage}].tacks`, message), trace }];
  });

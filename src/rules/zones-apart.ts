import type { HappensBefore } from '../algorithms/happens-before.js';
import type { Finding } from '../model/finding.js';
import type { ProgramRun } from './program-run.js';
import { breach } from './rule.js';
import type { Stay } from './run-events.js';
import { runLines } from './run-trace.js';

/** What a robot does in a zone without holding still: from when the event `begin` is done until `end` is. */
export interface Stir {
  readonly program: number;
  readonly stay: Stay;
  readonly begin: number;
  readonly end: number;
  /** Stage and phase of the tacks laid in the stay, where all are of one; such stirs may be together. */
  readonly job: string | undefined;
}

/** The stirs in the work zone, by program: a stay without the time in which its part is held still. */
export const workStirs = (run: ProgramRun): readonly (readonly Stir[])[] =>
  run.work.map((stays, program) =>
    stays.flatMap((stay): Stir[] => {
      const { enter, hold, letGo, leave } = stay;
      const base = { program, stay, job: jobOf(run, program, stay) };
      if (hold === undefined || (letGo !== undefined && letGo < hold))
        return [{ ...base, begin: enter, end: leave }];
      return [
        { ...base, begin: enter, end: hold },
        ...(letGo === undefined ? [] : [{ ...base, begin: letGo, end: leave }]),
      ];
    }),
  );

/** The stays at infeed and regrip table, by program. */
export const stationStirs = ({ stations }: ProgramRun): readonly (readonly Stir[])[] =>
  stations.map((stays, program) =>
    stays.map((stay) => ({ program, stay, begin: stay.enter, end: stay.leave, job: undefined })),
  );

function jobOf({ arcs }: ProgramRun, program: number, { enter, leave }: Stay): string | undefined {
  const jobs = new Set(
    arcs
      .filter((arc) => arc.program === program && arc.on > enter && arc.on < leave)
      .map(({ stage, tack }) => `${stage} ${tack.phase}`),
  );
  return jobs.size === 1 ? [...jobs][0] : undefined;
}

export const mayBeTogether = (a: Stir, b: Stir): boolean => a.job !== undefined && a.job === b.job;

/** Whether one is over before the other begins, in every run: exactly then no run has them together. */
function ordered(a: Stir, b: Stir, { before }: HappensBefore): boolean {
  const over = (one: Stir, other: Stir): boolean =>
    Number.isFinite(one.end) &&
    before({ program: one.program, event: one.end }, { program: other.program, event: other.begin });
  return over(a, b) || over(b, a);
}

/** The first stirs of each two robots that some run has together. */
function together(
  stirs: readonly (readonly Stir[])[],
  order: HappensBefore,
): readonly (readonly [Stir, Stir])[] {
  return stirs.flatMap((own, program) =>
    stirs.slice(program + 1).flatMap((others) => {
      for (const a of own)
        for (const b of others) if (!mayBeTogether(a, b) && !ordered(a, b, order)) return [[a, b] as const];
      return [];
    }),
  );
}

const heldText = ({ stay: { part, stage } }: Stir): string =>
  part === undefined ? `of stage ${stage}` : `with ${part}`;

/** Robots that may move in the work zone at once, or be at the stations at once. */
export function zoneFindings(rule: string, run: ProgramRun, order: HappensBefore): Finding[] {
  const told = ([a, b]: readonly [Stir, Stir], what: string): Finding => {
    const [one, other] = [a, b].map((stir) => run.robots[stir.program]!.robot);
    const done = [a, b].map(({ program, begin }) => ({ program, event: begin }));
    const message = `${one} ${heldText(a)} and ${other} ${heldText(b)} ${what}`;
    return {
      ...breach(rule, `programs[${a.program}].steps`, message),
      trace: runLines(run, order.past(done)),
    };
  };
  return [
    ...together(workStirs(run), order).map((pair) =>
      told(pair, 'may be in the work zone at once, and neither keeps still'),
    ),
    ...together(stationStirs(run), order).map((pair) =>
      told(pair, 'may be at the infeed or the regrip table at once'),
    ),
  ];
}

/** Before a turn of the table every robot has left the work zone of the earlier stages; it enters for later ones after it. */
export const turnFindings = (rule: string, run: ProgramRun, { before, past }: HappensBefore): Finding[] =>
  run.turns.flatMap((own, commander) =>
    own.flatMap(({ stage, begin, end }) =>
      run.work.flatMap((stays, program) => {
        const begun = { program: commander, event: begin };
        const met = stays.find((stay) => {
          const [enter, leave] = [stay.enter, stay.leave].map((event) => ({ program, event }));
          return stay.lastStage < stage
            ? !(Number.isFinite(stay.leave) && before(leave!, begun))
            : !(stay.stage >= stage && before({ program: commander, event: end }, enter!));
        });
        if (met === undefined) return [];
        const { robot } = run.robots[program]!;
        const message = `nothing keeps ${robot} out of the work zone while the table turns before stage ${stage}`;
        const trace = runLines(run, past([begun, { program, event: met.enter }]));
        return [{ ...breach(rule, `programs[${commander}].steps`, message), trace }];
      }),
    ),
  );

import type { HappensBefore } from '../algorithms/happens-before.js';
import type { Finding } from '../model/finding.js';
import type { ProgramRun } from './program-run.js';
import { breach } from './rule.js';
import { runLines } from './run-trace.js';

/** An event of a program that must be over; Infinity for one that never comes. */
interface Due {
  readonly program: number;
  readonly event: number;
  readonly what: string;
}

/** A part that is brought into the work zone by the event `enter`, and what of earlier stages must be over by then. */
export interface Coming {
  readonly program: number;
  readonly enter: number;
  /** Place of its stage in the plan's list. */
  readonly stage: number;
  readonly after: readonly Due[];
}

/**
 * Each part with what the stages before it leave to other robots: their handling robots are away, or keep still with what
 * is held on, and their securing tacks are laid. In its own program one stage follows the other, and completing tacks
 * are judged with all arcs.
 */
export const comings = (run: ProgramRun): readonly Coming[] =>
  run.plan.stages.flatMap(({ number, robot }, stage): Coming[] => {
    const program = run.robots.findIndex((one) => one.robot === robot);
    const own = run.work[program]?.find((stay) => stay.stage === number);
    if (own === undefined) return [];
    const after = [...staysDue(run, number), ...arcsDue(run, stage)].filter((due) => due.program !== program);
    return after.length === 0 ? [] : [{ program, enter: own.enter, stage, after }];
  });

const staysDue = ({ robots, work }: ProgramRun, number: number): readonly Due[] =>
  work.flatMap((stays, program) => {
    const { robot, duty } = robots[program]!;
    if (duty !== 'handle') return [];
    return stays
      .filter((stay) => stay.stage < number)
      .map(({ stage, lastStage, hold, leave }): Due => {
        const heldOn = lastStage >= number;
        const what = `${robot} of stage ${stage} ${heldOn ? 'holds still' : 'is out of the work zone'}`;
        return { program, event: heldOn ? (hold ?? Infinity) : leave, what };
      });
  });

const arcsDue = ({ arcs }: ProgramRun, stage: number): readonly Due[] =>
  arcs
    .filter((arc) => arc.stage < stage && arc.tack.phase === 'securing')
    .map(({ program, off, tack }) => ({ program, event: off, what: `securing tack ${tack.id} is laid` }));

/** The first of each part that nothing makes come before it. */
export const comingFindings = (rule: string, run: ProgramRun, { before, past }: HappensBefore): Finding[] =>
  comings(run).flatMap(({ program, enter, stage, after }) => {
    const entered = { program, event: enter };
    const wrong = after.find(({ program: other, event }) => {
      const over = { program: other, event };
      return !(Number.isFinite(event) && before(over, entered));
    });
    if (wrong === undefined) return [];
    const { part } = run.plan.stages[stage]!;
    const message = `nothing makes ${run.robots[program]!.robot} wait with ${part} until ${wrong.what}`;
    return [{ ...breach(rule, `stages[${stage}].part`, message), trace: runLines(run, past([entered])) }];
  });

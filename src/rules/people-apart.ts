import type { HappensBefore } from '../algorithms/happens-before.js';
import type { Finding } from '../model/finding.js';
import type { ProgramRun } from './program-run.js';
import { breach } from './rule.js';
import { runLines } from './run-trace.js';

/** Where another robot must keep while a person is at work: at least `from` and at most `to` of its events are done. */
export interface Rest {
  readonly program: number;
  readonly from: number;
  readonly to: number;
}

/** A person at work, and where every other robot must keep meanwhile. */
export interface Apart {
  readonly manual: ProgramRun['manuals'][number];
  readonly rests: readonly Rest[];
}

/** Steps after the last stage have no number. */
const stageOf = (stage: number): number => (stage === 0 ? Infinity : stage);

/**
 * While a person is at work every other robot has done all that it does in earlier stages and begun nothing of this
 * stage or a later one; it may give signals and wait.
 */
export const peopleApart = (run: ProgramRun): readonly Apart[] =>
  run.manuals.map((manual) => ({
    manual,
    rests: run.robots.flatMap(({ steps }, program): Rest[] => {
      if (program === manual.program) return [];
      const { first, last } = run.programs[program]!;
      let from = 0;
      let to = Infinity;
      steps.forEach((step, i) => {
        if (step.do === 'signal' || step.do === 'await') return;
        if (stageOf(step.stage) < manual.stage) from = last[i]! + 1;
        else to = Math.min(to, first[i]!);
      });
      return [{ program, from, to }];
    }),
  }));

/** The first of the other robots that may do anything while a person is at work. */
export const apartFindings = (rule: string, run: ProgramRun, { before, past }: HappensBefore): Finding[] =>
  peopleApart(run).flatMap(({ manual: { program, begin, end, stage, part }, rests }) => {
    const [begun, done] = [begin, end].map((event) => ({ program, event }));
    const wrong = rests.find(
      (rest) =>
        (rest.from > 0 && !before({ program: rest.program, event: rest.from - 1 }, begun!)) ||
        (rest.to < Infinity && !before(done!, { program: rest.program, event: rest.to })),
    );
    if (wrong === undefined) return [];
    const { robot } = run.robots[wrong.program]!;
    const message = `nothing keeps ${robot} still while a person sets ${part} in stage ${stage}`;
    const trace = runLines(run, past([begun!]));
    return [{ ...breach(rule, `programs[${program}].steps`, message), trace }];
  });

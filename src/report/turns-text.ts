import type { GeometricPlan, Stage, Step } from '../model/plan.js';
import { amount } from './numbers.js';
import { plain } from './plain.js';
import { rangesText } from './power-loss-text.js';
import { paragraph } from './text-table.js';

type Turn = Extract<Step, { do: 'turn' }>;

interface Run {
  readonly angle: number;
  readonly stages: number[];
}

/** Stages one after another at one index angle. */
function runsOf(stages: readonly Stage[]): readonly Run[] {
  const runs: Run[] = [];
  for (const { number, turn = 0 } of stages) {
    if (runs.at(-1)?.angle === turn) runs.at(-1)!.stages.push(number);
    else runs.push({ angle: turn, stages: [number] });
  }
  return runs;
}

/** By whom and in what time the table is turned before a stage; empty when no program says so. */
function turnedBy(programs: GeometricPlan['programs'], stage: number): string {
  for (const { robot, steps } of programs) {
    const turn = steps.find((step): step is Turn => step.do === 'turn' && step.stage === stage);
    if (turn) return ` by ${plain(robot)} in ${amount(turn.end - turn.start, 1)} s`;
  }
  return '';
}

/** At which index angle of the table the stages are, and how it is turned in between; nothing for one that stands still. */
export function turnLines({ stages, programs }: Pick<GeometricPlan, 'stages' | 'programs'>): string[] {
  if (stages.every(({ turn }) => turn === undefined)) return [];
  const told = runsOf(stages).map(({ angle, stages: own }, i) => {
    const where = `${amount(angle, 3)} degrees`;
    const which = `for ${own.length === 1 ? 'stage' : 'stages'} ${rangesText(own)}`;
    return i === 0 ? `at ${where} ${which}` : `turned to ${where}${turnedBy(programs, own[0]!)} ${which}`;
  });
  return ['', ...paragraph('Table: ', told.join('; '))];
}

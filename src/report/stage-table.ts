import type { AbstractPlan, GeometricPlan, Handling, Stage } from '../model/plan.js';
import { amount, counted, listed } from './numbers.js';
import { plain } from './plain.js';
import { textTable } from './text-table.js';
import { weakestText } from './weakest-point.js';

/** Gripper and face of the last grip, and the regrips before it with other grippers named. */
export function takenText(handling: readonly Handling[]): string {
  const last = handling.at(-1)!.grip;
  const pads = last.group === undefined ? '' : `, pads ${plain(last.group)}`;
  const by = `${plain(last.gripper)}, ${last.face}${pads}`;
  const regrips = handling.length - 1;
  if (regrips === 0) return by;
  const first = handling[0]!.grip;
  const start = first.gripper === last.gripper ? first.face : `${first.face}, ${plain(first.gripper)}`;
  return `${by}, after ${counted(regrips, 'regrip')} (first on ${start})`;
}

/**
 * What is held while the securing tacks are laid, by whom, and with what pull its tacks are proved; when nothing is, on
 * what the newcomer stands.
 */
export function heldText(
  stage: Pick<Stage, 'held' | 'alsoHeld' | 'stands' | 'standsOn' | 'proofPull' | 'manual'>,
): string {
  const { held, alsoHeld, stands, standsOn, proofPull, manual } = stage;
  if (manual !== undefined) return `by a person, then ${stands}`;
  const own = held === null ? [] : [`by ${plain(held)}`];
  const other = alsoHeld ? [`${plain(alsoHeld.part)} by ${plain(alsoHeld.robot)}`] : [];
  const proof = proofPull === null ? [] : [`proof pull ${amount(proofPull)} N`];
  const holds = [...own, ...other];
  const on = standsOn && listed([...standsOn.parts.map(plain), ...(standsOn.table ? ['the table'] : [])]);
  if (holds.length > 0) {
    const kept = stands === 'held' ? ['held on after its tacks'] : [];
    const itself = on === undefined ? '' : `; the newcomer stands on ${on}`;
    return `${[...holds, ...kept, ...proof].join(', ')}${itself}`;
  }
  return on === undefined ? `nothing, ${stands}` : `nothing, stands on ${on}`;
}

/** Who takes the part and how; where several robots bring parts, which of them. */
function takenBy({ robot, handling, manual }: Stage, several: boolean): string {
  if (manual !== undefined) {
    const tacks = manual.tacks.length === 0 ? '' : `, ${counted(manual.tacks.length, 'tack')}`;
    return `a person, ${amount(manual.seconds)} s${tacks}`;
  }
  return several ? `${plain(robot ?? '')}: ${takenText(handling)}` : takenText(handling);
}

const some = (count: number): string => (count === 0 ? '-' : amount(count));

const HEADS = [
  { title: 'stage', most: 5, side: 'right' },
  { title: 'joins', most: 15 },
  { title: 'taken by', most: 19 },
  { title: 'held while tacking', most: 20 },
  { title: 'securing', most: 8, side: 'right' },
  { title: 'later', most: 5, side: 'right' },
  { title: 'weakest point', most: 26 },
] as const;

/** What a row of the table of stages says. */
export interface StageRow {
  readonly number: number;
  readonly part: string;
  readonly taken: string;
  readonly held: string;
  readonly securing: number;
  readonly later: number;
  readonly weakest: string;
}

/** One row a stage: what joins, how it is taken (by whom, where several robots bring parts) and held, its tacks, and what is nearest to giving way. */
export function stageRows(stages: GeometricPlan['stages']): readonly StageRow[] {
  const several = new Set(stages.flatMap(({ robot }) => robot ?? [])).size > 1;
  return stages.map((stage) => {
    const securing = stage.tacks.filter(({ phase }) => phase === 'securing').length;
    return {
      number: stage.number,
      part: plain(stage.part),
      taken: takenBy(stage, several),
      held: heldText(stage),
      securing,
      later: stage.tacks.length - securing,
      weakest: weakestText(stage.reserves),
    };
  });
}

/** The same for the terminal. */
export const stageTable = (stages: GeometricPlan['stages']): string[] =>
  textTable(
    HEADS,
    stageRows(stages).map(({ number, part, taken, held, securing, later, weakest }) => [
      ...[String(number), part, taken, held, some(securing), some(later), weakest],
    ]),
  );

const SHORT_HEADS = [
  { title: 'stage', most: 5, side: 'right' },
  { title: 'joins', most: 30 },
  { title: 'taken by', most: 30 },
  { title: 'regrips', most: 8, side: 'right' },
  { title: 'tacks', most: 8, side: 'right' },
  { title: 'seconds', most: 12, side: 'right' },
] as const;

/** One row a stage of a plan without shapes. */
export const abstractStageTable = (stages: AbstractPlan['stages']): string[] =>
  textTable(
    SHORT_HEADS,
    stages.map(({ number, part, gripper, regrips, tacks, seconds }) => [
      String(number),
      plain(part),
      gripper === null ? '-' : plain(gripper),
      some(regrips),
      some(tacks),
      amount(seconds, 3),
    ]),
  );

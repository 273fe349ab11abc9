import { rotate, transpose } from '../../../../geometry/pose.js';
import { negate } from '../../../../geometry/vector.js';
import type { Stage } from '../../../../model/plan.js';
import type { StageView } from '../../../../rules/stage-views.js';
import { remediesText } from '../../../accuracy-text.js';
import { sideText } from '../../../direction-text.js';
import { amount, counted, listed } from '../../../numbers.js';
import { plain } from '../../../plain.js';
import { heldText, takenText } from '../../../stage-table.js';
import { againstText, weakestReserve, weakestText } from '../../../weakest-point.js';
import type { GeometricContext } from '../../page-context.js';
import type { PageDetail } from '../../page-data.js';
import type { StageTimes } from '../stage-times.js';
import { row, timeText, type Row } from './rows.js';

/** A stage with its times. */
export interface TimedStage {
  readonly view: StageView;
  readonly times: StageTimes;
}

function takenBy({ robot, handling, manual }: Stage): string {
  if (manual !== undefined) return `a person, ${amount(manual.seconds)} s`;
  return `${plain(robot ?? '')}: ${takenText(handling)}`;
}

/** From which side it comes, in the axes of the weldment. */
function approachText({ cell }: GeometricContext, { approach }: Stage): string | undefined {
  if (approach === null) return undefined;
  const from = sideText(rotate(transpose(cell.weldmentPose.turn), negate(approach.direction)));
  return `from ${from}, straight for ${amount(approach.distance, 1)} mm`;
}

function carriedText({ handling }: Stage): string | undefined {
  const weakest = weakestReserve(handling.map(({ carried }) => carried));
  return weakest && `${againstText(weakest.reserve, weakest.required)} ${plain(weakest.case)}`;
}

/** The worst of each direction, of what is allowed. */
const accuracyText = ({ accuracy }: Stage): string =>
  accuracy
    .map(({ direction, total, limit }) => `${direction} ${amount(total, 2)} of ${amount(limit, 2)} mm`)
    .join(', ');

/** How the part of a stage is taken, brought and held, and what is nearest to giving way. */
export const joiningRows = (context: GeometricContext, { view: { stage } }: TimedStage): readonly Row[] => [
  ...row('taken by', takenBy(stage)),
  ...row('comes', approachText(context, stage)),
  ...row('held while tacking', heldText(stage)),
  ...row('done for accuracy', remediesText(stage.remedies)),
  ...row('accuracy', accuracyText(stage)),
  ...row('reserve while carried', carriedText(stage)),
  ...row('weakest point', weakestText(stage.reserves)),
];

function tacksText({ tacks, manual }: Stage): string {
  const securing = tacks.filter(({ phase }) => phase === 'securing').length;
  const byHand = manual?.tacks.length ?? 0;
  const told = [
    ...(securing > 0 ? [`${amount(securing)} securing`] : []),
    ...(tacks.length > securing ? [`${amount(tacks.length - securing)} completing`] : []),
    ...(byHand > 0 ? [`${amount(byHand)} by hand`] : []),
  ];
  return told.length === 0 ? 'none' : listed(told);
}

export function stageDetail(context: GeometricContext, timed: TimedStage): PageDetail {
  const { view, times } = timed;
  const { stage, before } = view;
  return {
    title: `Stage ${stage.number}: ${plain(stage.part)} joins`,
    rows: [
      ...row('time', timeText(times)),
      ...row('in place', `at ${amount(times.placed, 1)} s, beside ${counted(before.length, 'part')}`),
      ...(stage.turn === undefined ? [] : row('table', `at ${amount(stage.turn, 3)} degrees`)),
      ...joiningRows(context, timed),
      ...row('tacks', tacksText(stage)),
    ],
  };
}

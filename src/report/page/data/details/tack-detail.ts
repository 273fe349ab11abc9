import type { ManualPlanTack, PlanTack, Stage, Step } from '../../../../model/plan.js';
import { NO_REWORK } from '../../../fault-text.js';
import { amount, listed } from '../../../numbers.js';
import { plain } from '../../../plain.js';
import type { GeometricContext } from '../../page-context.js';
import type { PageDetail } from '../../page-data.js';
import { measuredFrom } from '../../sheet/measured-from.js';
import { row, timeText, type Row } from './rows.js';

const kilonewtons = (newtons: number): string => `${amount(newtons / 1000, 1)} kN`;

/** Where it lies along its seam, from an edge that can be felt. */
function spanText({ plan, scene }: GeometricContext, tack: ManualPlanTack): string {
  const { text, offset } = measuredFrom(tack, plan, scene);
  const from = tack.start + offset;
  return `${amount(from, 1)} to ${amount(from + tack.length, 1)} mm from ${text}`;
}

function codeText({ codeStrength, codeReason }: ManualPlanTack): string {
  return codeReason === 'too-short'
    ? 'too short to count (4.5.1)'
    : `${kilonewtons(codeStrength)}, which is not used`;
}

const hotText = ({ hot: { seconds, temperature, factor } }: PlanTack): string =>
  `${amount(temperature)} C after ${amount(seconds, 1)} s, which leaves ${amount(100 * factor)} % of its strength (estimate)`;

/** What is done when it is reported bad. */
function reworkText(context: GeometricContext, { rework }: Stage, { id }: PlanTack): string | undefined {
  const found = rework.find(({ instead }) => instead === id);
  if (found === undefined) return undefined;
  if (found.tack !== null) return `laid again, ${spanText(context, found.tack)}`;
  const why = found.none === undefined ? '' : `: ${NO_REWORK[found.none]}`;
  return `keep holding, stop, call a person${why}`;
}

function jointText({ plan }: GeometricContext, { joint }: ManualPlanTack): string {
  const found = plan.joints.find(({ id }) => id === joint);
  return found ? `${plain(joint)}, ${listed(found.between.map(plain))}` : plain(joint);
}

/** How wide its seam is predicted to stand open before it is laid. */
function gapText({ distortion }: Stage, { id }: ManualPlanTack): string | undefined {
  const opening = distortion.openings.find(({ tack }) => tack === id);
  return opening && `${amount(opening.before, 2)} mm before it is laid (estimate)`;
}

function robotRows(
  context: GeometricContext,
  stage: Stage,
  tack: PlanTack,
  step: Step | undefined,
): readonly Row[] {
  return [
    ...row('welding position', `${tack.position} (ISO 6947)`),
    ...row(
      'laid',
      tack.phase === 'securing' ? 'before the let-go: securing' : 'after the let-go: completing',
    ),
    ...row('by', plain(tack.robot)),
    ...row('time', step && timeText(step)),
    ...row('first relied on', hotText(tack)),
    ...row('reported bad', reworkText(context, stage, tack)),
  ];
}

const byRobot = (tack: ManualPlanTack | PlanTack): tack is PlanTack => 'robot' in tack;

/** Where a tack lies, how it is laid and what it is worth; `step` lays it. */
export function tackDetail(
  context: GeometricContext,
  stage: Stage,
  tack: ManualPlanTack | PlanTack,
  step: Step | undefined,
): PageDetail {
  return {
    title: `Tack ${plain(tack.id)}`,
    rows: [
      ...row('stage', `${stage.number}, ${plain(stage.part)}; number ${tack.order} in it`),
      ...row('joint', jointText(context, tack)),
      ...row('seam', plain(tack.seam)),
      ...row('lies', spanText(context, tack)),
      ...row('length', `${amount(tack.length, 1)} mm`),
      ...row('leg', `${amount(tack.leg, 1)} mm`),
      ...(byRobot(tack) ? robotRows(context, stage, tack, step) : row('by', 'a person')),
      ...row('gap', gapText(stage, tack)),
      ...row('strength', `${kilonewtons(tack.strength)}, cold, by the temporary-strength model`),
      ...row('by EN 1993-1-8', codeText(tack)),
    ],
  };
}

import type { DropZone } from '../../../model/plan-safety.js';
import type { GeometricPlan, Stage } from '../../../model/plan.js';
import { amount } from '../../numbers.js';
import { plain } from '../../plain.js';
import { powerLossMeaning } from '../../power-loss-text.js';
import { html, text } from '../html.js';
import { textList } from '../pieces.js';

/** Where nobody may be while a part is carried. */
export const dropZoneText = ({ part, gripper, from, to }: DropZone): string =>
  `while ${plain(part)} is carried by ${plain(gripper)}: nobody from x ${amount(Math.floor(from[0]))} to ` +
  `${amount(Math.ceil(to[0]))} and y ${amount(Math.floor(from[1]))} to ${amount(Math.ceil(to[1]))} mm in the cell`;

/** What must not be forgotten in a stage. */
export function sheetCautions({ safety }: GeometricPlan, { number, part, powerLoss, manual }: Stage): string {
  const lost = powerLoss.map(
    (loss) =>
      `Power or air lost while ${plain(loss.part)} is held by ${plain(loss.gripper)}: ${powerLossMeaning(loss)}.`,
  );
  const zones = safety.dropZones
    .filter(({ stage }) => stage === number)
    .map((zone) => `Power or air lost ${dropZoneText(zone)} (an estimate).`);
  const byHand =
    manual === undefined
      ? []
      : [
          `No reserve is claimed while a person sets ${plain(part)}: it is held by that person or by what is clamped.`,
        ];
  return (
    html('h4', {}, text('Cautions')) +
    textList(
      [
        ...lost,
        ...zones,
        ...byHand,
        'Without arc nothing is tacked: what the plan lets go falls unless a person secures it first.',
      ],
      'cautions',
    )
  );
}

import type { Change } from '../../../model/tried-remedy.js';
import type { Ladder } from '../ladder.js';
import { hasCode, type Trouble } from '../trouble.js';
import { grippersMeant } from './flat-gripper.js';

/** How much longer, mm. */
const LONGER = [40, 80, 120, 160];

/** Refusals in which the arm or the gripper itself is too near to something. */
const TOO_LOW = [
  'arm-blocked',
  'station-blocked',
  'gripper-below-station',
  'gripper-hits-fixed',
  'arms-meet',
];

/** A gripper with a longer stem, that keeps the wrist farther from what is around the part. */
export const longerGripper = (trouble: Trouble): readonly Ladder[] =>
  !hasCode(trouble, ...TOO_LOW)
    ? []
    : grippersMeant(trouble).map(([id, { reach, envelope }]): Ladder => ({
        ...{ kind: 'longer-gripper', cost: 'tooling', monotone: false },
        changes: LONGER.map((more, i): Change => ({
          words: `make ${id} ${more} mm longer (reach ${reach + more} mm instead of ${reach})`,
          edits: [
            { file: 'cell', path: ['grippers', id, 'reach'], from: reach, to: reach + more },
            {
              ...{ file: 'cell', path: ['grippers', id, 'envelope', 'height'] },
              ...{ from: envelope.height, to: envelope.height + more },
            },
          ],
          size: (i + 1) / LONGER.length,
        })),
      }));

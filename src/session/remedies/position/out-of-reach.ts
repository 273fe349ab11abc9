import type { Refusal } from '../../../model/verdict.js';
import { stuckParts, withNearest, type Trouble } from '../trouble.js';

/** Refusals that depend on where things stand in the cell. */
const PLACED =
  /^(reach-|joint-|elbow-limit|wrist-stretched|stand-out-of-reach|arm-blocked|arms-meet|station-blocked|gripper-below|gripper-hits-fixed|torch-neck|torch-blocked|turn-blocked|no-turning)/;

/** Whether the grips that take a part and those that bring it are others: each in reach, and none for both. */
const areApart = ({ counts }: Refusal): boolean =>
  counts !== undefined && counts['both'] === 0 && (counts['taken'] ?? 0) > 0 && (counts['brought'] ?? 0) > 0;

/** Whether what stands against a plan depends on where things stand, as far as reasons and nearest misses tell. */
export const isPhysical = (trouble: Trouble): boolean =>
  stuckParts(trouble, 'no-handling', 'no-securing', 'no-turning').length > 0 &&
  trouble.reasons.some(
    (reason) => !areApart(reason) && withNearest(reason).some(({ code }) => PLACED.test(code)),
  );

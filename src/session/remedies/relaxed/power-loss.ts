import { numberLadder } from '../number-ladder.js';
import type { Ladder } from '../ladder.js';
import { missesOf, type Trouble } from '../trouble.js';

/** A shorter time for which a part is kept after a loss of power: as long as the gripper in question keeps it. */
export function shorterPowerLoss(trouble: Trouble): readonly Ladder[] {
  const kept = missesOf(trouble).flatMap(({ code, value }) =>
    code === 'kept-too-briefly' && value !== undefined && value > 0 ? [value] : [],
  );
  if (kept.length === 0) return [];
  const from = trouble.settings.loads['power-loss-seconds'];
  return numberLadder({
    ...{ kind: 'shorter-power-loss', cost: 'relaxed-rule', file: 'settings' },
    ...{ path: ['loads', 'power-loss-seconds'], from, values: [Math.max(...kept)], monotone: true },
    words: (to) => `ask that a part is kept for ${to} s after a loss of power instead of ${from}`,
    caution: (to) =>
      `relaxes a rule that keeps parts from falling: they may fall ${to} s after a loss of power, and by then nobody may be near`,
  });
}

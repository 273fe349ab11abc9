import { rounded } from '../../../base/order.js';
import { numberLadder } from '../number-ladder.js';
import type { Ladder } from '../ladder.js';
import { missesOf, type Trouble } from '../trouble.js';

const STEP = 0.05;

const NAMES = {
  gravity: 'the weight',
  disturbance: 'every disturbance',
  accident: 'an emergency stop, a proof pull and a loss of power',
} as const;

/**
 * A reserve that is asked for, lowered as far as 1 and never under it: there a part is carried by no more than the loads
 * of the settings ask for.
 */
export const lowerReserve = (trouble: Trouble): readonly Ladder[] =>
  (['gravity', 'disturbance', 'accident'] as const).flatMap((which) => {
    const from = trouble.settings.reserves[which];
    const near = missesOf(trouble).some(
      ({ unit, value, limit }) => unit === 'reserve' && limit === from && value !== undefined && value >= 1,
    );
    if (!near) return [];
    const steps = Math.ceil((from - 1) / STEP - 1e-9);
    return numberLadder({
      ...{ kind: 'lower-reserve', cost: 'relaxed-rule', file: 'settings', path: ['reserves', which], from },
      values: Array.from({ length: steps }, (_, i) => Math.max(1, rounded(from - STEP * (i + 1), 3))),
      monotone: true,
      words: (to) => `ask for a reserve of ${to} against ${NAMES[which]} instead of ${from}`,
      caution: (to) =>
        `relaxes a rule that keeps parts from falling: they then fall when ${NAMES[which]} ${which === 'accident' ? 'ask' : 'asks'} for more than ${to} times what is reckoned with`,
    });
  });

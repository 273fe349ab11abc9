import { numberLadder } from '../number-ladder.js';
import type { Ladder } from '../ladder.js';
import { stuckParts, type Trouble } from '../trouble.js';

/** Shares of an error that better stops leave. */
const SHARES = [0.75, 0.5, 0.33, 0.2, 0.1];

const STATIONS = { infeed: 'infeed', regrip: 'stops of the regrip table' } as const;

/** An infeed, or stops of the regrip table, that place a part better. */
export function betterStops(trouble: Trouble): readonly Ladder[] {
  if (stuckParts(trouble, 'no-accuracy').length === 0) return [];
  return (['infeed', 'regrip'] as const).flatMap((station) => {
    const from = trouble.cell.stations[station].accuracy;
    return numberLadder({
      ...{ kind: 'better-stops', cost: 'tooling', file: 'cell', from, monotone: true },
      path: ['stations', station, 'accuracy'],
      values: SHARES.map((share) => Math.max(0.05, Math.floor(from * share * 20 + 1e-6) / 20)),
      words: (to) => `let the ${STATIONS[station]} place parts within ${to} mm instead of ${from}`,
    });
  });
}

import { numberLadder } from '../number-ladder.js';
import type { Ladder } from '../ladder.js';
import { hasCode, type Trouble } from '../trouble.js';
import { grippersMeant } from '../tooling/flat-gripper.js';

/** Shares of the distance that are tried (our choice). */
const SHARES = [0.9, 0.8, 0.7, 0.6, 0.5];

/** Tacks nearer to the pads of a gripper. */
export function nearerArc(trouble: Trouble): readonly Ladder[] {
  if (!hasCode(trouble, 'pad-too-near', 'torch-meets-gripper', 'tack-left-over')) return [];
  return grippersMeant(trouble).flatMap(([id, gripper]) => {
    const kind = gripper.magnet ? 'magnet' : gripper.vacuum ? 'vacuum' : 'jaw';
    const from = gripper[kind]!['arc-distance'];
    return numberLadder({
      ...{ kind: 'nearer-arc', cost: 'relaxed-rule', file: 'cell', from, monotone: true },
      path: ['grippers', id, kind, 'arc-distance'],
      values: SHARES.map((share) => Math.round(from * share)),
      words: (to) => `let arcs come within ${to} mm of the pads of ${id} instead of ${from}`,
      caution: () =>
        'relaxes what keeps pads from heat and the arc from the field of a magnet: the maker must allow it',
    });
  });
}

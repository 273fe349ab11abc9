import type { Ladder } from '../ladder.js';
import { numberLadder } from '../number-ladder.js';
import { missesOf, type Trouble } from '../trouble.js';
import { grippersMeant, padsOf } from './flat-gripper.js';
import { isLetGo } from './stronger-gripper.js';

/** Shares of what is left that are tried: a better demagnetising or venting (our choice). */
const SHARES = [0.6, 0.4, 0.2, 0.1];

/** A gripper that pulls less at the part when it lets go. */
export function cleanerRelease(trouble: Trouble): readonly Ladder[] {
  if (!missesOf(trouble).some(({ subjects }) => subjects.some(isLetGo))) return [];
  return grippersMeant(trouble).flatMap(([id, gripper]) => {
    const key = padsOf(gripper)?.key;
    if (key === undefined) return [];
    const from = gripper[key]!.residual;
    return numberLadder({
      ...{ kind: 'cleaner-release', cost: 'tooling', file: 'cell', path: ['grippers', id, key, 'residual'] },
      ...{ from, values: SHARES.map((share) => from * share), monotone: true },
      words: (to) =>
        `let ${id} keep no more than ${percent(to)} of its pull when it lets go instead of ${percent(from)}`,
    });
  });
}

const percent = (share: number): string => `${Math.round(share * 1000) / 10} %`;

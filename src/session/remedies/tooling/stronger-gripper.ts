import { numberLadder } from '../number-ladder.js';
import type { Ladder } from '../ladder.js';
import { missesOf, type Trouble } from '../trouble.js';
import { grippersMeant } from './flat-gripper.js';

const TOO_WEAK = [
  'grip-slips',
  'grip-gives-way',
  'hold-gives-way',
  'cannot-be-secured',
  'two-holds-unproved',
];

/** Whether something slips or gives way that more pull would keep; what a gripper pulls off as it leaves is not. */
export const isTooWeak = (trouble: Trouble): boolean =>
  missesOf(trouble).some(({ code, subjects }) => TOO_WEAK.includes(code) && !subjects.some(isLetGo));

/** Whether a load is what is left of the pull when a gripper lets go. */
export const isLetGo = (load: string): boolean => load.startsWith('let-go pull');

/** Shares of the pull that are tried: the next sizes up of common rows of grippers (our choice). */
const TIMES = [1.25, 1.5, 2, 3];

/** A magnet that pulls, or a jaw that presses, with more force, of the same size. */
export function strongerGripper(trouble: Trouble): readonly Ladder[] {
  if (!isTooWeak(trouble)) return [];
  return grippersMeant(trouble).flatMap(([id, { magnet, jaw }]) => {
    const from = magnet?.['pull-per-pad'] ?? jaw?.force;
    if (from === undefined) return [];
    return numberLadder({
      ...{ kind: 'stronger-gripper', cost: 'tooling', file: 'cell', from },
      path: ['grippers', id, ...(magnet ? ['magnet', 'pull-per-pad'] : ['jaw', 'force'])],
      values: TIMES.map((times) => Math.round(from * times)),
      monotone: false,
      words: (to) =>
        magnet
          ? `give ${id} magnets that pull ${to} N a pad instead of ${from}`
          : `let ${id} press with ${to} N instead of ${from}`,
    });
  });
}

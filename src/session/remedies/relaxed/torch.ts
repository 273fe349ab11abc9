import { numberLadder, singleChange } from '../number-ladder.js';
import type { Ladder } from '../ladder.js';
import { hasCode, missesOf, stuckParts, type Trouble } from '../trouble.js';

const ACCESS = ['seam-not-coverable', 'torch-blocked', 'torch-neck', 'torch-meets-gripper', 'pad-too-near'];
/** Widest windows that are offered, degrees (our choice): beyond, one plate hardly melts, or the arc loses its gas. */
const WIDEST = { 'work-angle': 25, 'travel-angle': 30 } as const;

/** A torch that may lean farther. */
export function widerTorch(trouble: Trouble): readonly Ladder[] {
  if (stuckParts(trouble, 'no-securing').length === 0 || !hasCode(trouble, ...ACCESS)) return [];
  return (['work-angle', 'travel-angle'] as const).flatMap((key) => {
    const from = trouble.settings.torch[key];
    const step = trouble.settings.torch[key === 'work-angle' ? 'work-step' : 'travel-step'];
    const values = [1, 2].map((n) => from + n * step).filter((to) => to <= WIDEST[key]);
    return numberLadder({
      ...{ kind: 'wider-torch', cost: 'relaxed-rule', file: 'settings', path: ['torch', key], from, values },
      monotone: true,
      words: (to) => `let the torch lean by a ${key.replace('-', ' ')} of ${to} deg instead of ${from}`,
      caution: () => 'relaxes the weld procedure: tacks laid so must be proved by a trial',
    });
  });
}

/** A welding position that the process does not allow. */
export function morePositions(trouble: Trouble): readonly Ladder[] {
  const { positions } = trouble.cell.process;
  if (positions === undefined) return [];
  const refused = missesOf(trouble).filter(({ code }) => code === 'position-not-allowed');
  const named = new Set(refused.flatMap(({ subjects }) => subjects.filter((one) => /^P[A-G]$/.test(one))));
  return [...named].sort().map((position) =>
    singleChange('more-positions', 'relaxed-rule', {
      words: `allow tacks in welding position ${position}`,
      edits: [{ file: 'cell', path: ['process', 'positions', position], to: {} }],
      caution: 'relaxes the weld procedure: it and its parameters must be qualified for this position',
    }),
  );
}

import { rounded } from '../../../base/order.js';
import { numberLadder } from '../number-ladder.js';
import type { Ladder } from '../ladder.js';
import { hasCode, missesOf, stuckParts, type Trouble } from '../trouble.js';

/** Widest gap that is offered, mm (our choice): beyond, a small fillet loses most of its throat. */
const WIDEST = 2;
/** How much wider than the gap that came nearest is tried, mm. */
const MORE = [0, 0.2, 0.4];

/** A wider gap than the fit-up allows. What a limit lacks is added to it: a gap that is drawn has its share of it already. */
export function widerGap(trouble: Trouble): readonly Ladder[] {
  const lacks = missesOf(trouble).flatMap(({ code, value, limit }) =>
    (code === 'gap-not-held' || code === 'tilt-not-held') && value !== undefined && limit !== undefined
      ? [value - limit]
      : [],
  );
  if (lacks.length === 0) return [];
  const from = trouble.weldment['fit-up'].gap;
  const nearest = Math.ceil((from + Math.max(...lacks)) * 10 - 1e-6) / 10;
  return numberLadder({
    ...{ kind: 'wider-gap', cost: 'relaxed-rule', file: 'weldment', path: ['fit-up', 'gap'], from },
    values: MORE.map((more) => rounded(nearest + more, 3)).filter((to) => to > from && to <= WIDEST),
    monotone: false,
    words: (to) => `allow a gap of ${to} mm at a tack instead of ${from}`,
    caution: () => 'relaxes the fit-up: the weld procedure must allow such a gap',
  });
}

/** Less clearance to slide in between two faces. */
export function tighterInsertion(trouble: Trouble): readonly Ladder[] {
  if (stuckParts(trouble, 'no-approach').length === 0) return [];
  const from = trouble.weldment['fit-up'].insertion;
  return numberLadder({
    ...{ kind: 'tighter-insertion', cost: 'relaxed-rule', file: 'weldment', path: ['fit-up', 'insertion'] },
    ...{ from, values: [0.75, 0.5, 0.25, 0].map((share) => from * share), monotone: true },
    words: (to) => `slide parts in with ${to} mm of clearance a side instead of ${from}`,
    caution: () => 'relaxes the fit-up: burrs and cut edges must be better than that, or the part jams',
  });
}

const ACCURACIES = [
  ['place-not-held', 'in-plane', 'sit off its place along its contacts by'],
  ['seam-not-met', 'torch-to-seam', 'have its seam missed by the wire by'],
] as const;

/** More room for errors along a contact, or across a seam. */
export const widerAccuracy = (trouble: Trouble): readonly Ladder[] =>
  ACCURACIES.flatMap(([code, key, may]) => {
    if (!hasCode(trouble, code)) return [];
    const from = trouble.settings.accuracy[key];
    return numberLadder({
      ...{ kind: 'wider-accuracy', cost: 'relaxed-rule', file: 'settings', path: ['accuracy', key], from },
      values: [1.25, 1.5, 1.75, 2].map((times) => from * times),
      monotone: true,
      words: (to) => `let a part ${may} ${to} mm instead of ${from}`,
      caution: () => 'relaxes an accuracy: whoever answers for the dimensions must agree',
    });
  });

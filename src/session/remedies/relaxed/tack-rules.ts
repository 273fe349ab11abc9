import { numberLadder } from '../number-ladder.js';
import type { Ladder } from '../ladder.js';
import { hasCode, stuckParts, type Trouble } from '../trouble.js';

const PLACELESS = ['seam-not-coverable', 'tack-left-over', 'pad-too-near', 'torch-meets-gripper'];

/** Tacks nearer to the ends of a seam, to a corner and to where the final weld starts. */
export function nearerEnds(trouble: Trouble): readonly Ladder[] {
  const { tacks } = trouble.settings;
  const keys = ['end-distance', 'corner-distance', 'weld-ends'] as const;
  const from = Math.max(...keys.map((key) => tacks[key]));
  if (stuckParts(trouble, 'no-securing').length === 0 || !hasCode(trouble, ...PLACELESS)) return [];
  const to = [0.5, 0].map((share) => from * share);
  return numberLadder({
    ...{ kind: 'nearer-ends', cost: 'relaxed-rule', file: 'settings', path: ['tacks', keys[0]], from },
    values: to,
    monotone: true,
    words: (mm) => `let tacks come within ${mm} mm of the ends of a seam and of corners instead of ${from}`,
    caution: () => 'relaxes the tack rules: the final weld starts and ends on or near a tack',
  }).map((ladder) => ({
    ...ladder,
    changes: ladder.changes.map((change, i) => ({
      ...change,
      edits: keys.map((key) => ({
        ...{ file: 'settings' as const, path: ['tacks', key], from: tacks[key] },
        to: Math.min(tacks[key], to[i]!),
      })),
    })),
  }));
}

/** A wider pitch, where a seam has no place for a tack somewhere along it. */
export function widerPitch(trouble: Trouble): readonly Ladder[] {
  if (!hasCode(trouble, 'seam-not-coverable')) return [];
  const from = trouble.settings.tacks['pitch-thicknesses'];
  return numberLadder({
    ...{ kind: 'wider-pitch', cost: 'relaxed-rule', file: 'settings', path: ['tacks', 'pitch-thicknesses'] },
    ...{ from, values: [35, 40, 50, 60].filter((to) => to > from), monotone: true },
    words: (to) => `lay tacks up to ${to} thicknesses apart instead of ${from}`,
    caution: () => 'relaxes the tack rules: a seam may open between tacks that far apart',
  });
}

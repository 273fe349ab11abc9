import { numberLadder } from '../number-ladder.js';
import type { Ladder } from '../ladder.js';
import { hasCode, stuckParts, type Trouble } from '../trouble.js';

/** Refusals of tacks that were laid and are not enough. */
const TOO_WEAK = [
  'cannot-be-secured',
  'hold-gives-way',
  'two-holds-unproved',
  'cannot-be-proved',
  'gap-opens',
];

const isSecuring = (trouble: Trouble): boolean => stuckParts(trouble, 'no-securing').length > 0;
const areTooWeak = (trouble: Trouble): boolean => isSecuring(trouble) && hasCode(trouble, ...TOO_WEAK);

/** Tacks that the standards' rules ask for are never longer than this, mm, so that it is none less than any of theirs. */
const LONGEST_BY_RULE = 50;
/** Longest tack that is tried, mm (our choice): beyond, it is a weld rather than a tack. */
const LONGEST = 80;

/** Longer tacks than the rule asks for; they carry more, and a seam has room for fewer. */
export function longerTacks(trouble: Trouble): readonly Ladder[] {
  if (!areTooWeak(trouble)) return [];
  const { rule, 'least-length': own } = trouble.settings.tacks;
  const from = own ?? LONGEST_BY_RULE;
  const ladder = numberLadder({
    ...{ kind: 'longer-tacks', cost: 'plan', file: 'settings', path: ['tacks', 'least-length'], from },
    values: [0, 10, 20, 30].map((more) => from + more).filter((to) => to <= Math.max(LONGEST, from)),
    monotone: false,
    words: (to) =>
      `make every tack ${to} mm long at least${own === undefined ? '' : ` instead of ${own} mm`}`,
  });
  if (own !== undefined) return ladder;
  const byOwn = { file: 'settings', path: ['tacks', 'rule'], from: rule, to: 'own' } as const;
  return ladder.map((one) => ({
    ...one,
    changes: one.changes.map((change) => ({
      ...change,
      edits: [byOwn, ...change.edits.map(({ file, path, to }) => ({ file, path, to }))],
    })),
  }));
}

/** More tacks on a seam. */
export function closerTacks(trouble: Trouble): readonly Ladder[] {
  if (!areTooWeak(trouble)) return [];
  const from = trouble.settings.tacks['pitch-thicknesses'];
  return numberLadder({
    ...{ kind: 'closer-tacks', cost: 'plan', file: 'settings', path: ['tacks', 'pitch-thicknesses'], from },
    values: [20, 15, 10].filter((to) => to < from),
    monotone: false,
    words: (to) => `lay tacks ${to} thicknesses apart at most instead of ${from}`,
  });
}

/** Candidate places of tacks closer together, where no place suits. */
export function finerSites(trouble: Trouble): readonly Ladder[] {
  const placeless = ['seam-not-coverable', 'pad-too-near', 'torch-meets-gripper', 'tack-left-over'];
  if (!isSecuring(trouble) || !hasCode(trouble, ...placeless)) return [];
  const from = trouble.settings.tacks.step;
  return numberLadder({
    ...{ kind: 'finer-sites', cost: 'plan', file: 'settings', path: ['tacks', 'step'], from },
    values: [from / 2].filter((to) => to >= 1),
    monotone: true,
    words: (to) => `try places of tacks every ${to} mm instead of ${from}`,
  });
}

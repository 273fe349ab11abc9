import { listed } from '../../report/numbers.js';
import { namesOf } from '../sub-assemblies/names.js';
import { stuckBy } from '../sub-assemblies/promise.js';
import { proposalsOf } from '../sub-assemblies/proposals.js';
import type { Ladder } from './ladder.js';
import { singleChange } from './number-ladder.js';
import type { Trouble } from './trouble.js';

/** Groups that are tried at most: each is planned by itself and then in the weldment (our choice). */
const MOST = 3;

/**
 * Tacks a part that is stuck to its neighbours apart from the rest, where more room is for gripper and torch, and on another
 * side of it. Not where the file says what it wants of sub-assemblies.
 */
export function tackedApart({ weldment, reasons, facts }: Trouble): readonly Ladder[] {
  if (weldment['sub-assemblies'] !== undefined) return [];
  const parts = Object.keys(weldment.parts);
  const { groups } = proposalsOf({ facts, promises: stuckBy(reasons, parts), first: weldment.first });
  const names = namesOf(groups, parts);
  return groups.slice(0, MOST).map((group, i) => ({
    ...singleChange('tacked-apart', 'sub-assembly', {
      words: `tack ${listed(group)} together first, as a sub-assembly`,
      edits: [
        { file: 'weldment', path: ['sub-assemblies'], from: 'off', to: [{ name: names[i]!, parts: group }] },
      ],
      caution: 'somebody must measure it and lay it at the infeed',
    }),
  }));
}

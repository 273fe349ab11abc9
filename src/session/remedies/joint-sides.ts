import type { WeldmentFile } from '../../model/weldment.js';
import type { Change, Edit } from '../../model/tried-remedy.js';
import type { Ladder } from './ladder.js';
import { stuckParts, type Trouble } from './trouble.js';

type JointFile = NonNullable<WeldmentFile['joints']>[number];

/** Tacks a joint on both sides, or on every seam, where the file asks for fewer: a tack's own line is a hinge. */
export const jointSides = (trouble: Trouble): readonly Ladder[] =>
  (trouble.weldment.joints ?? []).flatMap((joint, i): Ladder[] => {
    const stuck = stuckParts(trouble, 'no-securing');
    if (joint.sides === 'all' || !joint.between.some((part) => stuck.includes(part))) return [];
    const wider = joint.sides === 'one' ? (['both', 'all'] as const) : (['all'] as const);
    const changes = wider.map((to, k): Change => ({
      words: `join ${joint.between.join(' and ')} on ${to === 'both' ? 'both sides' : 'every seam'} instead of ${joint.sides === 'one' ? 'one side' : 'both sides'}`,
      edits: editsOf(joint, i, to),
      size: (k + 1) / wider.length,
      caution: 'it changes the joint, and with it the full weld: whoever designed it must agree',
    }));
    return [{ kind: 'joint-sides', cost: 'joint', changes, monotone: false }];
  });

/** Where the seam of a one-sided joint opens has no meaning for more sides. */
const editsOf = (joint: JointFile, i: number, to: JointFile['sides']): readonly Edit[] => [
  { file: 'weldment', path: ['joints', i, 'sides'], from: joint.sides, to },
  ...(joint.open === undefined
    ? []
    : [{ file: 'weldment', path: ['joints', i, 'open'], from: joint.open } as const]),
];

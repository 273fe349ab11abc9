import type { Change } from '../../../model/tried-remedy.js';
import type { Ladder } from '../ladder.js';
import { stuckParts, type Trouble } from '../trouble.js';

/** Lets a part lie on another stable face at the infeed, so that other faces of it are free. */
export const restFace = (trouble: Trouble): readonly Ladder[] =>
  stuckParts(trouble, 'no-handling', 'no-accuracy').flatMap((part): Ladder[] => {
    const { facts } = trouble;
    const index = facts.scene.index.get(part);
    if (index === undefined) return [];
    const lies = facts.spots(index)[0]?.face;
    const faces = facts.rests(index).flatMap(({ face, refusal }) => (refusal || face === lies ? [] : [face]));
    if (lies === undefined || faces.length === 0) return [];
    const changes = faces.map((to, i): Change => ({
      words: `let ${part} lie on ${to} at the infeed instead of ${lies}`,
      edits: [{ file: 'weldment', path: ['parts', part, 'rest'], from: lies, to }],
      size: (i + 1) / faces.length,
    }));
    return [{ kind: 'rest-face', cost: 'plan', changes, monotone: false }];
  });

import type { Facts } from '../../facts/facts.js';
import type { AbstractWeldment } from '../../model/weldment.js';
import type { Mistake } from './mistake.js';

/** Parts at most that are named of a piece. */
const MOST_NAMED = 4;

interface Joined {
  /** Ids in the order of the weldment. */
  readonly parts: readonly string[];
  readonly pairs: readonly (readonly [string, string])[];
}

/** What the joints leave apart: several pieces, and tolerances from one to another. */
export function pieceMistakes({ scene, joints }: Facts): Mistake[] {
  const id = (part: number): string => scene.parts[part]!.part.id;
  const pieces = piecesOf({
    parts: scene.parts.map(({ part }) => part.id),
    pairs: joints.map(({ a, b }) => [id(a), id(b)]),
  });
  const pieceOf = (part: string) => pieces.find((piece) => piece.includes(part));
  const unrelated = scene.weldment.tolerances.flatMap(({ from, to }, at): Mistake[] =>
    pieceOf(from) === pieceOf(to)
      ? []
      : [
          {
            path: ['tolerances', at],
            code: 'tolerance-unrelated',
            problem: `no chain of joints leads from ${from} to ${to}`,
            remedy: 'name parts of one piece, or add the joint that is missing',
          },
        ],
  );
  return [...severalPieces(pieces, scene.weldment.joints !== undefined), ...unrelated];
}

/** The same of a weldment without shapes that gives joints. */
export function abstractPieces({ parts, joints }: AbstractWeldment): Mistake[] {
  const pairs = joints.map(({ between }) => between);
  return severalPieces(piecesOf({ parts: parts.map(({ id }) => id), pairs }), true);
}

/** Parts that joints connect, each piece in the order of the weldment, the largest first. */
function piecesOf({ parts, pairs }: Joined): readonly (readonly string[])[] {
  const beside = new Map(parts.map((part) => [part, [] as string[]]));
  for (const [a, b] of pairs) {
    beside.get(a)!.push(b);
    beside.get(b)!.push(a);
  }
  const seen = new Set<string>();
  const pieces = parts.flatMap((part) => {
    if (seen.has(part)) return [];
    const piece = new Set([part]);
    for (const one of piece) for (const next of beside.get(one)!) piece.add(next);
    for (const one of piece) seen.add(one);
    return [parts.filter((one) => piece.has(one))];
  });
  return pieces.sort((a, b) => b.length - a.length);
}

/** One warning for each piece beside the largest; a single part that nothing joins is told of otherwise. */
const severalPieces = (pieces: readonly (readonly string[])[], given: boolean): Mistake[] =>
  pieces
    .slice(1)
    .filter(({ length }) => length > 1)
    .map((piece) => {
      const named = piece.slice(0, MOST_NAMED).join(', ');
      const more = piece.length > MOST_NAMED ? ` and ${piece.length - MOST_NAMED} more` : '';
      return {
        path: given ? ['joints'] : ['parts', piece[0]!],
        code: 'weldment-in-pieces',
        problem: `no chain of joints leads from ${pieces[0]![0]!} to ${named}${more}`,
        remedy: 'add the joint that is missing, or plan each piece by itself',
      };
    });

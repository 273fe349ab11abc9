import { solidPenetration } from '../geometry/separation.js';
import type { Solid } from '../geometry/solid.js';
import type { Complaint } from './issue-at.js';
import type { Path } from './show.js';

/** Overlap of two parts that is more than a rounding of their dimensions, mm. */
export const OVERLAP = 0.05;

/** Every two parts of a weldment that are in one another, told at the later one. */
export function partOverlaps(
  parts: readonly { readonly id: string; readonly solid: Solid }[],
): readonly (Complaint & { readonly path: Path })[] {
  return parts.flatMap((a, i) =>
    parts.slice(i + 1).flatMap((b) => {
      const depth = solidPenetration(a.solid, b.solid);
      if (depth <= OVERLAP) return [];
      return [
        {
          path: ['parts', b.id],
          code: 'parts-overlap',
          problem: `${b.id} and ${a.id} overlap by ${Math.round(depth * 100) / 100} mm`,
          remedy: 'correct a size, `at` or `turn` so that they touch or leave a gap',
        },
      ];
    }),
  );
}

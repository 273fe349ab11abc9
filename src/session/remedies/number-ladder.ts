import { rounded } from '../../base/order.js';
import type { Change, CostClass, Edit, EditedFile } from '../../model/tried-remedy.js';
import type { Ladder } from './ladder.js';

/** One number of a file that is changed, in steps that go further and further from what it is. */
export interface NumberStep {
  readonly kind: string;
  readonly cost: CostClass;
  readonly file: EditedFile;
  readonly path: readonly (string | number)[];
  readonly from: number;
  readonly values: readonly number[];
  readonly monotone: boolean;
  readonly words: (to: number) => string;
  readonly caution?: ((to: number) => string) | undefined;
  /** Edits that go with it. */
  readonly along?: readonly Edit[];
}

/** Values that a file may have: no more decimals than a person would write. */
const DIGITS = 3;

/** The ladder of a number; steps that do not change it are left out. */
export function numberLadder(step: NumberStep): readonly Ladder[] {
  const { kind, cost, file, path, from, monotone } = step;
  const values = [...new Set(step.values.map((value) => rounded(value, DIGITS)))].filter((to) => to !== from);
  if (values.length === 0) return [];
  const changes = values.map((to, i): Change => {
    const caution = step.caution?.(to);
    return {
      words: step.words(to),
      edits: [{ file, path, from, to }, ...(step.along ?? [])],
      size: (i + 1) / values.length,
      ...(caution !== undefined && { caution }),
    };
  });
  return [{ kind, cost, changes, monotone }];
}

/** A change all by itself. */
export const singleChange = (kind: string, cost: CostClass, change: Omit<Change, 'size'>): Ladder => ({
  ...{ kind, cost, monotone: false },
  changes: [{ ...change, size: 1 }],
});

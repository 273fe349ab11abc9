import type { Change, CostClass } from '../../model/tried-remedy.js';

/** Changes of one kind, smallest first. */
export interface Ladder {
  readonly kind: string;
  readonly cost: CostClass;
  readonly changes: readonly Change[];
  /** Whether a larger change helps wherever a smaller one does: then it is bisected, else tried from the smallest on. */
  readonly monotone: boolean;
  /** Whether it is tried only where no other ladder of its kind has helped. */
  readonly otherwise?: boolean;
}

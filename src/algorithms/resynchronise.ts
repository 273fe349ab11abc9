import { CrossingOrder, type Crossing, type Merged } from './crossing-order.js';
import { mergeGreedily } from './resynchronise-greedily.js';
import { mergeTwoPrograms } from './resynchronise-two.js';

export interface Resynchronised {
  readonly crossings: readonly Merged[];
  /**
   * `two-robot-least`: fewer crossings, at whatever steps, cannot imply what is required of two programs without a
   * circle or a longer makespan; `greedy`: merged one after another, no such claim.
   */
  readonly minimality: 'two-robot-least' | 'greedy';
}

/**
 * Replaces crossings by fewer that imply them, as long as there is no circle and the makespan stays what it is
 * (resynchronisation: Bhattacharyya, Sriram, Lee 2000, there for programs that repeat). `required` must be a transitive
 * reduction: no crossing implied by the order in the programs and the others. Every crossing of the answer begins
 * where one of the required ones begins and ends where one of them ends, so no program waits where it did not.
 *
 * Two programs are solved to the end, within `limit` trials; more programs greedily. Throws a RangeError when the
 * required crossings lead in a circle.
 */
export function resynchronise(
  durations: readonly (readonly number[])[],
  required: readonly Crossing[],
  limit: number,
): Resynchronised {
  const order = CrossingOrder.of(durations, required);
  if (order === undefined) throw new RangeError('The programs would wait for one another for ever.');
  const fits = (crossings: readonly Crossing[]): boolean => {
    const changed = CrossingOrder.of(durations, crossings);
    return changed !== undefined && changed.makespan <= order.makespan;
  };
  const least = durations.length === 2 ? mergeTwoPrograms(required, fits, limit) : undefined;
  return least
    ? { crossings: least, minimality: 'two-robot-least' }
    : { crossings: mergeGreedily(durations, required), minimality: 'greedy' };
}

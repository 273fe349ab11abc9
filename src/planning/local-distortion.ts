import type { Sequence } from '../algorithms/permutations.js';
import { members } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { DistortionRun } from '../rules/distortion-run.js';
import { shrinkingTack } from './distortion-stage.js';
import { heldBy, type HeldGrip } from './held-grip.js';
import type { Newcomer } from './securing.js';
import { stageSequence, type Laid } from './stage-sequence.js';
import type { Phases } from './tack-order.js';

/** How a newcomer is held while its securing tacks are laid. */
export interface OwnHold {
  readonly hold?: HeldGrip | undefined;
  /** It is held on after its tacks. */
  readonly heldOn?: boolean | undefined;
}

/**
 * The tacks of a newcomer in any order, as in stage-sequence.ts, but with the newcomer as the only body that moves: the
 * parts in place stand fixed where they should be, whatever was done before, so that what it says of an order depends on
 * nothing that the search does not know.
 */
export function localSequence(
  { scene, settings }: Facts,
  { part, inPlace }: Newcomer,
  { securing, completing }: Phases,
  { hold, heldOn = false }: OwnHold,
): Sequence<Laid> {
  const others = members(inPlace);
  const run = new DistortionRun(scene, settings, new Set(others));
  for (const other of others) run.join(other);
  return stageSequence(scene, run, {
    part,
    holds: hold ? [heldBy(hold)] : [],
    securing: securing.map(({ site }) => shrinkingTack(site)),
    completing: completing.map(({ site }) => shrinkingTack(site)),
    heldOn,
  });
}

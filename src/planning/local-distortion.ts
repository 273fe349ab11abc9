import type { Sequence } from '../algorithms/permutations.js';
import { has } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { dot } from '../geometry/vector.js';
import { Distortion, type Spring, type Stop } from '../mechanics/distortion.js';
import { GROUND } from '../mechanics/system.js';
import { holdSprings } from '../rules/distortion-holds.js';
import { contactStops, tableStops } from '../rules/distortion-stops.js';
import { acrossContact, shrinkingSprings } from '../rules/distortion-tacks.js';
import { canBeTacked } from '../rules/distortion-run.js';
import { farthestCorner } from '../rules/stage-deviation.js';
import { shrinkingTack } from './distortion-stage.js';
import { heldBy, type HeldGrip } from './held-grip.js';
import type { Newcomer } from './securing.js';
import type { Phases } from './tack-order.js';

/** How a newcomer is held while its securing tacks are laid. */
export interface OwnHold {
  readonly hold?: HeldGrip | undefined;
  /** It is held on after its tacks. */
  readonly heldOn?: boolean | undefined;
}

/** The newcomer with tacks laid so far. */
interface Pulled {
  readonly engine: Distortion;
  readonly count: number;
  /** A tack was laid where the seam stood too far open for it. */
  readonly gaped: boolean;
}

/** Springs or stops of a part as those of the only body there is: all else is ground. */
const alone = <T extends Spring | Stop>(part: number, points: readonly T[]): T[] =>
  points.map((point) => ({ ...point, a: point.a === part ? 0 : GROUND, b: point.b === part ? 0 : GROUND }));

/** A newcomer in its place, among those that it touches. */
function inItsPlace({ scene, settings }: Facts, { part, inPlace }: Newcomer): Distortion {
  const engine = new Distortion([scene.parts[part]!.solid.centre]);
  engine.addStops(alone(part, tableStops(scene, part, settings)));
  for (const contact of scene.contacts) {
    const { a, b } = contact;
    if ((a === part && has(inPlace, b)) || (b === part && has(inPlace, a)))
      engine.addStops(alone(part, contactStops(contact, settings)));
  }
  return engine;
}

/**
 * A newcomer as the only body that moves, by its tacks in any order: the parts in place stand fixed where they should be,
 * whatever the tacks before have done, so that what it says of an order depends on nothing that the search does not know.
 * Items are numbers in the securing tacks followed by the completing ones; values are the greatest distance of a corner
 * from its place, mm, infinite where a seam gapes too wide for the next tack.
 */
export function localSequence(
  facts: Facts,
  newcomer: Newcomer,
  { securing, completing }: Phases,
  { hold, heldOn = false }: OwnHold,
): Sequence<Pulled> {
  const { scene, settings } = facts;
  const { part } = newcomer;
  const tacks = [...securing, ...completing].map(shrinkingTack);
  const across = tacks.map((tack) => acrossContact(scene, tack));
  const engine = inItsPlace(facts, newcomer);
  const gripped = hold && engine.add(alone(part, holdSprings(scene, heldBy(hold), settings)));
  const numbers = tacks.map((_, i) => i);
  return {
    groups: [numbers.slice(0, securing.length), numbers.slice(securing.length)],
    start: { engine, count: 0, gaped: false },
    after: ({ engine: before, count, gaped }, item) => {
      const tack = tacks[item]!;
      const apart = dot(before.displacement(0, tack.at), across[item]!) * (tack.b === part ? 1 : -1);
      const opening = Math.max(0, tack.gap + apart);
      const next = before.copy();
      next.add(alone(part, shrinkingSprings(scene, tack, settings, opening)));
      next.settle();
      if (gripped !== undefined && !heldOn && count + 1 === securing.length) {
        next.remove(gripped);
        next.settle();
      }
      return { engine: next, count: count + 1, gaped: gaped || !canBeTacked(scene, opening) };
    },
    value: ({ engine: end, gaped }) =>
      gaped ? Infinity : farthestCorner(scene.parts[part]!.solid, (at) => end.displacement(0, at)),
  };
}

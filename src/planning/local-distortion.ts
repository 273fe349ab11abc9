import type { Sequence } from '../algorithms/permutations.js';
import { has } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { length, type Vec3 } from '../geometry/vector.js';
import { Distortion, type Spring, type Stop } from '../mechanics/distortion.js';
import { GROUND } from '../mechanics/system.js';
import { holdSprings } from '../rules/distortion-holds.js';
import { contactStops, tableStops } from '../rules/distortion-stops.js';
import { shrinkingSprings } from '../rules/distortion-tacks.js';
import { cornersOf } from '../rules/stage-deviation.js';
import { heldBy, type HeldGrip } from './held-grip.js';
import type { Newcomer } from './securing.js';
import { shrinkingTack } from './shrinking-tack.js';
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
  readonly laid: number;
}

/**
 * A newcomer as the only body that moves, by its tacks in any order: the parts in place stand fixed where they should be,
 * whatever the tacks before have done, so that what it says of an order depends on nothing that the search does not know.
 * Items are numbers in the securing tacks followed by the completing ones; values are the greatest distance of a corner
 * from its place, mm.
 */
export function localSequence(
  facts: Facts,
  { part, inPlace }: Newcomer,
  { securing, completing }: Phases,
  { hold, heldOn = false }: OwnHold,
): Sequence<Pulled> {
  const { scene, settings } = facts;
  const { solid } = scene.parts[part]!;
  const alone = <T extends Spring | Stop>(points: readonly T[]): T[] =>
    points.map((point) => ({ ...point, a: point.a === part ? 0 : GROUND, b: point.b === part ? 0 : GROUND }));
  const metal = [...securing, ...completing].map((tack) =>
    alone(shrinkingSprings(scene, shrinkingTack(scene, tack), settings)),
  );
  const corners = cornersOf(solid);
  const engine = new Distortion([solid.centre]);
  engine.addStops(alone(tableStops(scene, part, settings)));
  for (const contact of scene.contacts) {
    const { a, b } = contact;
    if ((a === part && has(inPlace, b)) || (b === part && has(inPlace, a)))
      engine.addStops(alone(contactStops(contact, settings)));
  }
  const gripped = hold && engine.add(alone(holdSprings(scene, heldBy(hold), settings)));
  const numbers = metal.map((_, i) => i);
  return {
    groups: [numbers.slice(0, securing.length), numbers.slice(securing.length)],
    start: { engine, laid: 0 },
    after: ({ engine: before, laid }, item) => {
      const next = before.copy();
      next.add(metal[item]!);
      next.settle();
      if (gripped !== undefined && !heldOn && laid + 1 === securing.length) {
        next.remove(gripped);
        next.settle();
      }
      return { engine: next, laid: laid + 1 };
    },
    value: ({ engine: end }) =>
      Math.max(...corners.map((corner: Vec3) => length(end.displacement(0, corner)))),
  };
}

import { has, intersects, members, withMember, type PartSet } from '../base/part-set.js';
import type { Approach } from '../facts/approaches.js';
import type { Facts } from '../facts/facts.js';
import type { GripMotion } from '../facts/grip-motion.js';
import { ConflictChains, type Taken } from './conflict-chains.js';
import type { Blame, ConflictFact, FactTable } from './conflict-facts.js';
import { AskedGrips, isByCarrying, type AskedGrip } from './conflict-grips.js';
import type { Bringing } from './held-grip.js';
import { canBring, isOpen, routesOf } from './ways.js';

/** A way to bring a part that is not refused by what is asked for. */
export interface Candidate {
  /** The grip that holds it in its place; undefined where any of those that can be used and brought may. */
  readonly by: Bringing | undefined;
  /** The ways in which it may have been taken; undefined where it does not matter. */
  readonly taken: Iterable<Taken> | undefined;
}

/** What the table and the keep-outs are called where they are in the way. */
const FIXED = 'the table or a keep-out';

/** Approaches, grips and arms of a part as facts. */
export class ConflictHandling {
  readonly grips: AskedGrips;
  private readonly chains: ConflictChains;

  constructor(
    private readonly zero: Facts,
    private readonly table: FactTable,
  ) {
    this.grips = new AskedGrips(zero);
    this.chains = new ConflictChains(zero, table, this.grips);
  }

  /** Straight ways that stay open; every one that does not is blamed. */
  open(facts: Facts, part: number, inPlace: PartSet, blame: Blame): readonly Approach[] {
    return facts
      .approaches(part)
      .filter(
        (approach) => isOpen(approach, inPlace) || !blame.refuses(this.inTheWay(part, approach, inPlace)),
      );
  }

  /** What is in the way of an approach: one part, or two between which there is too little room. */
  private inTheWay(part: number, approach: Approach, inPlace: PartSet): readonly ConflictFact[] {
    const { table } = this;
    const fixed = approach.fixedHit;
    if (fixed !== undefined)
      return [table.of('approach', part, { other: fixed === 'table' ? 'the table' : 'a keep-out' })];
    const hits = members(approach.hits.map((word, i) => word & inPlace[i]!));
    const between = approach.squeezes.filter(([p, q]) => has(inPlace, p) && has(inPlace, q));
    return [
      ...hits.map((other) => table.of('approach', part, { other: table.nameOf(other) })),
      ...between.map(([p, q]) =>
        table.of('approach', part, { other: table.nameOf(p), also: table.nameOf(q) }),
      ),
    ];
  }

  /** Every candidate way along some approaches; what stands against the others is blamed. */
  *candidates(
    facts: Facts,
    part: number,
    inPlace: PartSet,
    approaches: readonly Approach[],
    blame: Blame,
  ): Generator<Candidate> {
    if (this.zero.spots(part).length === 0) {
      if (!blame.refuses([this.table.of('rest', part)])) yield { by: undefined, taken: undefined };
      return;
    }
    const { handlers, grippers } = facts.scene.cell;
    for (const robot of handlers)
      for (const { id } of grippers) {
        const asked = this.grips.of(part, robot, id);
        const capacity = this.grips.allows(part, id)
          ? this.table.of('capacity', part, { gripper: id })
          : this.table.of('grips', part);
        if (asked.length === 0 && !blame.refuses([capacity])) yield { by: undefined, taken: undefined };
        for (const grip of asked) {
          if (grip.refusal && blame.refuses([capacity])) continue;
          yield* this.byGrip(facts, part, inPlace, { grip, approaches }, blame);
        }
      }
  }

  private *byGrip(
    facts: Facts,
    part: number,
    inPlace: PartSet,
    { grip: asked, approaches }: { readonly grip: AskedGrip; readonly approaches: readonly Approach[] },
    blame: Blame,
  ): Generator<Candidate> {
    const { grip, refusal } = asked;
    const beside = approaches.filter(
      (approach) => !blame.refuses(this.besideGripper(facts, part, inPlace, asked, approach)),
    );
    if (beside.length === 0) return;
    const taken = this.chains.taken(part, asked, blame);
    if (taken === undefined) return;
    for (const approach of beside)
      for (const motion of this.motions(facts, part, inPlace, asked, approach, blame)) {
        const real = refusal === undefined && canBring(facts, part, grip);
        yield { by: real ? { grip, place: motion === 'any' ? undefined : motion } : undefined, taken };
      }
  }

  private besideGripper(
    facts: Facts,
    part: number,
    inPlace: PartSet,
    { grip }: AskedGrip,
    approach: Approach,
  ): readonly ConflictFact[] {
    const hits = facts.gripperHits(part, grip, approach);
    const { id: gripper } = grip.gripper;
    const fact = (other: string): ConflictFact => this.table.of('gripper-room', part, { other, gripper });
    if (hits.fixed) return [fact(FIXED)];
    if (!intersects(hits.parts, inPlace)) return [];
    return members(hits.parts.map((word, i) => word & inPlace[i]!)).map((other) =>
      fact(this.table.nameOf(other)),
    );
  }

  /** How its arm brings a part by a grip; `any` stands for a motion that is not asked about. */
  private *motions(
    facts: Facts,
    part: number,
    inPlace: PartSet,
    { grip, refusal }: AskedGrip,
    approach: Approach,
    blame: Blame,
  ): Generator<GripMotion | 'any'> {
    const { table } = this;
    const { id: robot } = grip.robot;
    const capacity = table.of('capacity', part, { gripper: grip.gripper.id });
    const reach = table.of('reach', part, { robot });
    const isCarried = (): boolean =>
      facts.carryRefusal(part, grip, facts.scene.parts[part]!.pose) === undefined;
    if (!blame.asked.has(reach)) {
      if (blame.asked.has(capacity) && !isCarried()) blame.refuses([capacity]);
      else yield 'any';
      if (refusal) return;
    }
    const strict = facts.place(part, grip, approach);
    const byCarrying = !strict.ok && isByCarrying(strict.error);
    if (byCarrying && blame.refuses([capacity])) return;
    const found = byCarrying ? facts.placeUncarried(part, grip, approach) : strict;
    if (!found.ok) {
      blame.refuses([reach]);
      return;
    }
    const room = table.of('arm-room', part, { robot });
    for (const motion of found.value)
      if (!blame.asked.has(room) || routesOf(motion, inPlace, withMember(inPlace, part))) yield motion;
      else blame.refuses([room]);
  }
}

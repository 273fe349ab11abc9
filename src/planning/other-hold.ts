import { intersects, members, setOf, withMember } from '../base/part-set.js';
import { fail, ok, type Result } from '../base/result.js';
import type { Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import type { Route } from '../facts/routes.js';
import type { GripMotion } from '../facts/grip-motion.js';
import { siteId } from '../facts/tack-sites.js';
import type { Refusal } from '../model/verdict.js';
import { torchLoads, type PartLoad } from '../rules/load-cases.js';
import { looseParts } from '../rules/loose-parts.js';
import type { Fall } from './first-short.js';
import { pushesOn } from './newcomer-pushes.js';
import { touchOf, type Newcomer, type NewcomerStatics } from './securing.js';
import { heldBy, type HeldGrip } from './held-grip.js';
import type { ChosenTack, TackLayouts } from './tack-layout.js';
import { routesOf } from './ways.js';

/** An earlier part that is held in its final place while the securing tacks are laid, and how the arm gets there. */
export interface AlsoHeld extends HeldGrip {
  readonly motion: GripMotion;
  /** From home to where it takes hold, unless it holds since it came; and home again. */
  readonly come: Route;
  readonly go: Route;
  /** Held since it was brought in the stage before; otherwise taken once the newcomer is let go. */
  readonly kept: boolean;
}

/** A loose neighbour of a newcomer, and what it does not carry when a torch touches it at their tacks. */
export interface LooseNeighbour {
  readonly part: number;
  readonly fall: Fall | undefined;
}

/** A hold of an earlier part, all tacks of the newcomer, and those of them that are laid during the hold. */
export interface OtherHold {
  readonly alsoHeld: AlsoHeld;
  readonly tacks: readonly ChosenTack[];
  readonly securing: readonly ChosenTack[];
  /** N by which the held part is pulled at before it is let go; undefined where its tacks may lose any one. */
  readonly proofPull: number | undefined;
  readonly fewestFound: boolean;
}

const between = (tacks: readonly ChosenTack[], part: number): readonly ChosenTack[] =>
  tacks.filter(({ a, b }) => a === part || b === part);

/** The earlier part as the one that is looked at, among all others with the newcomer. */
export function seenFrom({ scene }: Facts, { part, inPlace, clamped }: Newcomer, other: number): Newcomer {
  const around = [...members(inPlace).filter((i) => i !== other), part];
  return { part: other, inPlace: setOf(scene.parts.length, around), clamped };
}

/** Holds of an earlier part that stands by itself, while a newcomer that stands by itself too is tacked to it. */
export class OtherHolds {
  constructor(
    private readonly facts: Facts,
    private readonly statics: NewcomerStatics,
    private readonly layouts: TackLayouts,
  ) {}

  /**
   * Parts joined to a newcomer that no chain of tacks joins to the first part yet. Every joint between parts in place
   * is tacked, so the joints say which they are. `tacks` are those of the newcomer.
   */
  looseNeighbours(newcomer: Newcomer, tacks: readonly ChosenTack[]): readonly LooseNeighbour[] {
    const { inPlace, clamped } = newcomer;
    if (clamped === undefined) return [];
    const others = members(inPlace).filter((part) => part !== clamped);
    const loose = looseParts([clamped, ...others], this.facts.joints);
    return loose.flatMap((part) => {
      const own = between(tacks, part);
      if (own.length === 0) return [];
      const fall = this.statics.fall(seenFrom(this.facts, newcomer, part), [], [], this.touches(part, own));
      return [{ part, fall }];
    });
  }

  /** Holds `other` with the robot and gripper that brought the newcomer, by the first grip that does. */
  secure(newcomer: Newcomer, { gripper, robot }: Grip, other: number): Result<OtherHold, Refusal> {
    const { facts } = this;
    const subjects = [facts.scene.parts[other]!.part.id, gripper.id];
    let nearest: Refusal = { code: 'cannot-be-held-in-place', subjects };
    const present = withMember(newcomer.inPlace, newcomer.part);
    for (const grip of facts.usableGrips(other)) {
      if (grip.gripper !== gripper || grip.robot !== robot) continue;
      const hits = facts.holdHits(other, grip);
      if (hits.fixed || intersects(hits.parts, present)) continue;
      const motions = facts.hold(other, grip);
      if (!motions.ok) continue;
      for (const motion of motions.value) {
        const routes = routesOf(motion, present, present);
        if (!routes) continue;
        const found = this.securedBy(newcomer, { part: other, grip, motion, ...routes, kept: false });
        if (found.ok) return found;
        nearest = found.error;
      }
    }
    return fail(nearest);
  }

  private securedBy(newcomer: Newcomer, alsoHeld: AlsoHeld): Result<OtherHold, Refusal> {
    const { facts, statics } = this;
    const { part: other, grip } = alsoHeld;
    const laid = this.layouts.lay(newcomer, [alsoHeld]);
    if (laid.refusal) return fail(laid.refusal);
    const seen = seenFrom(facts, newcomer, other);
    const held = heldBy(alsoHeld);
    const unkept = statics.unkept(seen, held);
    if (unkept) return fail(unkept);
    const own = between(laid.tacks, other);
    if (own.every((tack) => tack.held.length === 0))
      return fail(this.layouts.noneWhileHeld(newcomer.part, newcomer.inPlace, alsoHeld));
    const securing = statics.securing(seen, grip, own);
    if (!securing.ok) return fail(this.refusal('cannot-be-secured', other, grip, securing.error));
    const { tacks, proof, fewestFound } = securing.value;
    const loads = [...pushesOn(facts, seen), ...this.touches(other, tacks)];
    const fall = statics.fall(seen, [], [held], loads);
    if (fall) return fail(this.refusal('hold-gives-way', other, grip, fall));
    const unproved = proof ? statics.unproved(seen, held, tacks) : undefined;
    if (unproved) return fail(this.refusal('cannot-be-proved', other, grip, unproved));
    const proofPull = proof ? facts.settings.loads['proof-pull'] : undefined;
    return ok({ alsoHeld, tacks: laid.tacks, securing: tacks, proofPull, fewestFound });
  }

  private touches(part: number, tacks: readonly ChosenTack[]): readonly PartLoad[] {
    return tacks.flatMap((tack) => torchLoads(part, touchOf(tack, siteId(tack.site)), this.facts.settings));
  }

  private refusal(code: string, part: number, grip: Grip, { load, reserve, required }: Fall): Refusal {
    const subjects = [this.facts.scene.parts[part]!.part.id, grip.gripper.id, grip.face, load];
    return { code, subjects, value: reserve, limit: required, unit: 'reserve' };
  }
}

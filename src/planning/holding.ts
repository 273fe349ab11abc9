import { Kept } from '../base/kept.js';
import { fail, ok, type Result } from '../base/result.js';
import { setKey } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import { siteId } from '../facts/tack-sites.js';
import type { Refusal } from '../model/verdict.js';
import { otherLetGoLoad, torchLoads } from '../rules/load-cases.js';
import { onPart } from '../rules/loose-parts.js';
import { fallsUnheld, inReserves, type Fall } from './first-short.js';
import type { KeptHold } from './kept-hold.js';
import { OtherHolds, type LooseNeighbour, seenFrom } from './other-hold.js';
import { pushesOn } from './newcomer-pushes.js';
import { NewcomerStatics, touchOf, type Newcomer } from './securing.js';
import type { Holding } from './stage-draft.js';
import { TackOrders } from './tack-orders.js';
import { heldBy, holdBy, holdKey, type Bringing } from './held-grip.js';
import { TackLayouts, type ChosenTack } from './tack-layout.js';

/** What does not depend on the grip: the tacks of a part that nobody holds, and what does not carry the loads then. */
interface Unheld {
  readonly tacks: readonly ChosenTack[];
  readonly refusal: Refusal | undefined;
  readonly fall: Fall | undefined;
  readonly neighbours: readonly LooseNeighbour[];
}

const keyOf = (asked: Newcomer['asked']): string => (asked ? ` ${asked.key}` : '');

const NOBODY = { held: false, alsoHeld: undefined } as const;

/** Decides whether a newcomer is held and which tacks secure it, or says what stands against it. Answers are kept. */
export class Holdings {
  private readonly answers: Kept<Result<Holding, Refusal>>;
  private readonly unheldAnswers: Kept<Unheld>;
  private readonly statics: NewcomerStatics;
  private readonly layouts: TackLayouts;
  private readonly others: OtherHolds;
  private readonly orders: TackOrders;

  constructor(private readonly facts: Facts) {
    this.answers = new Kept(facts.keeping);
    this.unheldAnswers = new Kept(facts.keeping);
    this.statics = new NewcomerStatics(facts);
    this.layouts = new TackLayouts(facts);
    this.others = new OtherHolds(facts, this.statics, this.layouts);
    this.orders = new TackOrders(facts);
  }

  /** The holding that is planned first: not held where the part stands by itself, held and tacked otherwise. */
  first(newcomer: Newcomer, by: Bringing): Result<Holding, Refusal> {
    return this.kept('first', newcomer, by, () =>
      newcomer.clamped === undefined ? this.firstPart(newcomer, by.grip) : this.laterPart(newcomer, by),
    );
  }

  /** Whether the holding that is planned first is one by a robot, if there is any: much sooner known than how it holds. */
  mustHold(newcomer: Newcomer, by: Bringing): boolean {
    return this.unheldFall(newcomer, by) !== undefined;
  }

  /** What a part that must be held would not carry while nobody holds it. */
  unheldFall(newcomer: Newcomer, { grip }: Bringing): Refusal | undefined {
    if (newcomer.clamped === undefined) return undefined;
    const { refusal, tacks, fall } = this.unheld(newcomer);
    if (refusal || tacks.length === 0) return undefined;
    const unheld = fall ?? this.statics.letGoFall(newcomer, grip, [], tacks);
    return unheld && fallsUnheld(this.nameOf(newcomer.part), unheld);
  }

  /** The part held and tacked, though it might stand by itself: for an assembly that would not carry it so. */
  held(newcomer: Newcomer, by: Bringing): Result<Holding, Refusal> {
    return this.kept('held', newcomer, by, () => this.heldPart(newcomer, by));
  }

  /** The part held until every tack that can be laid meanwhile is laid: for an assembly that fewer would not carry. */
  strongest(newcomer: Newcomer, by: Bringing): Result<Holding, Refusal> {
    return this.kept('strongest', newcomer, by, () => {
      const fewest = this.held(newcomer, by);
      if (!fewest.ok) return fewest;
      const { tacks } = fewest.value;
      return ok({
        ...fewest.value,
        fewestFound: false,
        tacks: this.orders.of(
          newcomer,
          tacks,
          tacks.filter((tack) => tack.held.length > 0),
          { hold: holdBy(newcomer.part, by) },
        ),
      });
    });
  }

  /** Earlier parts that could be held while the newcomer stands by itself: for an assembly that asks for it. */
  beside(newcomer: Newcomer, by: Bringing): readonly Holding[] {
    return this.unheld(newcomer).neighbours.flatMap(({ part }) => {
      const holding = this.besideOther(newcomer, by, part);
      return holding.ok ? [holding.value] : [];
    });
  }

  /** The part held on after its tacks, all of which are laid meanwhile: for one that is not secured alone. */
  keeping(newcomer: Newcomer, by: Bringing): Result<Holding, Refusal> {
    return this.kept('keeping', newcomer, by, () => {
      const { part } = newcomer;
      const own = holdBy(part, by);
      const toppled = this.toppled(newcomer, by.grip);
      if (toppled) return toppled;
      const unkept = this.statics.unkept(newcomer, heldBy(own));
      if (unkept) return fail(unkept);
      const laid = this.layouts.lay(newcomer, [own]);
      if (laid.refusal) return fail(laid.refusal);
      if (laid.tacks.some((tack) => tack.held.length === 0))
        return fail({ code: 'tack-left-over', subjects: [this.facts.scene.parts[part]!.part.id] });
      const fall = this.heldFall(newcomer, by.grip, laid.tacks);
      if (fall) return this.refused('hold-gives-way', by.grip, part, fall);
      const tacks = this.orders.of(newcomer, laid.tacks, laid.tacks, { hold: own, heldOn: true });
      return ok({ held: true, alsoHeld: undefined, stands: 'held', tacks });
    });
  }

  /** The part and another one, each held, until tacks let both be let go. */
  pair(newcomer: Newcomer, by: Bringing, kept: KeptHold): Result<Holding, Refusal> {
    return this.kept(`pair ${kept.part} ${holdKey(kept)}`, newcomer, by, () => {
      const { facts } = this;
      const { part } = newcomer;
      const { grip } = by;
      const own = holdBy(part, by);
      const unkept = this.statics.unkept(newcomer, heldBy(own));
      if (unkept) return fail(unkept);
      const laid = this.layouts.lay(newcomer, [own, kept]);
      if (laid.refusal) return fail(laid.refusal);
      const both = { ...newcomer, beside: { part: kept.part, tacks: kept.tacks } };
      const further = [
        ...onPart(facts.scene, kept.part, pushesOn(facts, seenFrom(facts, newcomer, kept.part))),
        otherLetGoLoad(facts.scene, heldBy(kept)),
      ];
      const securing = this.statics.securing(both, grip, laid.tacks, further);
      if (!securing.ok) return this.refused('cannot-be-secured', grip, part, securing.error);
      const { tacks, proof, fewestFound } = securing.value;
      // Two arms that let go one after the other leave no moment for a pull that proves the tacks of both.
      if (proof)
        return fail({ code: 'two-holds-unproved', subjects: [this.nameOf(part), this.nameOf(kept.part)] });
      const fall = this.heldFall(newcomer, grip, tacks);
      if (fall) return this.refused('hold-gives-way', grip, part, fall);
      return ok({
        ...{ held: true, alsoHeld: kept, stands: 'tacked', fewestFound },
        tacks: this.orders.of(newcomer, laid.tacks, tacks, { hold: own }),
      });
    });
  }

  /** What a hold does not carry before the first of these tacks. */
  private heldFall(newcomer: Newcomer, grip: Grip, tacks: readonly ChosenTack[]): Fall | undefined {
    const { part } = newcomer;
    const { settings } = this.facts;
    const touches = tacks.flatMap((tack) => torchLoads(part, touchOf(tack, siteId(tack.site)), settings));
    const loads = [...pushesOn(this.facts, newcomer), ...touches];
    return this.statics.fall(newcomer, [], [heldBy({ part, grip })], loads);
  }

  private nameOf(part: number): string {
    return this.facts.scene.parts[part]!.part.id;
  }

  /** Answers depend on who is there to be touched, joined or hit, on the grip and on how its arm stands. */
  private kept(
    kind: string,
    { part, inPlace, clamped, asked }: Newcomer,
    by: Bringing,
    decide: () => Result<Holding, Refusal>,
  ): Result<Holding, Refusal> {
    const key = `${kind} ${part} ${clamped ?? '-'} ${setKey(inPlace)} ${holdKey(holdBy(part, by))}${keyOf(asked)}`;
    return this.answers.get(key, decide);
  }

  private firstPart(newcomer: Newcomer, grip: Grip): Result<Holding, Refusal> {
    const { part } = newcomer;
    const fall = this.statics.letGoFall(newcomer, grip, [], []);
    if (fall) return this.refused('first-part-falls', grip, part, fall);
    const stands = this.facts.scene.cell.table.clamp.force > 0 ? 'clamped' : 'free-standing';
    return ok({ ...NOBODY, stands, tacks: [] });
  }

  private laterPart(newcomer: Newcomer, by: Bringing): Result<Holding, Refusal> {
    const alone = this.unheld(newcomer);
    if (alone.refusal) return fail(alone.refusal);
    if (alone.tacks.length === 0) return this.loosePart(newcomer, by.grip);
    if (this.mustHold(newcomer, by)) return this.held(newcomer, by);
    const toppled = alone.neighbours.find(({ fall }) => fall !== undefined);
    if (toppled) return this.besideOther(newcomer, by, toppled.part);
    return ok({
      ...NOBODY,
      stands: 'free-standing',
      tacks: this.orders.of(newcomer, alone.tacks, []),
    });
  }

  /** The newcomer stands by itself, and an earlier part that does so too is held while the two are tacked. */
  private besideOther(newcomer: Newcomer, by: Bringing, other: number): Result<Holding, Refusal> {
    const toppled = this.toppled(newcomer, by.grip, other);
    if (toppled) return toppled;
    return this.kept(`beside ${other}`, newcomer, by, () => {
      const hold = this.others.secure(newcomer, by.grip, other);
      if (!hold.ok) return hold;
      const { alsoHeld, tacks, securing, proofPull, fewestFound } = hold.value;
      return ok({
        ...{ held: false, alsoHeld, stands: 'free-standing', proofPull, fewestFound },
        tacks: this.orders.of(newcomer, tacks, securing),
      });
    });
  }

  /** The refusal when the torch would push over a loose neighbour that nobody holds. */
  private toppled(newcomer: Newcomer, grip: Grip, held?: number): Result<Holding, Refusal> | undefined {
    for (const { part, fall } of this.unheld(newcomer).neighbours)
      if (fall && part !== held) return this.refused('torch-topples', grip, part, fall);
    return undefined;
  }

  /** A part that nothing in place is joined to: it must stand by itself until a later part comes. */
  private loosePart(newcomer: Newcomer, grip: Grip): Result<Holding, Refusal> {
    const fall = this.statics.letGoFall(newcomer, grip, [], []);
    if (fall) return this.refused('does-not-stand', grip, newcomer.part, fall);
    return ok({ ...NOBODY, stands: 'free-standing', tacks: [] });
  }

  private heldPart(newcomer: Newcomer, by: Bringing): Result<Holding, Refusal> {
    const { facts, statics } = this;
    const { part, inPlace } = newcomer;
    const { grip } = by;
    const own = holdBy(part, by);
    const alone = this.unheld(newcomer);
    if (alone.refusal) return fail(alone.refusal);
    if (alone.tacks.length === 0)
      return fail({ code: 'nothing-to-tack', subjects: [facts.scene.parts[part]!.part.id] });
    const toppled = this.toppled(newcomer, grip);
    if (toppled) return toppled;
    const held = heldBy(own);
    const unkept = statics.unkept(newcomer, held);
    if (unkept) return fail(unkept);
    const pushed = statics.fall(newcomer, [], [held], pushesOn(facts, newcomer));
    if (pushed) return this.refused('hold-gives-way', grip, part, pushed);
    if (alone.fall && !this.layouts.anyWhileHeld(part, inPlace, own))
      return fail(this.layouts.noneWhileHeld(part, inPlace, own));
    const laid = this.layouts.lay(newcomer, [own]);
    if (laid.refusal) return fail(laid.refusal);
    const securing = statics.securing(newcomer, grip, laid.tacks);
    if (!securing.ok) return this.refused('cannot-be-secured', grip, part, securing.error);
    const { tacks, proof, fewestFound } = securing.value;
    const touches = tacks.flatMap((tack) =>
      torchLoads(part, touchOf(tack, siteId(tack.site)), facts.settings),
    );
    const touched = statics.fall(newcomer, [], [held], touches);
    if (touched) return this.refused('hold-gives-way', grip, part, touched);
    const unproved = proof ? statics.unproved(newcomer, held, tacks) : undefined;
    if (unproved) return this.refused('cannot-be-proved', grip, part, unproved);
    const proofPull = proof ? facts.settings.loads['proof-pull'] : undefined;
    return ok({
      ...{ held: true, alsoHeld: undefined, stands: 'tacked', proofPull, fewestFound },
      tacks: this.orders.of(newcomer, laid.tacks, tacks, { hold: own }),
    });
  }

  private refused(code: string, grip: Grip, part: number, fall: Fall): Result<Holding, Refusal> {
    const subjects = [this.nameOf(part), grip.gripper.id, grip.face, fall.load];
    return fail({ code, subjects, ...inReserves(fall) });
  }

  private unheld(newcomer: Newcomer): Unheld {
    const { part, inPlace, clamped, asked } = newcomer;
    const key = `${part} ${clamped} ${setKey(inPlace)}${keyOf(asked)}`;
    return this.unheldAnswers.get(key, () => {
      const laid = this.layouts.lay(newcomer, []);
      const pushes = pushesOn(this.facts, newcomer);
      return {
        ...laid,
        fall: laid.refusal ? undefined : this.statics.fall(newcomer, [], [], pushes),
        neighbours: this.others.looseNeighbours(newcomer, laid.tacks),
      };
    });
  }
}

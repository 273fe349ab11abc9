import { Kept } from '../base/kept.js';
import { fail, ok, type Result } from '../base/result.js';
import { members, setKey } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import { siteId } from '../facts/tack-sites.js';
import type { Refusal } from '../model/verdict.js';
import type { HeldPart } from '../rules/assembly.js';
import { proofLoad, pushLoads, torchLoads } from '../rules/load-cases.js';
import { proofReserve } from '../rules/proof-reserve.js';
import type { Fall } from './first-short.js';
import { letGoLoads, NewcomerStatics, touchOf, type Newcomer, type Securing } from './securing.js';
import { numbered, type Holding } from './stage-draft.js';
import { TackLayouts, type ChosenTack } from './tack-layout.js';

/** What does not depend on the grip: the tacks of a part that nobody holds, and what it does not carry then. */
interface Unheld {
  readonly tacks: readonly ChosenTack[];
  readonly refusal: Refusal | undefined;
  readonly fall: Fall | undefined;
}

/** Decides whether a newcomer is held and which tacks secure it, or says what stands against it. Answers are kept. */
export class Holdings {
  private readonly answers: Kept<Result<Holding, Refusal>>;
  private readonly unheldAnswers: Kept<Unheld>;
  private readonly statics: NewcomerStatics;
  private readonly layouts: TackLayouts;

  constructor(private readonly facts: Facts) {
    this.answers = new Kept(facts.keeping);
    this.unheldAnswers = new Kept(facts.keeping);
    this.statics = new NewcomerStatics(facts);
    this.layouts = new TackLayouts(facts);
  }

  /** The holding that is planned first: not held where the part stands by itself, held and tacked otherwise. */
  first(newcomer: Newcomer, grip: Grip): Result<Holding, Refusal> {
    return this.kept('first', newcomer, grip, () =>
      newcomer.clamped === undefined ? this.firstPart(newcomer, grip) : this.laterPart(newcomer, grip),
    );
  }

  /** The part held and tacked, though it might stand by itself: for an assembly that would not carry it so. */
  held(newcomer: Newcomer, grip: Grip): Result<Holding, Refusal> {
    return this.kept('held', newcomer, grip, () => this.heldPart(newcomer, grip));
  }

  /** The part held until every tack that can be laid meanwhile is laid: for an assembly that fewer would not carry. */
  strongest(newcomer: Newcomer, grip: Grip): Result<Holding, Refusal> {
    return this.kept('strongest', newcomer, grip, () => {
      const fewest = this.held(newcomer, grip);
      if (!fewest.ok) return fewest;
      const { tacks } = fewest.value;
      return ok({
        ...fewest.value,
        tacks: numbered(
          tacks,
          tacks.filter((tack) => tack.held !== undefined),
        ),
      });
    });
  }

  /** Answers depend on who is there to be touched, joined or hit, and on the grip. */
  private kept(
    kind: string,
    { part, inPlace, clamped }: Newcomer,
    grip: Grip,
    decide: () => Result<Holding, Refusal>,
  ): Result<Holding, Refusal> {
    const key = `${kind} ${part} ${clamped ?? '-'} ${setKey(inPlace)} ${grip.id}`;
    return this.answers.get(key, decide);
  }

  private firstPart(newcomer: Newcomer, grip: Grip): Result<Holding, Refusal> {
    const { part } = newcomer;
    const fall = this.statics.fall(newcomer, [], undefined, letGoLoads(this.facts, newcomer, grip, []));
    if (fall) return this.refused('first-part-falls', grip, part, fall);
    const stands = this.facts.scene.cell.table.clamp.force > 0 ? 'clamped' : 'free-standing';
    return ok({ held: false, stands, tacks: [] });
  }

  private laterPart(newcomer: Newcomer, grip: Grip): Result<Holding, Refusal> {
    const alone = this.unheld(newcomer);
    if (alone.refusal) return fail(alone.refusal);
    if (alone.fall || this.statics.fall(newcomer, [], undefined, this.letGo(newcomer, grip, alone.tacks)))
      return this.held(newcomer, grip);
    return ok({ held: false, stands: 'free-standing', tacks: numbered(alone.tacks, []) });
  }

  private heldPart(newcomer: Newcomer, grip: Grip): Result<Holding, Refusal> {
    const { facts, statics } = this;
    const { part, inPlace } = newcomer;
    const alone = this.unheld(newcomer);
    if (alone.refusal) return fail(alone.refusal);
    if (alone.fall && !this.layouts.anyWhileHeld(part, inPlace, grip))
      return fail(this.layouts.noneWhileHeld(part, inPlace, grip));
    const laid = this.layouts.lay(part, inPlace, grip);
    if (laid.refusal) return fail(laid.refusal);
    const held = { part, grip, gripper: grip.gripper };
    const pushed = statics.fall(newcomer, [], held, this.pushes(newcomer));
    if (pushed) return this.refused('hold-gives-way', grip, part, pushed);
    const securing = statics.securing(newcomer, grip, laid.tacks);
    if (!securing.ok) return this.refused('cannot-be-secured', grip, part, securing.error);
    const { tacks, proof } = securing.value;
    const touches = tacks.flatMap((tack) =>
      torchLoads(part, touchOf(tack, siteId(tack.site)), facts.settings),
    );
    const touched = statics.fall(newcomer, [], held, touches);
    if (touched) return this.refused('hold-gives-way', grip, part, touched);
    const unproved = proof ? this.unproved(newcomer, held, tacks) : undefined;
    if (unproved) return this.refused('cannot-be-proved', grip, part, unproved);
    const proofPull = proof ? facts.settings.loads['proof-pull'] : undefined;
    return ok({ held: true, stands: 'tacked', proofPull, tacks: numbered(laid.tacks, tacks) });
  }

  /** What a proof pull would tear: the tacks, or the part off the gripper. */
  private unproved(newcomer: Newcomer, held: HeldPart, tacks: Securing['tacks']): Fall | undefined {
    const { scene, settings, programs } = this.facts;
    const { part, grip, gripper } = held;
    const force = settings.loads['proof-pull'];
    const load = proofLoad(scene, part, grip, gripper, force);
    const required = settings.reserves.accident;
    const reserve = proofReserve(programs, scene, held, force, settings);
    if (reserve < required) return { load: `${load.name} at the gripper`, reserve, required };
    return this.statics.fall(newcomer, tacks, undefined, [load]);
  }

  private pushes({ part, inPlace }: Newcomer): ReturnType<typeof pushLoads> {
    return pushLoads(this.facts.scene, part, members(inPlace), this.facts.settings);
  }

  private letGo(newcomer: Newcomer, grip: Grip, tacks: readonly ChosenTack[]): ReturnType<typeof letGoLoads> {
    return letGoLoads(this.facts, newcomer, grip, tacks);
  }

  private refused(
    code: string,
    grip: Grip,
    part: number,
    { load, reserve, required }: Fall,
  ): Result<Holding, Refusal> {
    const subjects = [this.facts.scene.parts[part]!.part.id, grip.gripper.id, grip.face, load];
    return fail({ code, subjects, value: reserve, limit: required, unit: 'reserve' });
  }

  private unheld(newcomer: Newcomer): Unheld {
    const { part, inPlace, clamped } = newcomer;
    const key = `${part} ${clamped} ${setKey(inPlace)}`;
    return this.unheldAnswers.get(key, () => {
      const laid = this.layouts.lay(part, inPlace, undefined);
      return {
        ...laid,
        fall: laid.refusal ? undefined : this.statics.fall(newcomer, [], undefined, this.pushes(newcomer)),
      };
    });
  }
}

import { setKey } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { TorchMotion } from '../facts/tack-sites.js';
import { pushLoads, torchLoads } from '../rules/load-cases.js';
import { letGoLoads, NewcomerStatics, touchOf, type Fall, type Newcomer } from './securing.js';
import { TackLayouts, type ChosenTack } from './tack-layout.js';
import { orderTacks } from './tack-order.js';
import type { Way } from './ways.js';
import type { Refusal } from '../model/verdict.js';

/** A tack with its id, its place in the stage's order and how the torch moves. */
export interface StageTack extends ChosenTack {
  readonly id: string;
  readonly order: number;
  readonly phase: 'securing' | 'completing';
  readonly motion: TorchMotion;
}

/** One stage as the planner decides it: everything but its place in time. */
export interface StageDraft {
  readonly part: number;
  readonly way: Way;
  readonly held: boolean;
  readonly stands: 'clamped' | 'free-standing' | 'tacked';
  readonly tacks: readonly StageTack[];
}

/** What a way leads to: a stage, or the reason why it does not. */
export type Drafted =
  | { readonly draft: StageDraft; readonly refusal?: undefined }
  | { readonly draft?: undefined; readonly refusal: Refusal };

/** A tack by its seam and where on it it starts. */
const idOf = ({ site }: ChosenTack): string => `${site.seam.id}@${site.start}`;

/** Gives the tacks of a stage their order, phase, id and torch motion. */
export function numbered(
  tacks: readonly ChosenTack[],
  securing: readonly ChosenTack[],
): readonly StageTack[] {
  const first = orderTacks(tacks.filter((tack) => securing.includes(tack)));
  const later = orderTacks(tacks.filter((tack) => !securing.includes(tack)));
  return [...first, ...later].map((tack, i) => ({
    ...tack,
    id: idOf(tack),
    order: i + 1,
    phase: i < first.length ? ('securing' as const) : ('completing' as const),
    motion: i < first.length ? tack.held! : tack.free,
  }));
}

interface Unheld {
  readonly tacks: readonly ChosenTack[];
  readonly refusal: Refusal | undefined;
  readonly fall: Fall | undefined;
}

/** Decides holds and tacks of one stage for one way, or says what stands against it. Answers are kept. */
export class StageDrafter {
  private readonly answers = new Map<string, Drafted>();
  private readonly unheldAnswers = new Map<string, Unheld>();

  private readonly statics: NewcomerStatics;
  private readonly layouts: TackLayouts;

  constructor(private readonly facts: Facts) {
    this.statics = new NewcomerStatics(facts);
    this.layouts = new TackLayouts(facts);
  }

  draft(newcomer: Newcomer, way: Way): Drafted {
    const key = this.keyOf(newcomer, way);
    const known = this.answers.get(key);
    if (known) return known.draft ? { draft: { ...known.draft, way } } : known;
    const drafted =
      newcomer.clamped === undefined ? this.firstPart(newcomer, way) : this.laterPart(newcomer, way);
    this.answers.set(key, drafted);
    return drafted;
  }

  /** What the answer depends on: who is there to be touched, joined or hit, and the grip. */
  private keyOf({ part, inPlace, clamped }: Newcomer, way: Way): string {
    return `${part} ${clamped ?? '-'} ${setKey(inPlace)} ${way.grip.id}`;
  }

  private firstPart(newcomer: Newcomer, way: Way): Drafted {
    const { part } = newcomer;
    const fall = this.statics.fall(newcomer, [], undefined, letGoLoads(this.facts, part, way.grip, []));
    if (fall) return this.refused('first-part-falls', way, part, fall);
    const stands = this.facts.scene.cell.table.clamp.force > 0 ? 'clamped' : 'free-standing';
    return { draft: { part, way, held: false, stands, tacks: [] } };
  }

  private laterPart(newcomer: Newcomer, way: Way): Drafted {
    const { facts, statics } = this;
    const { part, inPlace } = newcomer;
    const alone = this.unheld(newcomer);
    if (alone.refusal) return { refusal: alone.refusal };
    if (!alone.fall && !statics.fall(newcomer, [], undefined, letGoLoads(facts, part, way.grip, alone.tacks)))
      return { draft: { part, way, held: false, stands: 'free-standing', tacks: numbered(alone.tacks, []) } };
    if (alone.fall && !this.layouts.anyWhileHeld(part, inPlace, way.grip))
      return this.refused('cannot-be-secured', way, part, alone.fall);
    const laid = this.layouts.lay(part, inPlace, way.grip);
    if (laid.refusal) return { refusal: laid.refusal };
    const held = { part, grip: way.grip, gripper: way.grip.gripper };
    const slipsFirst = statics.fall(newcomer, [], held, pushLoads(facts.scene, part, facts.settings));
    if (slipsFirst) return this.refused('hold-gives-way', way, part, slipsFirst);
    const securing = statics.securing(newcomer, way.grip, laid.tacks);
    if (!securing.ok) return this.refused('cannot-be-secured', way, part, securing.error);
    const touches = securing.value.flatMap((tack) =>
      torchLoads(part, touchOf(tack, idOf(tack)), facts.settings),
    );
    const slips = statics.fall(newcomer, [], held, touches);
    if (slips) return this.refused('hold-gives-way', way, part, slips);
    return {
      draft: { part, way, held: true, stands: 'tacked', tacks: numbered(laid.tacks, securing.value) },
    };
  }

  private refused(code: string, { grip }: Way, part: number, { load, reserve, required }: Fall): Drafted {
    const subjects = [this.facts.scene.parts[part]!.part.id, grip.gripper.id, grip.face, load];
    return { refusal: { code, subjects, value: reserve, limit: required, unit: 'reserve' } };
  }

  /** What does not depend on the grip: the tacks of a part that nobody holds, and whether it stands when pushed. */
  private unheld(newcomer: Newcomer): Unheld {
    const { facts } = this;
    const { part, inPlace, clamped } = newcomer;
    const key = `${part} ${clamped} ${setKey(inPlace)}`;
    let found = this.unheldAnswers.get(key);
    if (!found) {
      const laid = this.layouts.lay(part, inPlace, undefined);
      const pushes = pushLoads(facts.scene, part, facts.settings);
      found = {
        ...laid,
        fall: laid.refusal ? undefined : this.statics.fall(newcomer, [], undefined, pushes),
      };
      this.unheldAnswers.set(key, found);
    }
    return found;
  }
}

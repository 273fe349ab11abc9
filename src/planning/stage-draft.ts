import { setKey, withMember } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { TorchMotion } from '../facts/tack-sites.js';
import { pushLoads, torchLoads } from '../rules/load-cases.js';
import { letGoLoads, newcomerStands, securingTacks, touchOf, type Newcomer } from './securing.js';
import { layTacks, type ChosenTack } from './tack-layout.js';
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

/** Gives the tacks of a stage their order, phase, id and torch motion. */
export function numbered(
  tacks: readonly ChosenTack[],
  securing: readonly ChosenTack[],
): readonly StageTack[] {
  const first = orderTacks(tacks.filter((tack) => securing.includes(tack)));
  const later = orderTacks(tacks.filter((tack) => !securing.includes(tack)));
  return [...first, ...later].map((tack, i) => ({
    ...tack,
    id: `${tack.site.seam.id}@${tack.site.start}`,
    order: i + 1,
    phase: i < first.length ? ('securing' as const) : ('completing' as const),
    motion: i < first.length ? tack.held! : tack.free,
  }));
}

/** Decides holds and tacks of one stage for one way, or says what stands against it. Answers are kept. */
export class StageDrafter {
  private readonly answers = new Map<string, Drafted>();

  constructor(private readonly facts: Facts) {}

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
    const { facts } = this;
    const { part } = newcomer;
    const loads = letGoLoads(facts, part, way.grip, []);
    if (!newcomerStands(facts, newcomer, [], undefined, loads))
      return { refusal: { code: 'first-part-unstable', subjects: [this.name(part)] } };
    const stands = facts.scene.cell.table.clamp.force > 0 ? 'clamped' : 'free-standing';
    return { draft: { part, way, held: false, stands, tacks: [] } };
  }

  private laterPart(newcomer: Newcomer, way: Way): Drafted {
    const { facts } = this;
    const { part, inPlace } = newcomer;
    const present = withMember(inPlace, part);
    const alone = layTacks(facts, part, inPlace, present, undefined);
    if (alone.refusal) return { refusal: alone.refusal };
    if (newcomerStands(facts, newcomer, [], undefined, letGoLoads(facts, part, way.grip, alone.tacks)))
      return { draft: { part, way, held: false, stands: 'free-standing', tacks: numbered(alone.tacks, []) } };
    const laid = layTacks(facts, part, inPlace, present, way.grip);
    if (laid.refusal) return { refusal: laid.refusal };
    const securing = securingTacks(facts, newcomer, way.grip, laid.tacks);
    if (!securing) return { refusal: { code: 'cannot-be-secured', subjects: [this.name(part)] } };
    const held = { part, grip: way.grip, gripper: way.grip.gripper };
    const loads = [
      ...pushLoads(facts.scene, part, facts.settings),
      ...securing.flatMap((tack, i) => torchLoads(part, touchOf(tack, `${i}`), facts.settings)),
    ];
    if (!newcomerStands(facts, newcomer, [], held, loads))
      return {
        refusal: { code: 'hold-gives-way', subjects: [this.name(part), way.grip.gripper.id, way.grip.face] },
      };
    return { draft: { part, way, held: true, stands: 'tacked', tacks: numbered(laid.tacks, securing) } };
  }

  private name(part: number): string {
    return this.facts.scene.parts[part]!.part.id;
  }
}

import { Kept } from '../base/kept.js';
import { Numbered } from '../base/numbered.js';
import { fail, ok, type Result } from '../base/result.js';
import type { Refusal } from '../model/verdict.js';
import { members, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import { prepare } from '../mechanics/equilibrium.js';
import { assemblySystem, type HeldPart, type LaidTack } from '../rules/assembly.js';
import {
  asDisturbances,
  letGoLoad,
  proofLoad,
  torchLoads,
  wireLoads,
  type PartLoad,
  type TorchTouch,
} from '../rules/load-cases.js';
import { hotTack, secondsAtLetGo } from '../rules/hot-tacks.js';
import { proofReserve } from '../rules/proof-reserve.js';
import { fewestThat } from './fewest-that.js';
import { fallOf, type Fall } from './first-short.js';
import { pushesOn } from './newcomer-pushes.js';
import type { TackAsk } from './tack-ask.js';
import type { ChosenTack } from './tack-layout.js';
import { touching } from './touching.js';

/** A newcomer among parts that count as fixed: the quick test of the order search. */
export interface Newcomer {
  readonly part: number;
  readonly inPlace: PartSet;
  /** The first part in place, which the clamp presses to the table; undefined when the newcomer is the first. */
  readonly clamped: number | undefined;
  /** A part in place that was held as well and is let go with it, and the tacks that it has. */
  readonly beside?: { readonly part: number; readonly tacks: readonly LaidTack[] };
  /** What is asked of its tacks beside the rules. */
  readonly asked?: TackAsk | undefined;
}

export const touchOf = (tack: LaidTack & Pick<ChosenTack, 'site'>, id: string): TorchTouch => ({
  id,
  at: tack.at,
  along: tack.along,
  open: tack.site.open,
});

/** Loads on a newcomer that nobody holds, with these tacks still to be laid; `inPlace` are the other parts there. */
export const standingLoads = (
  facts: Facts,
  newcomer: Pick<Newcomer, 'part' | 'inPlace'>,
  completing: readonly ChosenTack[],
): readonly PartLoad[] => [
  ...pushesOn(facts, newcomer),
  ...completing.flatMap((tack, i) => torchLoads(newcomer.part, touchOf(tack, `${i}`), facts.settings)),
  ...completing.flatMap((tack, i) => wireLoads(newcomer.part, touchOf(tack, `${i}`), facts.settings)),
];

/** Tacks after which a part may be let go, whether only after a pull that proves them, and whether fewer may do. */
export interface Securing {
  readonly tacks: readonly ChosenTack[];
  readonly proof: boolean;
  readonly fewestFound: boolean;
}

/** What tells a hold from others. */
const told = ({ part, grip, gripper, robot }: HeldPart): readonly unknown[] => {
  const { face, position, turn, group } = grip;
  return [robot.id, part, face, position, turn, gripper.id, group];
};

/** Statics of a newcomer while everything else counts as one fixed body. Answers are kept. */
export class NewcomerStatics {
  private readonly answers: Kept<Fall | undefined>;
  private readonly pulls: Kept<number | undefined>;
  private readonly loads = new Numbered<PartLoad>((load) => load);
  private readonly metal = new Numbered<LaidTack>(({ at, along, length, strength, hot }) => [
    at,
    along,
    length,
    strength,
    hot,
  ]);
  private readonly cold = new WeakMap<LaidTack, LaidTack>();

  constructor(private readonly facts: Facts) {
    this.answers = new Kept(facts.keeping);
    this.pulls = new Kept(facts.keeping);
  }

  /** What the newcomer does not carry with the required reserve; undefined when it carries gravity and every load. */
  fall(
    newcomer: Newcomer,
    tacks: readonly LaidTack[],
    held: readonly HeldPart[],
    loads: readonly PartLoad[],
  ): Fall | undefined {
    const key = this.keyOf(newcomer, tacks, held, loads);
    return this.answers.get(key, () => this.judged(newcomer, tacks, held, loads));
  }

  /**
   * The fewest of the tacks that can be laid while the part is held after which it may be let go; the load that even all of them do not carry when they are not enough. They keep every reserve
   * with any one of them missing, or else, where no subset does or the settings ask for it, the part is to be pulled
   * at before it is let go. `further` loads are those of a part that is let go with it.
   */
  securing(
    newcomer: Newcomer,
    grip: Grip,
    tacks: readonly ChosenTack[],
    further: readonly PartLoad[] = [],
  ): Result<Securing, Fall> {
    const candidates = tacks.filter(({ held }) => held.length > 0);
    const fallWith = (chosen: readonly ChosenTack[]): Fall | undefined => {
      const later = tacks.filter((tack) => !chosen.includes(tack));
      return this.letGoFall(newcomer, grip, chosen, later, further);
    };
    const all = fallWith(candidates);
    if (all) return fail(all);
    const survives = (chosen: readonly ChosenTack[]): boolean =>
      chosen.every((lost) => !fallWith(chosen.filter((tack) => tack !== lost)));
    const least = this.facts.settings.tacks['least-securing'];
    // Fewer tacks carry no more: where all of them do not survive a loss, no choice among them does.
    if (this.facts.settings.tacks['lost-tack'] === 'survive' && survives(candidates)) {
      const { tacks: sparing, fewestFound } = fewestThat(
        candidates,
        least,
        (chosen) => survives(chosen) && !fallWith(chosen),
      );
      return ok({ tacks: sparing, proof: false, fewestFound });
    }
    return ok({ ...fewestThat(candidates, least, (chosen) => !fallWith(chosen)), proof: true });
  }

  /**
   * What a newcomer that is let go does not carry, with these tacks laid and those still to be laid. The pull of the
   * gripper is asked for by itself, so that all else is worked out once for every grip.
   */
  letGoFall(
    newcomer: Newcomer,
    grip: Grip,
    laid: readonly LaidTack[],
    later: readonly ChosenTack[],
    further: readonly PartLoad[] = [],
  ): Fall | undefined {
    const pull = letGoLoad(this.facts.scene, newcomer.part, grip, grip.gripper);
    const hot = this.cooled(laid);
    return (
      this.fall(newcomer, hot, [], standingLoads(this.facts, newcomer, later)) ??
      this.fall(newcomer, hot, [], [pull, ...further])
    );
  }

  /** Why a gripper must not hold a part when power may fail: it keeps it too briefly, or the part would not stand. */
  unkept(newcomer: Newcomer, { part, gripper }: HeldPart): Refusal | undefined {
    const { scene, settings } = this.facts;
    const { kind, seconds } = gripper.powerLoss;
    const subjects = [scene.parts[part]!.part.id, gripper.id];
    const least = settings.loads['power-loss-seconds'];
    if (kind === 'stored-seconds' && seconds < least)
      return { code: 'kept-too-briefly', subjects, value: seconds, limit: least, unit: 's' };
    if (kind !== 'must-stand') return undefined;
    const fall = this.fall(newcomer, [], [], []);
    if (fall === undefined) return undefined;
    return {
      code: 'falls-without-power',
      subjects,
      value: fall.reserve,
      limit: fall.required,
      unit: 'reserve',
    };
  }

  /** What a proof pull at a held part would tear: its tacks, or the part off the gripper. */
  unproved(newcomer: Newcomer, held: HeldPart, tacks: readonly LaidTack[]): Fall | undefined {
    const { scene, settings } = this.facts;
    const { part, grip, gripper } = held;
    const load = proofLoad(scene, part, grip, gripper, settings.loads['proof-pull']);
    const required = settings.reserves.accident;
    const reserve = this.pulled(held, required);
    if (reserve !== undefined && reserve < required)
      return { load: `${load.name} at the gripper`, reserve, required };
    return this.fall(newcomer, this.cooled(tacks), [], [load]);
  }

  /** How many times a hold carries the proof pull, as `proofReserve` has it; the parts in place have no say in it. */
  private pulled(held: HeldPart, required: number): number | undefined {
    const { scene, settings, programs } = this.facts;
    return this.pulls.get(JSON.stringify(told(held)), () =>
      proofReserve(programs, scene, held, settings.loads['proof-pull'], settings, required),
    );
  }

  /** Tacks as they are when a part is let go: as long after their arcs as it is held on. */
  private cooled(tacks: readonly LaidTack[]): readonly LaidTack[] {
    const { scene, settings } = this.facts;
    return tacks.map((tack) => {
      const cold = this.cold.get(tack) ?? hotTack(scene, tack, secondsAtLetGo(scene.cell), settings);
      this.cold.set(tack, cold);
      return cold;
    });
  }

  /** Only the parts in place that touch the newcomer can carry it, so only they are in the key. */
  private keyOf(
    { part, inPlace, clamped, beside }: Newcomer,
    tacks: readonly LaidTack[],
    held: readonly HeldPart[],
    loads: readonly PartLoad[],
  ): string {
    const near = touching(this.facts.scene, part, inPlace, beside?.part);
    const laid = tacks.map((tack) => this.metal.of(tack));
    const other = beside && [beside.part, beside.tacks.map((tack) => this.metal.of(tack))];
    const asked = loads.map((load) => this.loads.of(load));
    return JSON.stringify([part, clamped === undefined, near, laid, held.map(told), asked, other]);
  }

  private judged(
    { part, inPlace, clamped, beside }: Newcomer,
    tacks: readonly LaidTack[],
    held: readonly HeldPart[],
    loads: readonly PartLoad[],
  ): Fall | undefined {
    const { scene, settings, programs } = this.facts;
    const others = members(inPlace);
    const order = clamped === undefined ? [part] : [clamped, ...others.filter((i) => i !== clamped), part];
    const fixed = new Set(others.filter((i) => i !== beside?.part));
    const all = beside ? [...beside.tacks, ...tacks] : tacks;
    const assembly = assemblySystem(scene, { inPlace: order, tacks: all, held }, settings, fixed);
    const judge = prepare(programs, assembly.system, asDisturbances(loads, assembly));
    try {
      return fallOf(judge, loads, settings);
    } finally {
      judge.dispose();
    }
  }
}

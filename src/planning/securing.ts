import { fail, ok, type Result } from '../base/result.js';
import { has, members, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import { prepare } from '../mechanics/equilibrium.js';
import { assemblySystem, type HeldPart, type LaidTack } from '../rules/assembly.js';
import {
  asDisturbances,
  letGoLoad,
  pushLoads,
  torchLoads,
  type PartLoad,
  type TorchTouch,
} from '../rules/load-cases.js';
import { firstShort, QUICK_MARGIN } from './first-short.js';
import type { ChosenTack } from './tack-layout.js';

/** A newcomer among parts that count as fixed: the quick test of the order search. */
export interface Newcomer {
  readonly part: number;
  readonly inPlace: PartSet;
  /** The first part in place, which the clamp presses to the table; undefined when the newcomer is the first. */
  readonly clamped: number | undefined;
  /** A part in place that was held as well and is let go with it, and the tacks that it has. */
  readonly beside?: { readonly part: number; readonly tacks: readonly LaidTack[] };
}

export const touchOf = (tack: ChosenTack, id: string): TorchTouch => ({
  id,
  at: tack.at,
  along: tack.along,
  open: tack.site.open,
});

/** Loads on a newcomer that has been let go, with these tacks still to be laid. */
export const letGoLoads = (
  facts: Facts,
  part: number,
  grip: Grip,
  completing: readonly ChosenTack[],
): readonly PartLoad[] => [
  letGoLoad(facts.scene, part, grip, grip.gripper),
  ...pushLoads(facts.scene, part, facts.settings),
  ...completing.flatMap((tack, i) => torchLoads(part, touchOf(tack, `${i}`), facts.settings)),
];

/** More subsets than this are not tried; all tacks that can be laid while held are taken instead. */
const MOST_SUBSETS = 400;

/** Subsets of 0..n-1 with k members, in lexicographic order. */
function* subsets(n: number, k: number, from = 0): Generator<number[]> {
  if (k === 0) yield [];
  else for (let i = from; i + k <= n; i += 1) for (const rest of subsets(n, k - 1, i + 1)) yield [i, ...rest];
}

/** The first load that is not carried with the required reserve. */
export interface Fall {
  readonly load: string;
  readonly reserve: number;
  readonly required: number;
}

/** Statics of a newcomer while everything else counts as one fixed body. Answers are kept. */
export class NewcomerStatics {
  private readonly answers = new Map<string, Fall | 'none'>();

  constructor(private readonly facts: Facts) {}

  /** What the newcomer does not carry with the required reserve; undefined when it carries gravity and every load. */
  fall(
    newcomer: Newcomer,
    tacks: readonly LaidTack[],
    held: readonly HeldPart[],
    loads: readonly PartLoad[],
  ): Fall | undefined {
    const key = this.keyOf(newcomer, tacks, held, loads);
    let answer = this.answers.get(key);
    if (answer === undefined) {
      answer = this.judged(newcomer, tacks, held, loads) ?? 'none';
      this.answers.set(key, answer);
    }
    return answer === 'none' ? undefined : answer;
  }

  /**
   * The fewest of the tacks that can be laid while the part is held after which it may be let go, by trying subsets
   * in order of size; the load that even all of them do not carry when they are not enough. `further` loads are those
   * of a part that is let go with it.
   */
  securing(
    newcomer: Newcomer,
    grip: Grip,
    tacks: readonly ChosenTack[],
    further: readonly PartLoad[] = [],
  ): Result<readonly ChosenTack[], Fall> {
    const candidates = tacks.filter(({ held }) => held !== undefined);
    const fallWith = (chosen: readonly ChosenTack[]): Fall | undefined => {
      const later = tacks.filter((tack) => !chosen.includes(tack));
      const loads = [...letGoLoads(this.facts, newcomer.part, grip, later), ...further];
      return this.fall(newcomer, chosen, [], loads);
    };
    const all = fallWith(candidates);
    if (all) return fail(all);
    let tried = 0;
    const least = Math.min(this.facts.settings.tacks['least-securing'], candidates.length);
    for (let size = least; size < candidates.length; size += 1)
      for (const subset of subsets(candidates.length, size)) {
        if (tried >= MOST_SUBSETS) return ok(candidates);
        tried += 1;
        const chosen = subset.map((i) => candidates[i]!);
        if (!fallWith(chosen)) return ok(chosen);
      }
    return ok(candidates);
  }

  /** Only the parts in place that touch the newcomer can carry it, so only they are in the key. */
  private keyOf(
    { part, inPlace, clamped, beside }: Newcomer,
    tacks: readonly LaidTack[],
    held: readonly HeldPart[],
    loads: readonly PartLoad[],
  ): string {
    const near = this.facts.scene.contacts.flatMap(({ a, b }) =>
      [part, beside?.part].some((own) => own === a || own === b)
        ? [a, b].filter((i) => has(inPlace, i) && i !== part)
        : [],
    );
    const laid = tacks.map(({ at, along, length, strength }) => [at, along, length, strength]);
    const grips = held.map(({ part: on, grip, gripper, robot }) => [
      robot.id,
      on,
      grip.face,
      grip.position,
      grip.turn,
      gripper.id,
    ]);
    return JSON.stringify([part, clamped === undefined, near, laid, grips, loads, beside]);
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
    const { gravity, disturbance } = settings.reserves;
    try {
      const standing = judge.gravity().reserve;
      if (standing < gravity + QUICK_MARGIN) return { load: 'gravity', reserve: standing, required: gravity };
      const short = firstShort(loads, disturbance + QUICK_MARGIN, (i) => judge.disturbance(i).reserve);
      if (short) return { load: loads[short.index]!.name, reserve: short.reserve, required: disturbance };
      return undefined;
    } finally {
      judge.dispose();
    }
  }
}

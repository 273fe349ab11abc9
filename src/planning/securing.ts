import { members, type PartSet } from '../base/part-set.js';
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
import type { ChosenTack } from './tack-layout.js';

/** A newcomer among parts that count as fixed: the quick test of the order search. */
export interface Newcomer {
  readonly part: number;
  readonly inPlace: PartSet;
  /** The first part in place, which the clamp presses to the table; undefined when the newcomer is the first. */
  readonly clamped: number | undefined;
}

export const touchOf = (tack: ChosenTack, id: string): TorchTouch => ({
  id,
  at: tack.at,
  along: tack.along,
  open: tack.site.open,
});

/** Whether the newcomer is carried under every load; the rest of the assembly counts as one fixed body. */
export function newcomerStands(
  facts: Facts,
  { part, inPlace, clamped }: Newcomer,
  tacks: readonly LaidTack[],
  held: HeldPart | undefined,
  loads: readonly PartLoad[],
): boolean {
  const others = members(inPlace);
  const first = clamped ?? part;
  const order = [first, ...others.filter((i) => i !== first), ...(first === part ? [] : [part])];
  const { system, bodyOf } = assemblySystem(
    facts.scene,
    { inPlace: order, tacks, held },
    facts.settings,
    new Set(others),
  );
  const judge = prepare(facts.programs, system, asDisturbances(loads, bodyOf));
  const { gravity, disturbance } = facts.settings.reserves;
  try {
    if (judge.gravity().reserve < gravity) return false;
    return loads.every((_, i) => judge.disturbance(i).reserve >= disturbance);
  } finally {
    judge.dispose();
  }
}

/** Loads on a newcomer that has been let go, with these tacks still to be laid. */
export function letGoLoads(
  facts: Facts,
  part: number,
  grip: Grip,
  completing: readonly ChosenTack[],
): readonly PartLoad[] {
  return [
    letGoLoad(facts.scene, part, grip, grip.gripper),
    ...pushLoads(facts.scene, part, facts.settings),
    ...completing.flatMap((tack, i) => torchLoads(part, touchOf(tack, `${i}`), facts.settings)),
  ];
}

/** More subsets than this are not tried; all tacks that can be laid while held are taken instead. */
const MOST_SUBSETS = 400;

/** Subsets of 0..n-1 with k members, in lexicographic order. */
function* subsets(n: number, k: number, from = 0): Generator<number[]> {
  if (k === 0) yield [];
  else for (let i = from; i + k <= n; i += 1) for (const rest of subsets(n, k - 1, i + 1)) yield [i, ...rest];
}

/**
 * The fewest of the tacks that can be laid while the part is held after which it may be let go, by trying subsets in
 * order of size; undefined when even all of them are not enough.
 */
export function securingTacks(
  facts: Facts,
  newcomer: Newcomer,
  grip: Grip,
  tacks: readonly ChosenTack[],
): readonly ChosenTack[] | undefined {
  const candidates = tacks.filter(({ held }) => held !== undefined);
  const enough = (chosen: readonly ChosenTack[]): boolean => {
    const later = tacks.filter((tack) => !chosen.includes(tack));
    return newcomerStands(facts, newcomer, chosen, undefined, letGoLoads(facts, newcomer.part, grip, later));
  };
  if (candidates.length === 0 || !enough(candidates)) return undefined;
  let tried = 0;
  for (let size = 1; size < candidates.length; size += 1)
    for (const subset of subsets(candidates.length, size)) {
      if (tried >= MOST_SUBSETS) return candidates;
      tried += 1;
      const chosen = subset.map((i) => candidates[i]!);
      if (enough(chosen)) return chosen;
    }
  return candidates;
}

import { compareText, rounded } from '../../base/order.js';
import { distance, type Vec3 } from '../../geometry/vector.js';
import type { GeometricPlan } from '../../model/plan.js';
import { tackMiddle } from '../../rules/wishes-true.js';
import { changesOf, type Change, type Sides } from './sides.js';

/** A tack as it is compared: where its middle is, in the weldment frame, and how it is laid. */
interface PlacedTack {
  readonly id: string;
  readonly along: number;
  readonly middle: Vec3;
  readonly traits: { readonly robot: string; readonly phase: string; readonly length: number };
}

/** A tack that both plans have, at another place or laid another way. */
export interface ChangedTack {
  /** Its id in each plan. */
  readonly a: string;
  readonly b: string;
  /** How far its middle is from one plan to the other, mm to 0.1; 0 where only how it is laid differs. */
  readonly mm: number;
  readonly changes: readonly Change[];
}

/** How the tacks of one seam differ. */
export interface SeamDifference {
  readonly between: readonly [string, string];
  /** Id of the seam in each plan; null where the plan has no such seam. */
  readonly seam: Sides<string | null>;
  readonly count: Sides<number>;
  /** Ids of tacks that only one of the plans has. */
  readonly only: Sides<readonly string[]>;
  readonly changed: readonly ChangedTack[];
}

interface Seam {
  readonly id: string;
  readonly between: readonly [string, string];
  readonly tacks: readonly PlacedTack[];
}

/** The seams of a plan by a name that does not depend on how its joints are numbered. */
function seamsOf(plan: GeometricPlan): ReadonlyMap<string, Seam> {
  const laid = plan.stages.flatMap(({ tacks, manual }) => [
    ...tacks,
    ...(manual?.tacks ?? []).map((tack) => ({ ...tack, robot: 'a person', phase: 'by hand' })),
  ]);
  const seams = new Map<string, Seam>();
  for (const joint of plan.joints) {
    const between = [...joint.between].sort(compareText) as [string, string];
    for (const seam of joint.seams) {
      const { id } = seam;
      const tacks = laid
        .filter((one) => one.seam === id)
        .map(({ id: tack, start, length, robot, phase }): PlacedTack => {
          const traits = { robot, phase, length };
          return { id: tack, along: start + length / 2, middle: tackMiddle(seam, start, length), traits };
        })
        .sort((p, q) => p.along - q.along);
      const name = [...between, joint.type].join('\n');
      const number = [...seams.keys()].filter((key) => key.startsWith(`${name}\n`)).length;
      seams.set(`${name}\n${number}`, { id, between, tacks });
    }
  }
  return seams;
}

const apart = (p: PlacedTack, q: PlacedTack): number => distance(p.middle, q.middle);

/**
 * Gives every tack of the shorter row one of the longer, in their order along the seam and with the least sum of
 * distances; the earlier of two equally good ones, so that it does not matter which plan comes first.
 */
function pairs(short: readonly PlacedTack[], long: readonly PlacedTack[]): readonly number[] {
  const spare = long.length - short.length;
  // best[i][k]: least sum for the tacks from i on when k of the longer row have been passed over before.
  const best = short.map(() => new Array<number>(spare + 1).fill(Infinity));
  const rest = (i: number, k: number): number => (i === short.length ? 0 : best[i]![k]!);
  for (let i = short.length - 1; i >= 0; i -= 1)
    for (let k = spare; k >= 0; k -= 1) {
      const here = rounded(apart(short[i]!, long[i + k]!) + rest(i + 1, k), 6);
      best[i]![k] = Math.min(here, k < spare ? best[i]![k + 1]! : Infinity);
    }
  let passed = 0;
  return short.map((tack, i) => {
    while (rounded(apart(tack, long[i + passed]!) + rest(i + 1, passed), 6) > best[i]![passed]!) passed += 1;
    return i + passed;
  });
}

function seamDifference(a: Seam | undefined, b: Seam | undefined): SeamDifference | undefined {
  const [inA, inB] = [a?.tacks ?? [], b?.tacks ?? []];
  const swapped = inA.length > inB.length;
  const [short, long] = swapped ? [inB, inA] : [inA, inB];
  const partners = pairs(short, long);
  const changed = short.flatMap((tack, i): ChangedTack[] => {
    const other = long[partners[i]!]!;
    const [one, two] = swapped ? [other, tack] : [tack, other];
    const mm = rounded(apart(one, two), 1);
    const changes = changesOf(one.traits, two.traits);
    return mm === 0 && changes.length === 0 ? [] : [{ a: one.id, b: two.id, mm, changes }];
  });
  const single = long.filter((_, i) => !partners.includes(i)).map(({ id }) => id);
  if (changed.length === 0 && single.length === 0) return undefined;
  return {
    between: (a ?? b)!.between,
    seam: { a: a?.id ?? null, b: b?.id ?? null },
    count: { a: inA.length, b: inB.length },
    only: swapped ? { a: single, b: [] } : { a: [], b: single },
    changed,
  };
}

/** How the tacks of two plans differ, seam by seam: a seam is known by its parts, its type and its place in the joint. */
export function tackDifferences(a: GeometricPlan, b: GeometricPlan): readonly SeamDifference[] {
  const [inA, inB] = [seamsOf(a), seamsOf(b)];
  return [...new Set([...inA.keys(), ...inB.keys()])]
    .sort(compareText)
    .flatMap((key) => seamDifference(inA.get(key), inB.get(key)) ?? []);
}

import type { Facts } from '../../facts/facts.js';
import { boundsAround, boundsDistance, type Bounds } from '../../geometry/bounds.js';
import { solidDistance } from '../../geometry/distance.js';
import { facePatches } from '../../geometry/patches.js';
import { solidPenetration } from '../../geometry/separation.js';
import { distance } from '../../geometry/vector.js';
import { OVERLAP } from '../../io/part-overlaps.js';
import { short, type Mistake } from './mistake.js';

/** Parts that share less than this merely touch, mm: what is left of rounding in turned poses. */
const TOUCHING = 0.005;

/** Gaps up to so many times `fit-up.gap` are told (our choice). */
const SLIGHTLY = 2;

/** Where parts are is likely to be a mistake: a little into each other, a little apart, or far away. */
export const placeMistakes = (facts: Facts): Mistake[] => [...pairMistakes(facts), ...farAway(facts)];

function pairMistakes(facts: Facts): Mistake[] {
  const { parts } = facts.scene;
  const asked = notJoinedAsAsked(facts);
  return parts.flatMap((a, i) =>
    parts.slice(i + 1).flatMap((b, k) => {
      const depth = solidPenetration(a.solid, b.solid);
      if (depth > OVERLAP) return [];
      if (depth > TOUCHING) return [overlapping(a.part.id, b.part.id, depth)];
      return asked(i, i + 1 + k) ? slightlyApart(facts, i, i + 1 + k) : [];
    }),
  );
}

const overlapping = (a: string, b: string, depth: number): Mistake => ({
  path: ['parts', b],
  code: 'parts-overlap-slightly',
  problem: `${b} and ${a} overlap by ${Math.round(depth * 1000) / 1000} mm and are taken to touch`,
  remedy: 'round `at` and sizes so that they just touch',
});

/**
 * Pairs that may have been meant to meet and do not. Where joints are given, they say which pairs; a gap in one of these
 * is an error already, so that only parts with no joint at all are left.
 */
function notJoinedAsAsked({ scene, joints }: Facts): (a: number, b: number) => boolean {
  const { weldment, contacts } = scene;
  const met = new Set(contacts.map(({ a, b }) => `${a} ${b}`));
  const joined = new Set(joints.flatMap(({ a, b }) => [a, b]));
  const open = (a: number, b: number): boolean => !joined.has(a) || !joined.has(b);
  if (weldment.contacts !== undefined) return () => false;
  return (a, b) => !met.has(`${a} ${b}`) && (weldment.joints === undefined || open(a, b));
}

function slightlyApart({ scene }: Facts, i: number, k: number): Mistake[] {
  const { gap } = scene.weldment.fitUp;
  const [a, b] = [scene.parts[i]!, scene.parts[k]!];
  if (boundsDistance(a.solid.bounds, b.solid.bounds) > SLIGHTLY * gap) return [];
  const gaps = facePatches(a.solid, b.solid, SLIGHTLY * gap).map((patch) => patch.gap);
  if (gaps.length === 0) return [];
  return [
    {
      path: ['parts', b.part.id],
      code: 'gap-slightly-over',
      problem: `${b.part.id} and ${a.part.id} are ${short(Math.min(...gaps))} mm apart, and at most ${short(gap)} mm is tacked`,
      remedy: 'close the gap, or raise `fit-up.gap` if such a gap can be tacked; if it is meant, nothing',
    },
  ];
}

const diagonal = ({ low, high }: Bounds): number => distance(low, high);

/** Parts that are farther from all others than these are large together, and than the part itself is. */
function farAway({ scene: { parts } }: Facts): Mistake[] {
  if (parts.length < 2) return [];
  return parts.flatMap(({ part, solid }, i) => {
    const others = parts.filter((_, k) => k !== i).map((one) => one.solid);
    const least = Math.max(
      diagonal(boundsAround(others.map(({ bounds }) => bounds))),
      diagonal(solid.bounds),
    );
    if (others.some(({ bounds }) => boundsDistance(solid.bounds, bounds) <= least)) return [];
    const away = Math.min(...others.map((other) => solidDistance(solid, other)));
    return [
      {
        path: ['parts', part.id, 'at'],
        code: 'part-far-away',
        problem: `${part.id} is ${short(away)} mm from every other part, farther than they are large together`,
        remedy: 'look for a wrong sign, unit or axis in `at`',
      },
    ];
  });
}

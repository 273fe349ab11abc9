import { along, cross, dot, length, scale, subtract, unit, type Vec3 } from '../geometry/vector.js';

/** A seam as a run from one end to the other, and the unit direction out of it into the open. Any frame, mm. */
export interface SeamRun {
  readonly from: Vec3;
  readonly to: Vec3;
  readonly open: Vec3;
}

/** Seams that come this near to each other meet, mm: they may be set off by a root gap (our choice). */
const MEETING = 2;
/** Product of two directions from which on they count as parallel. */
const PARALLEL = 0.999;
/** A seam that is its other side lies at least this far beside it, mm: less would be the same seam. */
const BESIDE = 1;

const wayOf = ({ from, to }: SeamRun): Vec3 => unit(subtract(to, from));
const sizeOf = ({ from, to }: SeamRun): number => length(subtract(to, from));

/**
 * Where on a seam another one meets it, mm from its start: at one of the other's ends, or where the two cross.
 * Undefined when they do not meet, or run side by side or in one line.
 */
export function meetingOf(seam: SeamRun, other: SeamRun): number | undefined {
  const [way, otherWay] = [wayOf(seam), wayOf(other)];
  const slant = dot(way, otherWay);
  if (Math.abs(slant) > PARALLEL) return undefined;
  const between = subtract(other.from, seam.from);
  // Feet of the common normal of the two lines, kept between the ends: first on the other, then on the seam.
  const onOther = (slant * dot(between, way) - dot(between, otherWay)) / (1 - slant * slant);
  const foot = along(other.from, otherWay, Math.min(sizeOf(other), Math.max(0, onOther)));
  const at = Math.min(sizeOf(seam), Math.max(0, dot(subtract(foot, seam.from), way)));
  return length(subtract(foot, along(seam.from, way, at))) <= MEETING ? at : undefined;
}

/** Corners on a seam, mm from its start: where any of the other seams meets it, each place once, in order. */
export function cornersOn(seam: SeamRun, others: readonly SeamRun[]): readonly number[] {
  const places = others.flatMap((other) => meetingOf(seam, other) ?? []).sort((p, q) => p - q);
  return places.filter((place, i) => i === 0 || place - places[i - 1]! > 1e-6);
}

/** Whether a stretch of a seam keeps a distance from every corner on it; all in mm along the seam. */
export const clearOfCorners = (
  start: number,
  end: number,
  corners: readonly number[],
  distance: number,
): boolean => corners.every((corner) => corner <= start - distance + 1e-6 || corner >= end + distance - 1e-6);

/** Two seams of a joint on opposite sides, by their numbers. */
export interface OpposedSeams {
  readonly first: number;
  readonly second: number;
}

/** Whether two seams are parallel, side by side, and open away from each other. */
function opposed(p: SeamRun, q: SeamRun): boolean {
  const way = wayOf(p);
  if (Math.abs(dot(way, wayOf(q))) < PARALLEL) return false;
  const between = subtract(q.from, p.from);
  const across = subtract(between, scale(way, dot(between, way)));
  const ends = [alongFirst(p, q, 0), alongFirst(p, q, sizeOf(q))];
  const overlap = Math.min(sizeOf(p), Math.max(...ends)) - Math.max(0, Math.min(...ends));
  return length(across) >= BESIDE && overlap > 0 && dot(p.open, across) < -1e-6 && dot(q.open, across) > 1e-6;
}

/** Place on the first of two parallel seams, mm from its start, that lies across from one on the second. */
export const alongFirst = (first: SeamRun, second: SeamRun, place: number): number =>
  dot(subtract(along(second.from, wayOf(second), place), first.from), wayOf(first));

const spread = (p: SeamRun, q: SeamRun): number => length(cross(subtract(q.from, p.from), wayOf(p)));

/** A tack as a piece of a seam, mm from the seam's start. */
export interface SeamPiece {
  readonly start: number;
  readonly length: number;
}

/**
 * The pairs of seams of one joint that are its two sides: parallel, side by side, opening away from each other; of
 * several the nearest. Each seam is in at most one pair.
 */
export function opposedSeams(seams: readonly SeamRun[]): readonly OpposedSeams[] {
  const pairs = seams
    .flatMap((p, first) =>
      seams
        .slice(first + 1)
        .map((q, i) => ({ first, second: first + 1 + i, p, q }))
        .filter(({ q }) => opposed(p, q)),
    )
    .map(({ first, second, p, q }) => ({ first, second, apart: Math.round(spread(p, q) * 10) }))
    .sort((a, b) => a.apart - b.apart || a.first - b.first || a.second - b.second);
  const taken = new Set<number>();
  return pairs.flatMap(({ first, second }) => {
    if (taken.has(first) || taken.has(second)) return [];
    taken.add(first).add(second);
    return [{ first, second }];
  });
}

/** Tacks whose middles are no farther apart along the joint than this share of a length lie opposite each other. */
const OPPOSITE = 0.25;
/** Sites are on tenths of a millimetre. */
const GRAIN = 0.1 + 1e-6;

/** How tacks on the two sides of a joint are to lie to each other. */
export type Sides = 'paired' | 'staggered' | 'free';

/** Distance along the joint of the middles of two tacks on its two sides, mm. */
export const middlesApart = (first: SeamRun, own: SeamPiece, second: SeamRun, other: SeamPiece): number =>
  Math.abs(own.start + own.length / 2 - alongFirst(first, second, other.start + other.length / 2));

/** Whether tacks with middles so far apart lie opposite each other: within a quarter of the shorter (our choice). */
export const isOpposite = (apart: number, { length: p }: SeamPiece, { length: q }: SeamPiece): boolean =>
  apart <= OPPOSITE * Math.min(p, q) + GRAIN;

/** Whether they face each other at all, so that they are not staggered. */
export const isFacing = (apart: number, { length: p }: SeamPiece, { length: q }: SeamPiece): boolean =>
  apart < (p + q) / 2 - GRAIN;

/**
 * The tacks of one joint that do not lie to those on its other side as they are to: paired, with none opposite; staggered,
 * with one that faces them. By seam, the numbers of the tacks on it; none on seams without another side.
 */
export function sidesMissed(
  sides: Sides,
  seams: readonly SeamRun[],
  tacks: readonly (readonly SeamPiece[])[],
): readonly (readonly number[])[] {
  const missed = seams.map((): number[] => []);
  const look = (one: number, two: number): void =>
    tacks[one]!.forEach((own, i) => {
      const across = tacks[two]!.map((other) => ({
        other,
        apart: middlesApart(seams[one]!, own, seams[two]!, other),
      }));
      const kept =
        sides === 'paired'
          ? across.some(({ apart, other }) => isOpposite(apart, own, other))
          : across.every(({ apart, other }) => !isFacing(apart, own, other));
      if (!kept) missed[one]!.push(i);
    });
  if (sides !== 'free')
    for (const { first, second } of opposedSeams(seams)) {
      look(first, second);
      look(second, first);
    }
  return missed;
}

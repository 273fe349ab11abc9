import { boundsDistance } from '../geometry/bounds.js';
import { hullDistance } from '../geometry/rounded-hull.js';
import { overlap, penetration } from '../geometry/separation.js';
import type { Mover } from './arm-course.js';

/** A moment is not looked at more closely where nothing moves farther than this from it, mm. */
const FINEST = 0.1;
/** The same where only overlap counts, mm. */
const FINEST_OVERLAP = 0.5;
/** Once two things are too near, their least distance is found to this, mm. */
const FAULT_GRAIN = 1;

/** Moments of a mover, from `low` to `high`. */
interface Span {
  readonly low: number;
  readonly high: number;
}

const wholeOf = ({ legs }: Mover): Span => ({ low: 0, high: legs });

/** The moment by which a span is divided: between whole legs as long as there are several. */
const middleOf = ({ low, high }: Span): number =>
  high - low > 1 ? Math.floor((low + high) / 2) : (low + high) / 2;

const halves = (span: Span): readonly [Span, Span] => {
  const middle = middleOf(span);
  return [
    { low: span.low, high: middle },
    { low: middle, high: span.high },
  ];
};

/** How far a mover gets in a span from where it is at the middle, mm. */
function reachIn(mover: Mover, span: Span): number {
  const middle = middleOf(span);
  return Math.max(mover.travel(span.low, middle), mover.travel(middle, span.high));
}

/** Two movers, each at a moment, and how far both may get from there. */
interface Look {
  readonly a: Mover;
  readonly b: Mover;
  readonly spanA: Span;
  readonly spanB: Span;
}

/** Asks `judge` about a look with the motion of both, mm; where it wants to see more, the span of more motion is halved. */
function lookAt(look: Look, judge: (look: Look, motion: number) => boolean): void {
  const { a, b, spanA, spanB } = look;
  const [ofA, ofB] = [reachIn(a, spanA), reachIn(b, spanB)];
  if (!judge(look, ofA + ofB)) return;
  if (ofA >= ofB) for (const half of halves(spanA)) lookAt({ ...look, spanA: half }, judge);
  else for (const half of halves(spanB)) lookAt({ ...look, spanB: half }, judge);
}

/**
 * The least distance of two movers, each at any moment of its own, if it is less than `limit` mm; else undefined. What
 * is found is met in truth, at most FAULT_GRAIN above the least; nothing that comes nearer than `limit` by more than
 * FINEST is passed over.
 */
export function nearerThan(a: Mover, b: Mover, limit: number): number | undefined {
  if (limit <= 0 || boundsDistance(a.box, b.box) >= limit) return undefined;
  let least = Infinity;
  lookAt({ a, b, spanA: wholeOf(a), spanB: wholeOf(b) }, ({ spanA, spanB }, motion) => {
    const asked = least < limit ? least - FAULT_GRAIN : limit;
    if (asked <= 0) return false;
    const [hullA, hullB] = [a.hull(middleOf(spanA)), b.hull(middleOf(spanB))];
    if (boundsDistance(hullA.bounds, hullB.bounds) - motion >= asked) return false;
    const apart = hullDistance(hullA, hullB);
    least = Math.min(least, apart);
    return apart - motion < asked && motion > FINEST;
  });
  return least < limit ? least : undefined;
}

/** What `nearerThan` is to be asked once something is found `mm` apart: only what is clearly nearer counts. */
export const nearerStill = (limit: number, mm: number | undefined): number =>
  mm === undefined ? limit : Math.min(limit, mm - FAULT_GRAIN);

/** How deep two movers that are no links overlap at some moments of theirs, mm, if by more than `tolerance`; else undefined. */
export function deeperThan(a: Mover, b: Mover, tolerance: number): number | undefined {
  if (boundsDistance(a.box, b.box) > 0) return undefined;
  let deepest: number | undefined;
  lookAt({ a, b, spanA: wholeOf(a), spanB: wholeOf(b) }, ({ spanA, spanB }, motion) => {
    const [atA, atB] = [middleOf(spanA), middleOf(spanB)];
    if (deepest !== undefined) return false;
    const apart = hullDistance(a.hull(atA), b.hull(atB));
    if (apart > motion) return false;
    const [pieceA, pieceB] = [a.piece(atA), b.piece(atB)];
    if (apart === 0 && pieceA && pieceB && overlap(pieceA, pieceB, tolerance))
      deepest = penetration(pieceA, pieceB);
    return motion > FINEST_OVERLAP;
  });
  return deepest;
}

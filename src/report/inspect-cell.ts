import { setOf } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { liftingOf, type Lifting } from '../facts/lifting.js';
import type { Joint, JointSeam } from '../facts/joints.js';
import { seamAccess } from '../facts/seam-access.js';
import type { Refusal } from '../model/verdict.js';
import type { CellView, PartInCell, RefusalCount, SeamInCell, Tally } from './inspection.js';
import { missBy } from './refusal-text.js';

const nearer = (next: Refusal, best: Refusal): boolean =>
  (missBy(next) ?? Infinity) < (missBy(best) ?? Infinity) - 1e-9;

/** Counts judged candidates by their refusal, undefined for the usable ones. Reasons of equal count keep their order. */
export function tally(verdicts: readonly (Refusal | undefined)[]): Tally {
  const reasons = new Map<string, RefusalCount>();
  for (const refusal of verdicts) {
    if (refusal === undefined) continue;
    const known = reasons.get(refusal.code);
    const nearest = known && !nearer(refusal, known.nearest) ? known.nearest : refusal;
    reasons.set(refusal.code, { code: refusal.code, count: (known?.count ?? 0) + 1, nearest });
  }
  return {
    considered: verdicts.length,
    usable: verdicts.filter((refusal) => refusal === undefined).length,
    refused: [...reasons.values()].sort((p, q) => q.count - p.count),
  };
}

function placesOf(facts: Facts, part: number): (Refusal | undefined)[] {
  const { id } = facts.scene.parts[part]!.part;
  const open = facts.approaches(part).filter(({ fixedHit }) => fixedHit === undefined);
  return facts.usableGrips(part).flatMap((grip) =>
    open.map((approach): Refusal | undefined => {
      if (facts.gripperHits(part, grip, approach).fixed)
        return { code: 'gripper-hits-fixed', subjects: [id, grip.gripper.id, grip.face] };
      const placed = facts.place(part, grip, approach);
      return placed.ok ? undefined : placed.error;
    }),
  );
}

function bestLifting(facts: Facts, part: number): Lifting | null {
  const best = facts.usableGrips(part)[0];
  return (best && liftingOf(facts.scene, part, best)) ?? null;
}

function partInCell(facts: Facts, part: number): PartInCell {
  const { id, manual } = facts.scene.parts[part]!.part;
  const infeed = facts.spots(part)[0];
  const takes = infeed
    ? facts.usableGrips(part).map((grip) => {
        const taken = facts.take(part, grip, infeed);
        return taken.ok ? undefined : taken.error;
      })
    : [];
  return {
    id,
    ...(manual && { byHand: true }),
    rests: facts.rests(part),
    infeed: infeed?.face ?? null,
    grips: tally(facts.grips(part).map(({ refusal }) => refusal)),
    lifting: bestLifting(facts, part),
    takes: tally(takes),
    places: tally(placesOf(facts, part)),
  };
}

function seamInCell(facts: Facts, joint: Joint, seam: JointSeam): SeamInCell {
  const { parts } = facts.scene;
  const all = setOf(parts.length, parts.keys());
  const own = setOf(parts.length, [joint.a, joint.b]);
  const { welders } = facts.scene.cell;
  return {
    id: seam.id,
    between: [parts[joint.a]!.part.id, parts[joint.b]!.part.id],
    open: seam.open,
    alone: seamAccess(facts, joint, seam, own),
    byRobot:
      welders.length === 1
        ? []
        : welders.map(({ id }) => ({ robot: id, access: seamAccess(facts, joint, seam, own, id) })),
    beside: seamAccess(facts, joint, seam, all),
  };
}

/** What a cell makes of a weldment: rests, grips, taking, placing and tack sites, each with the reasons against. */
export function cellView(facts: Facts): CellView {
  const { scene } = facts;
  const seams = facts.joints.flatMap((joint) => joint.seams.map((seam) => seamInCell(facts, joint, seam)));
  return { name: scene.cell.name, parts: scene.parts.map((_, part) => partInCell(facts, part)), seams };
}

import { closest } from '../geometry/closest.js';
import { ORIGIN, type Vec3 } from '../geometry/vector.js';
import type { Finding } from '../model/finding.js';
import { padsInCell } from '../model/placement.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { SeamPlaces } from './seam-places.js';
import { holdersOf, stageViews, type HolderView, type StageView } from './stage-views.js';

const ID = 'magnet-distance';

/** Positions in a plan are rounded, mm. */
const ROUNDING = 0.05;

const segmentToPoint = (from: Vec3, to: Vec3, point: Vec3): number =>
  closest(Float64Array.of(...from, ...to), Float64Array.from(point), ORIGIN).distance;

function stageFindings(context: RuleContext, seams: SeamPlaces, view: StageView): Finding[] {
  return holdersOf(context, view).flatMap((one) => holderFindings(seams, view, one));
}

function holderFindings(seams: SeamPlaces, view: StageView, one: HolderView): Finding[] {
  const { gripper, grip, placed } = one;
  const limit = gripper.arcDistance;
  const { pads } = padsInCell(placed.part.shape, placed.pose, grip, gripper);
  return view.stage.tacks.flatMap((tack, i) => {
    const place = seams.tack(tack);
    if (place === undefined || tack.phase !== 'securing') return [];
    const nearest = Math.min(...pads.map(({ at }) => segmentToPoint(place.start, place.end, at)));
    const value = nearest - gripper.padDiameter / 2;
    if (value >= limit - ROUNDING) return [];
    const message = `securing tack ${tack.id} is ${shown(value)} mm from a pad of ${gripper.id}; ${shown(limit)} is asked for`;
    return [breach(ID, `${view.where}.tacks[${i}]`, message, { value, limit })];
  });
}

/** Securing tacks keep their distance from the pads, above all magnets, that hold a part meanwhile. */
export const magnetDistance: Rule = {
  id: ID,
  forbids: 'a securing tack near a pad in use of a gripper that holds meanwhile',
  why: 'the field of a magnet deflects the arc, and heat weakens the magnet or cup that everything hangs on',
  judge: (context) => {
    const seams = new SeamPlaces(context);
    return stageViews(context).flatMap((view) => stageFindings(context, seams, view));
  },
};

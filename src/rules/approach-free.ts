import { firstContact } from '../geometry/advance.js';
import { facePatches, type Patch } from '../geometry/patches.js';
import { translate } from '../geometry/pose.js';
import { placeSolid, type Solid } from '../geometry/solid.js';
import { dot, length, scale, type Vec3 } from '../geometry/vector.js';
import type { Finding } from '../model/finding.js';
import { shapeSolid } from '../model/part-geometry.js';
import { direction } from './plan-frames.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { SeamPlaces } from './seam-places.js';
import { everyTack, type StatedTack } from './stage-tacks.js';
import { grippersOf, keptHolds, stageViews, type StageView } from './stage-views.js';

const ID = 'approach-free';

/** A direction of travel is a unit vector but for rounding. */
const UNIT_ROUNDING = 1e-3;
/** Sine of the angle up to which a direction runs along a face. */
const ALONG_FACE = 1e-3;
/** Two faces look at each other when their normals' product is below this. */
const OPPOSED = -1 + 1e-6;
const GAP_ROUNDING = 1e-6;

interface Obstacle {
  readonly name: string;
  readonly solid: Solid;
}

/** Parts in place, the table, keep-outs, grippers that still hold, and the metal of the tacks that earlier stages have laid. */
function obstaclesOf(context: RuleContext, view: StageView, seams: SeamPlaces): readonly Obstacle[] {
  const { scene } = view;
  const laid = context.plan.stages.slice(0, view.index).flatMap(everyTack);
  return [
    ...view.before.map((i) => ({ name: scene.parts[i]!.part.id, solid: scene.parts[i]!.solid })),
    { name: 'the table', solid: scene.table },
    ...scene.keepOuts.map((solid, i) => ({ name: `keep-out ${i + 1}`, solid })),
    ...grippersOf(keptHolds(context, view)),
    ...beadsOf(laid, seams),
  ];
}

const beadsOf = (tacks: readonly StatedTack[], seams: SeamPlaces): readonly Obstacle[] =>
  tacks.flatMap((tack) => {
    const solid = seams.bead(tack);
    return solid ? [{ name: `tack ${tack.id}`, solid }] : [];
  });

/** Where the part of a stage would run over the metal of some tacks on its way into place. */
export function beadFindings(
  context: RuleContext,
  view: StageView,
  tacks: readonly StatedTack[],
  seams: SeamPlaces,
): Finding[] {
  const { approach } = view.stage;
  const way = approach && direction(approach.direction);
  return way ? strokeFindings(context, view, way, approach.distance, beadsOf(tacks, seams)) : [];
}

/** Advances the part from the start of its stroke until it meets something. */
function strokeFindings(
  context: RuleContext,
  view: StageView,
  way: Vec3,
  travel: number,
  obstacles: readonly Obstacle[],
): Finding[] {
  const { part, pose } = view.placed;
  const tolerance = context.settings.motion['touch-tolerance'];
  const start = placeSolid(shapeSolid(part.shape), translate(pose, scale(way, -travel)));
  return obstacles.flatMap(({ name, solid }) => {
    const met = firstContact(start, way, travel, solid, tolerance);
    if (met.kind === 'free') return [];
    const message = `${part.id} meets ${name} after ${shown(met.at)} of ${shown(travel)} mm`;
    return [breach(ID, `${view.where}.approach`, message, { value: met.at, limit: travel })];
  });
}

interface Face {
  readonly patch: Patch;
  readonly of: string;
}

/** Faces of parts in place along which the part slides, near enough to matter for the insertion clearance. */
function slidingFaces({ scene, weldment }: RuleContext, view: StageView, way: Vec3): readonly Face[] {
  const reach = 2 * weldment.fitUp.insertion;
  return view.before.flatMap((i) => {
    const { part, solid } = scene.parts[i]!;
    return facePatches(view.placed.solid, solid, reach)
      .filter(({ normal }) => Math.abs(dot(normal, way)) <= ALONG_FACE)
      .map((patch) => ({ patch, of: part.id }));
  });
}

/** Between two opposed faces the part needs play: the insertion clearance on each side, shared as it comes. */
function insertionFindings(context: RuleContext, view: StageView, way: Vec3): Finding[] {
  const faces = slidingFaces(context, view, way);
  const needed = 2 * context.weldment.fitUp.insertion;
  let tightest: { readonly play: number; readonly between: string } | undefined;
  faces.forEach((one, i) => {
    for (const other of faces.slice(i + 1)) {
      if (dot(one.patch.normal, other.patch.normal) > OPPOSED) continue;
      const play = one.patch.gap + other.patch.gap;
      if (play < needed - GAP_ROUNDING && play < (tightest?.play ?? Infinity))
        tightest = { play, between: `${one.of} and ${other.of}` };
    }
  });
  if (tightest === undefined) return [];
  const message =
    `${view.stage.part} slides in between ${tightest.between} with ${shown(tightest.play)} mm of play; ` +
    `${shown(needed)} is needed`;
  return [breach(ID, `${view.where}.approach`, message, { value: tightest.play, limit: needed })];
}

function judge(context: RuleContext): Finding[] {
  const seams = new SeamPlaces(context);
  return stageViews(context).flatMap((view) => {
    const { approach } = view.stage;
    if (approach === null) return [];
    const stated = approach.direction;
    const where = `${view.where}.approach.direction`;
    const size = length(stated);
    const way = direction(stated);
    if (way === undefined || Math.abs(size - 1) > UNIT_ROUNDING)
      return [
        breach(ID, where, `the direction is ${shown(size)} long, not a unit vector`, {
          value: size,
          limit: 1,
        }),
      ];
    return [
      ...strokeFindings(context, view, way, approach.distance, obstaclesOf(context, view, seams)),
      ...insertionFindings(context, view, way),
    ];
  });
}

/** The straight stroke into place is free, judged by advancing on distances, and leaves the insertion clearance. */
export const approachFree: Rule = {
  id: ID,
  forbids: 'a stroke into place that meets a part, the table or a keep-out, or squeezes in between two faces',
  why: 'a part that strikes another on its way is lost, and so is its place',
  judge,
};

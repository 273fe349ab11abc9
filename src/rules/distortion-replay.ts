import { dot, length, scale, subtract } from '../geometry/vector.js';
import type { PlanTack } from '../model/plan.js';
import { distortionAccount, type DistortionAccount } from './distortion-account.js';
import type { DistortionStage } from './distortion-run.js';
import { rootGap, type ShrinkingTack } from './distortion-tacks.js';
import type { RuleContext } from './rule.js';
import { SeamPlaces, type TackPlace } from './seam-places.js';
import { holdersOf, stageViews, type StageView } from './stage-views.js';

/** What a replay is made of: a plan, and the scene and settings that it was made for. */
export type Replayed = Pick<RuleContext, 'plan' | 'scene' | 'cell' | 'settings'>;

/** Sizes, mm, beyond which numbers of a plan are another rule's matter and are not handed to the engine. */
const SOUND = 1e6;

const isSound = (tack: PlanTack, { seam, middle }: TackPlace): boolean => {
  const square = subtract(seam.open, scale(seam.along, dot(seam.open, seam.along)));
  return (
    length(square) > 1e-3 &&
    [tack.length, tack.leg, seam.length, ...middle].every((value) => Math.abs(value) <= SOUND)
  );
};

/** The tacks of a stage whose seams are known and join parts in place, in their order. */
function shrinkingTacks({ scene }: Replayed, seams: SeamPlaces, view: StageView, phase: PlanTack['phase']) {
  const inPlace = [...view.before, view.part];
  return [...view.stage.tacks]
    .filter((tack) => tack.phase === phase)
    .sort((p, q) => p.order - q.order)
    .flatMap((tack): ShrinkingTack[] => {
      const place = seams.tack(tack);
      if (place === undefined || !isSound(tack, place)) return [];
      const { a, b, along, open, joint, id } = place.seam;
      if (!inPlace.includes(a) || !inPlace.includes(b)) return [];
      const gap = rootGap(scene, a, b, place.middle);
      return [
        {
          ...{ id: tack.id, seam: id, a, b, at: place.middle, along, open, gap },
          ...{ length: tack.length, leg: tack.leg, seamLength: place.seam.length, type: joint.type },
        },
      ];
    });
}

/** The stages of a plan as the engine takes them, as far as parts, grips and seams are known. */
export function replayedStages(context: Replayed): readonly DistortionStage[] {
  const seams = new SeamPlaces(context);
  return stageViews(context).map((view) => ({
    part: view.part,
    holds: holdersOf(context, view),
    securing: shrinkingTacks(context, seams, view, 'securing'),
    completing: shrinkingTacks(context, seams, view, 'completing'),
    heldOn: view.stage.stands === 'held',
  }));
}

/** The prediction for a plan, replayed from the plan alone. */
export const replayed = (context: Replayed): DistortionAccount =>
  distortionAccount(context.scene, context.settings, replayedStages(context));

const KNOWN = new WeakMap<RuleContext, DistortionAccount>();

/** The same for a rule: two rules ask for it; it is worked out once for each context. */
export function judgedDistortion(context: RuleContext): DistortionAccount {
  let known = KNOWN.get(context);
  if (known === undefined) {
    known = replayed(context);
    KNOWN.set(context, known);
  }
  return known;
}

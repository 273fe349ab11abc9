import { dot, length, scale, subtract } from '../geometry/vector.js';
import { flatFaces } from '../model/part-geometry.js';

import { distortionAccount, type DistortionAccount } from './distortion-account.js';
import type { DistortionStage } from './distortion-run.js';
import { rootGap, type ShrinkingTack } from './distortion-tacks.js';
import type { RuleContext } from './rule.js';
import { SeamPlaces } from './seam-places.js';
import type { StatedTack } from './stage-tacks.js';
import { holdersOf, stageViews, type HolderView, type StageView } from './stage-views.js';

/** What a replay is made of: a plan, and the scene and settings that it was made for. */
export type Replayed = Pick<RuleContext, 'plan' | 'scene' | 'cell' | 'settings'>;

/** Sizes, mm, beyond which numbers of a plan are another rule's matter and are not handed to the engine. */
const SOUND = 1e5;

const isSize = (value: number): boolean => Math.abs(value) <= SOUND;

/** A tack of a plan as the engine takes it; undefined where its seam is unknown, or its parts are not in place. */
function shrinkingTack(
  { scene }: Replayed,
  seams: SeamPlaces,
  { before, part }: StageView,
  tack: StatedTack,
): ShrinkingTack | undefined {
  const place = seams.tack(tack);
  if (place === undefined) return undefined;
  const { a, b, along, open, joint, id, length: seamLength } = place.seam;
  const square = subtract(open, scale(along, dot(open, along)));
  const sizes = [tack.length, tack.leg, seamLength, ...place.middle];
  const inPlace = [a, b].every((one) => one === part || before.includes(one));
  if (!inPlace || length(square) < 1e-3 || !sizes.every(isSize)) return undefined;
  return {
    ...{
      id: tack.id,
      seam: id,
      a,
      b,
      at: place.middle,
      along,
      open,
      gap: rootGap(scene, a, b, place.middle),
    },
    ...{ length: tack.length, leg: tack.leg, seamLength, type: joint.type },
  };
}

/** The holds of a stage; undefined where one of them is not known. */
function holdsIn(context: Replayed, view: StageView): readonly HolderView[] | undefined {
  const { held, alsoHeld } = view.stage;
  const holders = holdersOf(context, view);
  const known = holders.every(
    ({ placed, grip }) =>
      grip.position.every(isSize) && flatFaces(placed.part.shape).some(({ id }) => id === grip.face),
  );
  const stated = (held === null ? 0 : 1) + (alsoHeld === undefined ? 0 : 1);
  return known && holders.length === stated ? holders : undefined;
}

const isKnown = (tack: ShrinkingTack | undefined): tack is ShrinkingTack => tack !== undefined;

function replayedStage(context: Replayed, seams: SeamPlaces, view: StageView): DistortionStage | undefined {
  const { stage, part } = view;
  const holds = holdsIn(context, view);
  const of = (tacks: readonly StatedTack[]): readonly (ShrinkingTack | undefined)[] =>
    [...tacks].sort((p, q) => p.order - q.order).map((tack) => shrinkingTack(context, seams, view, tack));
  const inPhase = (wanted: 'securing' | 'completing'): readonly StatedTack[] =>
    stage.tacks.filter(({ phase }) => phase === wanted);
  const securing = of(inPhase('securing'));
  // What a person holds a part with is not known: its tacks are laid as if nothing held it.
  const completing = of(stage.manual?.tacks ?? inPhase('completing'));
  if (holds === undefined || ![...securing, ...completing].every(isKnown)) return undefined;
  const heldOn = stage.stands === 'held';
  return {
    ...{ part, holds, heldOn },
    securing: securing.filter(isKnown),
    completing: completing.filter(isKnown),
  };
}

/** The stages of a plan as the engine takes them; undefined where a part, grip or seam of any of them is not known. */
export function replayedStages(context: Replayed): readonly DistortionStage[] | undefined {
  const seams = new SeamPlaces(context);
  const views = stageViews(context);
  const stages = views.flatMap((view) => replayedStage(context, seams, view) ?? []);
  return stages.length === context.plan.stages.length ? stages : undefined;
}

/** The prediction for a plan, replayed from the plan alone; undefined where it cannot be replayed. */
export function replayed(context: Replayed): DistortionAccount | undefined {
  const stages = replayedStages(context);
  return stages && distortionAccount(context.scene, context.settings, stages);
}

const KNOWN = new WeakMap<RuleContext, { readonly account: DistortionAccount | undefined }>();

/** The same for a rule: two rules ask for it; it is worked out once for each context. */
export function judgedDistortion(context: RuleContext): DistortionAccount | undefined {
  let known = KNOWN.get(context);
  if (known === undefined) {
    known = { account: replayed(context) };
    KNOWN.set(context, known);
  }
  return known.account;
}

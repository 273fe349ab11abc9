import type { DistortionStage } from '../rules/distortion-run.js';
import type { ShrinkingTack } from '../rules/distortion-tacks.js';
import { siteId } from '../facts/tack-sites.js';
import { heldBy } from './held-grip.js';
import { holdsOf, type StageDraft } from './stage-draft.js';
import type { ChosenTack } from './tack-layout.js';

/** A tack that has been decided on, as the prediction of distortion takes it. */
export const shrinkingTack = ({ site, a, b, at, along, length, leg }: ChosenTack): ShrinkingTack => ({
  ...{ id: siteId(site), seam: site.seam.id, a, b, at, along, open: site.open, length, leg },
  ...{ gap: site.seam.gap, seamLength: site.seam.length, type: site.joint.type },
});

/** A stage that has been decided on, as the prediction of distortion takes it. */
export function distortionStage(draft: StageDraft): DistortionStage {
  const of = (phase: 'securing' | 'completing'): readonly ShrinkingTack[] =>
    draft.tacks.filter((tack) => tack.phase === phase).map(shrinkingTack);
  return {
    part: draft.part,
    holds: holdsOf(draft).map(heldBy),
    securing: of('securing'),
    completing: of('completing'),
    heldOn: draft.stands === 'held',
  };
}

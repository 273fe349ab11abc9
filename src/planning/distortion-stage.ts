import type { DistortionStage } from '../rules/distortion-run.js';
import type { ShrinkingTack } from '../rules/distortion-tacks.js';
import { siteId, type TackSite } from '../facts/tack-sites.js';
import { heldBy } from './held-grip.js';
import { holdsOf, type StageDraft } from './stage-draft.js';

/** A tack at a site as the prediction of distortion takes it. */
export const shrinkingTack = (site: TackSite): ShrinkingTack => ({
  ...{ id: siteId(site), seam: site.seam.id, a: site.joint.a, b: site.joint.b, at: site.middle },
  ...{ along: site.along, open: site.open, length: site.length, leg: site.leg },
  ...{ gap: site.seam.gap, seamLength: site.seam.length, type: site.joint.type },
});

/**
 * A stage that has been decided on, as the prediction of distortion takes it. What a person holds a part with while tacking
 * it is not known: it counts as not held.
 */
export function distortionStage(draft: StageDraft): DistortionStage {
  if (draft.manual)
    return {
      ...{ part: draft.part, holds: [], securing: [], heldOn: false },
      completing: draft.tacks.map(({ site }) => shrinkingTack(site)),
    };
  const of = (phase: 'securing' | 'completing'): readonly ShrinkingTack[] =>
    draft.tacks.filter((tack) => tack.phase === phase).map(({ site }) => shrinkingTack(site));
  return {
    part: draft.part,
    holds: holdsOf(draft).map(heldBy),
    securing: of('securing'),
    completing: of('completing'),
    heldOn: draft.stands === 'held',
  };
}

import { Kept } from '../base/kept.js';
import { fail, ok, type Result } from '../base/result.js';
import type { Facts } from '../facts/facts.js';
import type { Refusal } from '../model/verdict.js';
import { excessTenths } from '../rules/distortion-excess.js';
import { DistortionRun, runStage, worstOpening } from '../rules/distortion-run.js';
import { distortionKey } from './distortion-key.js';
import { distortionStage } from './distortion-stage.js';
import type { StageDraft } from './stage-draft.js';

/** Where the first stages of an order leave the parts, or the seam that stands too far open for its tack. */
type Left = Result<DistortionRun, { readonly depth: number; readonly refusal: Refusal }>;

/** Whole orders by the full engine. What orders have in common at their beginning is worked out once. */
export class OrderDistortion {
  private readonly beginnings: Kept<Left>;

  constructor(private readonly facts: Facts) {
    this.beginnings = new Kept(facts.keeping);
  }

  /** The distortion that an objective counts, or the first stage in which a seam opens too far, and how far. */
  of(drafts: readonly StageDraft[]): Result<number, { readonly depth: number; readonly refusal: Refusal }> {
    const left = this.after(drafts);
    return left.ok ? ok(excessTenths(left.value.deviations())) : left;
  }

  private after(drafts: readonly StageDraft[]): Left {
    return this.beginnings.get(distortionKey(drafts), () => {
      const { scene, settings } = this.facts;
      const last = drafts.at(-1);
      if (last === undefined) return ok(new DistortionRun(scene, settings));
      const before = this.after(drafts.slice(0, -1));
      if (!before.ok) return before;
      const run = before.value.copy();
      const worst = worstOpening(scene, runStage(run, distortionStage(last)));
      // A person closes a gap with hand or clamp before tacking.
      if (worst === undefined || last.manual) return ok(run);
      const { tack, opening, limit } = worst;
      const subjects = [scene.parts[last.part]!.part.id, tack.seam, tack.id];
      return fail({
        depth: drafts.length,
        refusal: { code: 'gap-opens', subjects, value: opening, limit, unit: 'mm' },
      });
    });
  }
}

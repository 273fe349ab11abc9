import type { PartSet } from '../base/part-set.js';
import type { StageDraft } from './stage-draft.js';

export class DistortionProxy {
  /** Whether any move so far was estimated above 0. */
  everAbove = false;

  of(_draft: StageDraft, _inPlace: PartSet, _first: number): number {
    return 0;
  }
}

import { distortionStage } from './distortion-stage.js';
import { holdsOf, type StageDraft } from './stage-draft.js';

/** All that the prediction of distortion sees of some stages: stages with equal texts are predicted alike. */
export const distortionKey = (drafts: readonly StageDraft[]): string =>
  JSON.stringify(
    drafts.map((draft) => {
      const { part, securing, completing, heldOn } = distortionStage(draft);
      const holds = draft.manual ? [] : holdsOf(draft).map((hold) => [hold.part, hold.grip.id]);
      const tacks = [securing, completing].map((list) =>
        list.map(({ id, length, leg }) => `${id} ${length} ${leg}`),
      );
      return [part, draft.manual ? 'by hand' : '', holds, heldOn, tacks];
    }),
  );

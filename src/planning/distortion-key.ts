import type { StageDraft } from './stage-draft.js';

/** All that the prediction of distortion sees of some stages: stages with equal texts are predicted alike. */
export const distortionKey = (drafts: readonly StageDraft[]): string =>
  JSON.stringify(
    drafts.map(({ part, way, held, alsoHeld, stands, tacks }) => [
      part,
      held ? way.grip.id : '',
      alsoHeld ? [alsoHeld.part, alsoHeld.grip.id] : [],
      stands === 'held',
      tacks.map(({ id, length, leg, phase }) => `${id} ${length} ${leg} ${phase}`),
    ]),
  );

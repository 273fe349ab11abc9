import { singleChange } from '../number-ladder.js';
import { wishesSchema } from '../../../model/wish.js';
import { wishText } from '../../../report/wish-text.js';
import { partsOfWish } from '../../../rules/wish-kept.js';
import type { Ladder } from '../ladder.js';
import { missesOf, type AbstractTrouble, type Trouble } from '../trouble.js';

/** Makes a hard wish soft, so that it is kept where it can be and no longer stands against a plan. */
export function wishesSoftened(trouble: Trouble | AbstractTrouble): readonly Ladder[] {
  const wished = missesOf(trouble).filter(({ code }) => code === 'wish');
  return (['weldment', 'settings'] as const).flatMap((file) => {
    const raw = (trouble.documents[file]?.value ?? {}) as Readonly<Record<string, unknown>>;
    const read = wishesSchema.safeParse(raw['wishes']);
    return (read.data ?? []).flatMap((wish, i) => {
      const names = partsOfWish(wish);
      if (wish.soft || !wished.some(({ subjects }) => names.every((name) => subjects.includes(name))))
        return [];
      return [
        singleChange('softened-wish', 'order', {
          words: `make the wish soft that ${wishText(wish)}`,
          edits: [{ file, path: ['wishes', i, 'soft'], from: false, to: true }],
        }),
      ];
    });
  });
}

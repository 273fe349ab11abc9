import { singleChange } from '../number-ladder.js';
import { wishesSchema, type Wish } from '../../../model/wish.js';
import { partsOfWish } from '../../../rules/wish-kept.js';
import type { Ladder } from '../ladder.js';
import { missesOf, type AbstractTrouble, type Trouble } from '../trouble.js';

/** What a wish is about, for a sentence; the whole wish is in the data of the change. */
function subject(wish: Wish): string {
  if ('before' in wish) return `that ${wish.before[0]} joins before ${wish.before[1]}`;
  if ('first' in wish) return `that ${wish.first} is the first part`;
  if ('grip' in wish) return `for the grip of ${wish.grip}`;
  if ('regrips' in wish) return `for at most ${wish.most} regrips of ${wish.regrips}`;
  if ('held' in wish) return `that ${wish.held} is held while it is tacked`;
  return `for a tack of ${wish.tack.join(' and ')}`;
}

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
          words: `make the wish ${wish.never ? 'against it, ' : ''}${subject(wish)}, soft`,
          edits: [{ file, path: ['wishes', i, 'soft'], from: false, to: true }],
        }),
      ];
    });
  });
}

import { has, size, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import { seenGrip } from '../facts/seen-grip.js';
import { wishesOf, type TackWish, type Wish } from '../model/wish.js';
import { isGrip } from '../rules/wish-kept.js';
import type { Taken } from './conflict-chains.js';
import type { ConflictFact, FactTable } from './conflict-facts.js';

/** Hard wishes as facts: what a wish keeps out counts as met where the wish is not asked for. */
export class ConflictWishes {
  private readonly wishes: readonly { readonly wish: Wish; readonly at: number }[];

  constructor(
    private readonly facts: Facts,
    private readonly table: FactTable,
  ) {
    const { weldment } = facts.scene;
    this.wishes = wishesOf(weldment, facts.settings).flatMap((wish, at) => (wish.soft ? [] : [{ wish, at }]));
  }

  /** Wishes about the order that a part breaks by coming now. */
  againstOrder(part: number, inPlace: PartSet): readonly ConflictFact[] {
    return this.broken(part, ({ wish }) => {
      if ('before' in wish) {
        const [first, second] = this.parts(wish.never ? [wish.before[1], wish.before[0]] : wish.before);
        return part === second && !has(inPlace, first);
      }
      return 'first' in wish && size(inPlace) === 0 && (part === this.part(wish.first)) === wish.never;
    });
  }

  /** Wishes about the last grip of a part. */
  againstGrip(part: number, grip: Grip): readonly ConflictFact[] {
    return this.broken(
      part,
      ({ wish }) =>
        'grip' in wish && part === this.part(wish.grip) && isGrip(wish, seenGrip(grip)) === wish.never,
    );
  }

  /** Wishes about how a part is taken. */
  againstTaking(part: number, { regrips }: Taken): readonly ConflictFact[] {
    return this.broken(
      part,
      ({ wish }) =>
        'regrips' in wish && part === this.part(wish.regrips) && regrips <= wish.most === wish.never,
    );
  }

  /** Wishes that a part be held, or not, which it then is not, or is. */
  againstHold(part: number, held: boolean): readonly ConflictFact[] {
    return this.broken(
      part,
      ({ wish }) => 'held' in wish && part === this.part(wish.held) && held === wish.never,
    );
  }

  /** Wishes about the tacks that are laid as a part comes to those in place, each with its fact. */
  aboutTacks(part: number, inPlace: PartSet): readonly (readonly [TackWish, ConflictFact])[] {
    return this.wishes.flatMap(({ wish, at }) => {
      if (!('tack' in wish)) return [];
      const [a, b] = this.parts(wish.tack);
      const other = part === a ? b : part === b ? a : -1;
      if (!has(inPlace, other)) return [];
      const fact = this.table.ofPair('wish', part, other, { wish: at });
      return [[wish, fact] as const];
    });
  }

  /** Whether any is about the grip, the regrips or the hold of a part. */
  isAboutHandling(part: number): boolean {
    return this.isAboutHold(part) || this.hasAny(part, ['grip', 'regrips']);
  }

  /** Whether any is about how a part, or where none is named any part, is held while it is tacked. */
  isAboutHold(part?: number): boolean {
    return this.hasAny(part, ['held']);
  }

  private hasAny(part: number | undefined, kinds: readonly ('grip' | 'regrips' | 'held')[]): boolean {
    return this.wishes.some(({ wish }) =>
      kinds.some((kind) => {
        const named = (wish as Partial<Record<typeof kind, string>>)[kind];
        return named !== undefined && (part === undefined || this.part(named) === part);
      }),
    );
  }

  private broken(
    part: number,
    isBroken: (one: { readonly wish: Wish; readonly at: number }) => boolean,
  ): readonly ConflictFact[] {
    // That a part be the first is one fact, whichever other part begins.
    return this.wishes
      .filter(isBroken)
      .map(({ wish, at }) =>
        this.table.of('wish', 'first' in wish ? this.part(wish.first) : part, { wish: at }),
      );
  }

  private part(id: string): number {
    return this.facts.scene.index.get(id) ?? -1;
  }

  private parts([a, b]: readonly [string, string]): readonly [number, number] {
    return [this.part(a), this.part(b)];
  }
}

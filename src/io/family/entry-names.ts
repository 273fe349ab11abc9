import { copyName, meaningOf, NAMING } from './part-names.js';
import type { Plain } from './working.js';

/** By the name of each part of the base the numbers of its copies that there are, from 0; empty: it is not there. */
export type PartsThere = ReadonlyMap<string, readonly number[]>;

/** The names of parts in the lists of a weldment, for one variant. */
export class EntryNames {
  constructor(
    private readonly repeated: ReadonlyMap<string, boolean>,
    private readonly there: PartsThere,
  ) {}

  /** The numbers of the copies that an entry with these names stands for; one undefined where none is repeated. */
  copiesOf(names: readonly string[]): readonly (number | undefined)[] {
    const repeated = names.flatMap((name) => {
      const meaning = meaningOf(name, this.repeated);
      return meaning.kind === 'repeated' ? [this.copies(meaning.part)] : [];
    });
    const [first, ...others] = repeated;
    return first?.filter((i) => others.every((copies) => copies.includes(i))) ?? [undefined];
  }

  /**
   * An entry whose names are those of the parts there are; undefined where it is about a part that is not there. Lists
   * of names have every copy of a repeated part, and leave out what is not there.
   */
  resolved(list: string, entry: unknown, i: number | undefined): unknown {
    const { singles = [], pairs = [], lists = [] } = NAMING[list]!;
    if (Array.isArray(entry)) return pairs.length > 0 ? this.each(entry, i) : entry;
    if (typeof entry !== 'object' || entry === null) return entry;
    const made: Record<string, unknown> = { ...(entry as Plain) };
    for (const [key, value] of Object.entries(made)) {
      if (singles.includes(key)) made[key] = this.one(value, i);
      else if (pairs.includes(key) && Array.isArray(value)) made[key] = this.each(value, i);
      else if (lists.includes(key) && Array.isArray(value)) made[key] = this.all(value);
      if (made[key] === undefined && value !== undefined) return undefined;
    }
    return made;
  }

  /** A name by which one part is called; undefined where this part is not there. */
  one(name: unknown, i: number | undefined): unknown {
    if (typeof name !== 'string') return name;
    const meaning = meaningOf(name, this.repeated);
    if (meaning.kind === 'stranger') return name;
    const copies = this.copies(meaning.part);
    if (meaning.kind === 'part') return copies.length > 0 ? name : undefined;
    if (meaning.kind === 'copy') return copies.includes(meaning.i) ? name : undefined;
    if (i === undefined) return name;
    return copies.includes(i) ? copyName(name, i) : undefined;
  }

  private each(names: readonly unknown[], i: number | undefined): unknown[] | undefined {
    const made = names.map((name) => this.one(name, i));
    return made.every((name) => name !== undefined) ? made : undefined;
  }

  /** Undefined where of some names none is left; a list that was empty before stays. */
  private all(names: readonly unknown[]): unknown[] | undefined {
    const made = names.flatMap((name) => {
      const meaning = typeof name === 'string' ? meaningOf(name, this.repeated) : undefined;
      if (meaning?.kind === 'repeated')
        return this.copies(meaning.part).map((i) => copyName(meaning.part, i));
      const one = this.one(name, undefined);
      return one === undefined ? [] : [one];
    });
    return made.length === 0 && names.length > 0 ? undefined : made;
  }

  private copies(part: string): readonly number[] {
    return this.there.get(part) ?? [];
  }
}

import { valueAt } from '../schema-at.js';

/** Where entries of the lists of a weldment name parts: one by one, in pairs, or in lists of any length. */
interface NamingKeys {
  readonly singles?: readonly string[];
  readonly pairs?: readonly string[];
  readonly lists?: readonly string[];
}

/** By the key of the list. An entry of `joints` or `contacts` may be a pair itself. */
export const NAMING: Readonly<Record<string, NamingKeys>> = {
  joints: { pairs: ['between'] },
  contacts: { pairs: ['between'] },
  blocking: { singles: ['part'], lists: ['by'] },
  needs: { singles: ['part'], lists: ['after'] },
  tolerances: { singles: ['from', 'to'] },
  wishes: { singles: ['first', 'grip', 'regrips', 'held'], pairs: ['before', 'tack'] },
  'sub-assemblies': { lists: ['parts'] },
};

/** The name of a copy of a repeated part. */
export const copyName = (name: string, i: number): string => `${name}-${i + 1}`;

/** How a name of the base is to be read: a part, a repeated part, one copy of it, or nothing that the base has. */
export type NameMeaning =
  | { readonly kind: 'part' | 'repeated'; readonly part: string }
  | { readonly kind: 'copy'; readonly part: string; readonly i: number }
  | { readonly kind: 'stranger' };

/** What a name means among parts, of which it is known whether they are repeated. */
export function meaningOf(name: string, repeated: ReadonlyMap<string, boolean>): NameMeaning {
  const own = repeated.get(name);
  if (own !== undefined) return { kind: own ? 'repeated' : 'part', part: name };
  const [, part, number] = /^(.+)-([1-9]\d{0,2})$/.exec(name) ?? [];
  if (part !== undefined && repeated.get(part) === true) return { kind: 'copy', part, i: Number(number) - 1 };
  return { kind: 'stranger' };
}

/** The parts that an entry names one by one or in pairs. */
export function namedOnce(list: string, entry: unknown): readonly string[] {
  const { singles = [], pairs = [] }: NamingKeys = Object.hasOwn(NAMING, list) ? NAMING[list]! : {};
  const texts = [
    ...singles.map((key) => valueAt(entry, [key])),
    ...pairs.flatMap((key) => itemsOf(valueAt(entry, [key]))),
    ...(pairs.length > 0 ? itemsOf(entry) : []),
  ];
  return texts.filter((text) => typeof text === 'string');
}

const itemsOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

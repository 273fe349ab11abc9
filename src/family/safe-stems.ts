import { digest } from '../io/digest.js';

/** Names that some file systems keep for devices. */
const DEVICES = /^(?:con|prn|aux|nul|com\d|lpt\d)$/i;
/** Names that look as if they had digits of a digest: another name may be given just these. */
const DIGESTED = /-[0-9a-f]{8}$/i;
const LONGEST = 48;

/**
 * What files about things with these names may be called, by name: the name itself where it is made of letters, digits, `-` and `_`
 * only, else what is left of it with eight digits of its digest, which a name also gets that differs from another one by case only
 * or that ends like one with these digits.
 * So no name leads to a path, two never lead to one file, and the order of the names does not matter.
 */
export function safeStems(names: readonly string[]): ReadonlyMap<string, string> {
  const alike = new Map<string, number>();
  for (const name of new Set(names)) alike.set(folded(name), (alike.get(folded(name)) ?? 0) + 1);
  return new Map(
    names.map((name) => {
      const plain = isPlain(name) && alike.get(folded(name)) === 1;
      return [name, plain ? name : `${reduced(name)}-${digest(name).slice(0, 8)}`];
    }),
  );
}

const folded = (name: string): string => name.toLowerCase();

const isPlain = (name: string): boolean =>
  /^[A-Za-z0-9_][A-Za-z0-9_-]*$/.test(name) &&
  name.length <= LONGEST &&
  !DEVICES.test(name) &&
  !DIGESTED.test(name);

function reduced(name: string): string {
  const kept = name.replace(/[^A-Za-z0-9_]+/g, '-').slice(0, LONGEST);
  return kept.replace(/^-+|-+$/g, '') || 'variant';
}

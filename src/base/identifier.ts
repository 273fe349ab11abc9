/** Longest piece of a name that goes into an identifier. */
const MOST_LETTERS = 40;

/**
 * Any text as an identifier: lower-case letters, digits and single dashes between them, a letter first, cut to 40.
 * Accents are taken off letters and all else becomes a dash; `otherwise`, itself one, stands for what leaves nothing,
 * and goes before a digit.
 */
export function slug(text: string, otherwise: string): string {
  const plain = text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, MOST_LETTERS)
    .replace(/^-|-$/g, '');
  if (plain === '') return otherwise;
  return /^\d/.test(plain) ? `${otherwise}-${plain}` : plain;
}

/** The names in their order, each later one of a kind with the least number behind it that makes it differ: `a`, `a-2`. */
export function madeUnique(names: readonly string[]): string[] {
  const taken = new Set<string>(names);
  const given = new Set<string>();
  return names.map((name) => {
    let unique = name;
    for (let i = 2; given.has(unique) || (unique !== name && taken.has(unique)); i += 1)
      unique = `${name}-${i}`;
    given.add(unique);
    return unique;
  });
}

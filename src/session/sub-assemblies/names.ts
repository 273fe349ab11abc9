import { madeUnique } from '../../base/identifier.js';

/** Characters of a name at most: it stands in tables (our choice). */
const LONGEST = 40;

/** A name for each group, made of the names of its parts; none is that of a part, and no two are the same. */
export function namesOf(groups: readonly (readonly string[])[], parts: readonly string[]): readonly string[] {
  const named = groups.map(([first, ...others]) => {
    const whole = [first, ...others].join('-');
    return [...whole].length <= LONGEST ? whole : `${cut(first!)}-and-${others.length}`;
  });
  return madeUnique([...parts, ...named]).slice(parts.length);
}

const cut = (name: string): string => [...name].slice(0, LONGEST - 10).join('');

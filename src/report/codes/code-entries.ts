import { CODE_AREAS, type CodeKind } from './code-areas.js';
import type { CodeWords } from './code-words.js';
import { listedCode, wordsIn } from './refusals.js';

/** A code with its kind and words, plain data for JSON. */
export interface CodeEntry extends Pick<CodeWords, 'title' | 'meaning' | 'remedy'> {
  readonly code: string;
  readonly kind: CodeKind;
}

/** Every code, in the order of the areas. */
export const codeEntries = (): readonly CodeEntry[] =>
  CODE_AREAS.flatMap(({ kind, codes }) =>
    Object.entries(codes).map(([code, { title, meaning, remedy }]) => ({
      ...{ code, kind, title, meaning, remedy },
    })),
  );

/** What a code means, also one with the number of a joint; undefined for one that Tackwright does not give. */
export function codeEntry(code: string): CodeEntry | undefined {
  const area = CODE_AREAS.find(({ codes }) => Object.hasOwn(codes, listedCode(code)));
  const words = area && wordsIn(area.codes, code);
  if (area === undefined || words === undefined) return undefined;
  const { title, meaning, remedy } = words;
  return { code, kind: area.kind, title, meaning, remedy };
}

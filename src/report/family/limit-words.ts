import type { Limit } from '../../model/family-result.js';
import { codeEntry } from '../codes/code-entries.js';
import { plain } from '../plain.js';

/** What stops something in as few words as there are for it: the title of its code, or the code itself. */
export function shortLimit(reasons: readonly Limit[]): string {
  const [first] = reasons;
  if (first === undefined) return 'not known';
  return codeEntry(first.code)?.title ?? plain(first.code.replaceAll('-', ' '));
}

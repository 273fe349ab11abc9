import type { Limit } from '../../model/family-result.js';
import { limitsText } from '../family-claim-text.js';
import { text } from '../page/html.js';
import { textList } from '../page/pieces.js';
import { codeEntry } from '../codes/code-entries.js';
import { plain } from '../plain.js';

/** What stops something, finished for a page: a sentence, or a list where several facts stop it together. */
export function limitsHtml(reasons: readonly Limit[]): string {
  const texts = [...new Set(reasons.map(({ text: told }) => plain(told)))];
  return texts.length < 2 ? text(limitsText(reasons)) : textList(texts, 'reasons');
}

/** What stops something in as few words as there are for it: the title of its code, or the code itself. */
export function shortLimit(reasons: readonly Limit[]): string {
  const [first] = reasons;
  if (first === undefined) return 'not known';
  // A pattern asks by wishes, of which the user wrote none: the text tells who asks.
  if (first.code === 'wish') return plain(first.text);
  const entry = codeEntry(first.code);
  if (entry === undefined) return plain(first.code.replaceAll('-', ' '));
  // What a plan is asked for is called by what would be right, a refusal by what is wrong.
  return entry.kind === 'reason' ? `not met: ${entry.title}` : entry.title;
}

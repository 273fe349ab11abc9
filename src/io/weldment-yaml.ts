import { Document, isCollection, isMap, isScalar, isSeq, Scalar, type Pair } from 'yaml';
import { printable } from './show.js';

/** What stands beside the entries of a weldment file, for people who look it through. */
export interface WeldmentNotes {
  /** Lines at the top. */
  readonly about: readonly string[];
  /** Lines above a key of the file. */
  readonly above?: Readonly<Record<string, readonly string[]>> | undefined;
  /** Beside a part, by its name. */
  readonly parts?: ReadonlyMap<string, string>;
  /** Beside a joint, by its place in the list. */
  readonly joints?: readonly string[];
}

/**
 * A weldment file as YAML with comments, one line for each part and joint. `readWeldment` reads it back. Comments may hold
 * names from files: they are made printable, so that none begins a line.
 */
export function weldmentYaml(file: object, { about, above = {}, parts, joints }: WeldmentNotes): string {
  const document = new Document(file, { aliasDuplicateObjects: false });
  document.commentBefore = commentOf(about);
  const members = isMap(document.contents) ? (document.contents.items as Pair[]) : [];
  for (const { key, value } of members) {
    if (!isScalar(key)) continue;
    const name = String(key.value);
    const lines = above[name];
    if (lines !== undefined) key.commentBefore = commentOf(lines);
    if (name === 'parts' || name === 'joints') key.spaceBefore = true;
    if (isMap(value))
      for (const pair of value.items as Pair[])
        inOneLine(
          pair.value,
          name === 'parts' && isScalar(pair.key) ? parts?.get(String(pair.key.value)) : undefined,
        );
    if (isSeq(value))
      value.items.forEach((item, i) => inOneLine(item, name === 'joints' ? joints?.[i] : undefined));
  }
  return document.toString({ lineWidth: 0, flowCollectionPadding: false });
}

function inOneLine(entry: unknown, note: string | undefined): void {
  if (isCollection(entry)) entry.flow = true;
  if (note !== undefined && (isCollection(entry) || entry instanceof Scalar))
    entry.comment = ` ${printable(note)}`;
}

const commentOf = (lines: readonly string[]): string => lines.map((line) => ` ${printable(line)}`).join('\n');

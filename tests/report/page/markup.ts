/** A start tag of a page with its attributes, entities resolved, and the text up to the next tag. */
export interface Tag {
  readonly name: string;
  readonly closing: boolean;
  readonly attributes: ReadonlyMap<string, string>;
  readonly after: string;
}

const NAMED: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };
const resolved = (text: string): string =>
  text.replace(/&([^;&]*;?)/g, (whole, name: string) => {
    const entity = NAMED[name.slice(0, -1)];
    if (!name.endsWith(';') || entity === undefined) throw new Error(`bad entity ${whole}`);
    return entity;
  });

const TAG = /<(\/?)([a-zA-Z][\w-]*)((?:\s+[\w:-]+(?:="[^"<>]*")?)*)\s*\/?>/y;

/** What of a page its browser reads as raw text: the style, the data and the script, which come last in their places. */
const RAW = /<(style|script)([^>]*)>([\s\S]*?)<\/\1>/g;

/**
 * Every tag of a page in order. Strict: an angle bracket or an ampersand that is not ours is an error, so that what reads
 * without one has only the markup that was made on purpose.
 */
export function tagsOf(page: string): readonly Tag[] {
  const body = page.replace(/^<!doctype html>\n/, '').replace(RAW, '<$1$2></$1>');
  const found: Tag[] = [];
  let at = 0;
  while (at < body.length) {
    TAG.lastIndex = at;
    const match = TAG.exec(body);
    if (match === null) {
      if (body.slice(at).trim() === '') break;
      throw new Error(`no tag of ours: ${body.slice(at, at + 80)}`);
    }
    const end = body.indexOf('<', TAG.lastIndex);
    const after = body.slice(TAG.lastIndex, end < 0 ? undefined : end);
    if (after.includes('>')) throw new Error(`bare > in ${after.slice(0, 80)}`);
    const attributes = new Map(
      [...match[3]!.matchAll(/\s+([\w:-]+)(?:="([^"]*)")?/g)].map(
        ([, name, value]) => [name!, resolved(value ?? '')] as const,
      ),
    );
    found.push({ name: match[2]!, closing: match[1] === '/', attributes, after: resolved(after) });
    at = end < 0 ? body.length : end;
  }
  return found;
}

/** Raw contents of the style and script elements, in order. */
export const rawOf = (page: string): readonly string[] => [...page.matchAll(RAW)].map((match) => match[3]!);

/** Everything inside the element with that id, as text. */
export function textIn(page: string, id: string): string {
  const tags = tagsOf(page);
  const start = tags.findIndex((tag) => tag.attributes.get('id') === id);
  if (start < 0) throw new Error(`no element ${id}`);
  const { name } = tags[start]!;
  let depth = 0;
  const texts: string[] = [];
  for (const tag of tags.slice(start)) {
    if (tag.name === name) depth += tag.closing ? -1 : 1;
    if (depth === 0) break;
    texts.push(tag.after);
  }
  return texts.join(' ').replace(/\s+/g, ' ').trim();
}

/** Values of `data-value` inside the element with that id, in order. */
export function valuesIn(page: string, id: string): readonly number[] {
  const tags = tagsOf(page);
  const start = tags.findIndex((tag) => tag.attributes.get('id') === id);
  const { name } = tags[start]!;
  let depth = 0;
  const values: number[] = [];
  for (const tag of tags.slice(start)) {
    if (tag.name === name) depth += tag.closing ? -1 : 1;
    if (depth === 0) break;
    const value = tag.attributes.get('data-value');
    if (value !== undefined) values.push(Number(value));
  }
  return values;
}

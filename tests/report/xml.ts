/** An element of a document as read back by the tests. */
export interface XmlNode {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly XmlNode[];
  /** Text directly inside, entities resolved. */
  readonly text: string;
}

const ENTITIES: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  '#39': "'",
};

/** Resolves the five entities; anything else after an ampersand, and any character XML forbids, is refused. */
function resolved(text: string): string {
  // eslint-disable-next-line no-control-regex
  if (/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Surrogate}/u.test(text))
    throw new Error(`forbidden character in ${JSON.stringify(text)}`);
  if (text.includes('<')) throw new Error(`bare < in ${text}`);
  return text.replace(/&([^;&]*;?)/g, (_, name: string) => {
    const entity = ENTITIES[name.slice(0, -1)];
    if (!name.endsWith(';') || entity === undefined) throw new Error(`bad entity &${name}`);
    return entity;
  });
}

function attributesOf(text: string): Map<string, string> {
  const found = new Map<string, string>();
  const rest = text.replace(/\s+([\w:-]+)="([^"]*)"/g, (_, name: string, value: string) => {
    if (found.has(name)) throw new Error(`attribute ${name} twice`);
    found.set(name, resolved(value));
    return '';
  });
  if (rest.trim() !== '') throw new Error(`bad attributes: ${rest}`);
  return found;
}

interface Open {
  name: string;
  attributes: Map<string, string>;
  children: XmlNode[];
  text: string;
}

/** Reads the small part of XML that the pictures use; throws an Error where it is not well-formed. */
export function readXml(document: string): XmlNode {
  const body = document.replace(/^<\?xml version="1\.0" encoding="UTF-8"\?>\n/, '');
  const open: Open[] = [{ name: '', attributes: new Map(), children: [], text: '' }];
  let at = 0;
  for (const match of body.matchAll(/<(\/?)([\w:-]+)((?:\s+[\w:-]+="[^"]*")*)\s*(\/?)>/g)) {
    open.at(-1)!.text += resolved(body.slice(at, match.index));
    at = match.index + match[0].length;
    const [, closing, name, attributes, single] = match as unknown as [
      string,
      string,
      string,
      string,
      string,
    ];
    if (closing === '/') {
      const done = open.pop()!;
      if (done.name !== name) throw new Error(`</${name}> closes <${done.name}>`);
      open.at(-1)!.children.push(done);
      continue;
    }
    const node: Open = { name, attributes: attributesOf(attributes), children: [], text: '' };
    if (single === '/') open.at(-1)!.children.push(node);
    else open.push(node);
  }
  const [root] = open;
  root!.text += resolved(body.slice(at));
  if (open.length !== 1 || root!.children.length !== 1 || root!.text.trim() !== '')
    throw new Error('not exactly one finished element');
  return root!.children[0]!;
}

/** An element and everything in it. */
export const allNodes = (node: XmlNode): XmlNode[] => [node, ...node.children.flatMap(allNodes)];

/** Every text that a picture shows. */
export const shownTexts = (node: XmlNode): string[] =>
  allNodes(node)
    .filter(({ name }) => name === 'text')
    .map(({ text }) => text);

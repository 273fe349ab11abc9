import type { CST, Document, ErrorCode, Node } from 'yaml';
import { Composer, LineCounter, Parser } from 'yaml';
import type { Issue } from '../model/issue.js';
import type { Place, TextFault } from './plain-value.js';
import { plainValue } from './plain-value.js';
import type { Path } from './show.js';
import { printable, showPath } from './show.js';

/** A parsed file: its plain value, and the line of everything in it. */
export interface SourceDocument {
  readonly file: string;
  readonly value: unknown;
  /** 1-based line of the key or entry at `path`, or of the nearest thing around it that exists. */
  readonly lineOf: (path: Path) => number;
}

/** Longest text that is read, in characters. */
export const LONGEST_TEXT = 16_000_000;

/** Deepest nesting of maps and lists that is read; a deeper file would exhaust the stack. */
export const DEEPEST_NESTING = 64;

/** Only the core types of YAML 1.2: no dates, binaries, sets or merges. Keys given twice are found by `plainValue`. */
const YAML_OPTIONS = {
  version: '1.2',
  merge: false,
  resolveKnownTags: false,
  uniqueKeys: false,
  prettyErrors: false,
} as const;

const REMEDIES: Partial<Record<ErrorCode, string>> = {
  BAD_INDENT: 'close the bracket or correct the indentation',
  BLOCK_AS_IMPLICIT_KEY: 'write one `key: value` a line, or quote a text that holds a colon',
  MISSING_CHAR: 'add what is missing',
  TAB_AS_INDENT: 'indent with spaces',
  TAG_RESOLVE_FAILED: 'remove the tag',
  BAD_SCALAR_START: 'put the text in quotes',
};

/**
 * Parses YAML 1.2 or JSON text. The document is undefined when the text cannot be read at all; faults that leave
 * the rest readable (a key given twice, a key `__proto__`) come with the document, so that all issues of a file can
 * be told in one run.
 */
export function readDocument(
  text: string,
  file: string,
): { readonly document: SourceDocument | undefined; readonly issues: readonly Issue[] } {
  const refuse = (line: number, problem: string, remedy: string) => ({
    document: undefined,
    issues: [issueOf(file, { code: 'text', line, path: [], problem, remedy })],
  });
  if (text.length > LONGEST_TEXT)
    return refuse(0, `the file has ${text.length} characters`, `at most ${LONGEST_TEXT} are read`);
  const lines = new LineCounter();
  const tokens = [...new Parser(lines.addNewLine).parse(text)];
  const lineAt = (offset: number): number => Math.max(1, lines.linePos(offset).line);
  const deep = tooDeep(tokens);
  if (deep !== undefined)
    return refuse(
      lineAt(deep.offset),
      `maps and lists are nested more than ${DEEPEST_NESTING} deep`,
      'nest less',
    );
  return composeTokens(tokens, text, file, lineAt);
}

function composeTokens(
  tokens: readonly CST.Token[],
  text: string,
  file: string,
  lineAt: (offset: number) => number,
): { readonly document: SourceDocument | undefined; readonly issues: readonly Issue[] } {
  const composer = new Composer(YAML_OPTIONS);
  const documents = [...composer.compose(tokens, true, text.length)] as Document.Parsed[];
  const faults = syntaxFaults(documents, lineAt);
  if (faults.length > 0) {
    const json = /\.json$/i.test(file) ? jsonFault(text, faults[0]!.line) : undefined;
    return { document: undefined, issues: (json ? [json] : faults).map((fault) => issueOf(file, fault)) };
  }
  const root = (documents[0]?.contents ?? null) as Node | null;
  const plain = plainValue(root, lineAt);
  const lineOf = (path: Path): number => lineIn(plain.place, path);
  return {
    document: { file, value: plain.value, lineOf },
    issues: plain.faults.map((fault) => issueOf(file, fault)),
  };
}

/** The syntax error of a file that calls itself JSON, in words of JSON; undefined when it is JSON after all. */
function jsonFault(text: string, otherwise: number): TextFault | undefined {
  try {
    JSON.parse(text);
    return undefined;
  } catch (error) {
    const at = /position (\d+)/.exec((error as SyntaxError).message)?.[1];
    const line = at === undefined ? otherwise : text.slice(0, Number(at)).split('\n').length;
    return {
      ...{ code: 'syntax', line, path: [], problem: 'cannot be read: from here on this is not JSON' },
      remedy:
        'put keys and texts in double quotes, a comma between entries and none after the last, and close every bracket',
    };
  }
}

/** Every syntax error of every document in the text, once each, in order of lines. */
function syntaxFaults(
  documents: readonly Document.Parsed[],
  lineAt: (offset: number) => number,
): readonly TextFault[] {
  const errors = documents.flatMap((document) => [...document.errors, ...document.warnings]);
  const faults = new Map<string, TextFault>();
  for (const { code, message, pos } of errors) {
    const line = lineAt(pos[0]);
    const remedy = REMEDIES[code] ?? 'write valid YAML 1.2 or JSON';
    const problem = `cannot be read: ${printable(message)}`;
    faults.set(`${line} ${problem}`, { code: 'syntax', line, path: [], problem, remedy });
  }
  const add = (line: number, problem: string, remedy: string) =>
    faults.set(problem, { code: 'syntax', line, path: [], problem, remedy });
  const [first, second] = documents;
  const version = first?.directives?.yaml.version ?? '1.2';
  if (version !== '1.2') add(1, `the file says it is YAML ${version}`, 'write YAML 1.2 or JSON');
  if (second !== undefined)
    add(lineAt(second.range[0]), 'a second document begins', 'keep one document a file');
  return [...faults.values()].sort((a, b) => a.line - b.line);
}

/** The first token nested deeper than is read, found without recursion. */
function tooDeep(tokens: readonly CST.Token[]): CST.Token | undefined {
  const stack: (readonly [CST.Token, number])[] = tokens.map((token) => [token, 0]);
  for (let next = stack.pop(); next !== undefined; next = stack.pop()) {
    const [token, depth] = next;
    if (depth > DEEPEST_NESTING + 1) return token;
    for (const inner of tokensIn(token)) stack.push([inner, depth + 1]);
  }
  return undefined;
}

function tokensIn(token: CST.Token): readonly CST.Token[] {
  if (token.type === 'document') return token.value ? [token.value] : [];
  if (!('items' in token)) return [];
  return token.items.flatMap(({ key, value }) => [key, value].filter((inner) => inner != null));
}

function lineIn(root: Place, path: Path): number {
  let place = root;
  for (const key of path) {
    const inner = place.inside.get(key);
    if (inner === undefined) break;
    place = inner;
  }
  return place.line;
}

const issueOf = (file: string, { code, line, path, problem, remedy }: TextFault): Issue => ({
  code,
  severity: 'error',
  file,
  line,
  path: showPath(path),
  problem,
  remedy,
});

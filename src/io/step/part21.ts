/** A value of an entity of an exchange structure (ISO 10303-21): text, number, list, or the number of another entity. */
export type StepValue = string | number | StepRef | readonly StepValue[] | undefined;

export interface StepRef {
  readonly ref: number;
}

/** An entity, by its number in the file. */
export interface StepEntity {
  readonly type: string;
  readonly values: readonly StepValue[];
}

/** Deepest lists that are read; entities have few, and a deeper text would exhaust the stack. */
const DEEPEST = 20;

/**
 * The entities of the wanted types in a text of ISO 10303-21, in the order of the file. What cannot be read is passed over:
 * whether a file is sound, the import library says; here only names and the tree of the assembly are looked up.
 * An entity of several types at once (`#1=(A()B());`) is passed over too.
 */
export function stepEntities(text: string, wanted: ReadonlySet<string>): ReadonlyMap<number, StepEntity> {
  const entities = new Map<number, StepEntity>();
  for (const statement of statements(text)) {
    const head = /^\s*#(\d+)\s*=\s*([A-Za-z_][A-Za-z0-9_]*)\s*\(/.exec(statement);
    const type = head?.[2]?.toUpperCase();
    if (head === null || type === undefined || !wanted.has(type)) continue;
    const values = new ValueReader(statement, head[0].length - 1).list(0);
    if (values !== undefined) entities.set(Number(head[1]), { type, values });
  }
  return entities;
}

/** The statements of a text, without comments; a semicolon within a text or a comment ends none. */
function* statements(text: string): Generator<string> {
  const marks = /'|;|\/\*/g;
  let [from, kept] = [0, ''];
  for (let mark = marks.exec(text); mark !== null; mark = marks.exec(text)) {
    const at = mark.index;
    if (mark[0] === "'") {
      const end = text.indexOf("'", at + 1);
      if (end < 0) return;
      marks.lastIndex = end + 1;
    } else if (mark[0] === ';') {
      yield kept + text.slice(from, at);
      [from, kept] = [at + 1, ''];
    } else {
      const end = text.indexOf('*/', at + 2);
      if (end < 0) return;
      [from, kept] = [end + 2, kept + text.slice(from, at)];
      marks.lastIndex = from;
    }
  }
}

class ValueReader {
  constructor(
    private readonly text: string,
    private at: number,
  ) {}

  /** A list in brackets from here on; undefined where it does not end or holds what no list may. */
  list(depth: number): readonly StepValue[] | undefined {
    const values: StepValue[] = [];
    this.at += 1;
    for (;;) {
      this.blanks();
      const mark = this.text[this.at];
      if (mark === undefined) return undefined;
      if (mark === ')') {
        this.at += 1;
        return values;
      }
      if (mark === ',') this.at += 1;
      else if (mark === '(') {
        const inner = depth < DEEPEST ? this.list(depth + 1) : undefined;
        if (inner === undefined) return undefined;
        values.push(inner);
      } else values.push(this.single(mark));
    }
  }

  private blanks(): void {
    while (/\s/.test(this.text[this.at] ?? '')) this.at += 1;
  }

  /** A text, a reference or a number; undefined for `$`, `*`, enumerations and all else, whose mark is passed. */
  private single(mark: string): StepValue {
    if (mark === "'") return this.quoted();
    const word = /[^,()\s']+/y;
    word.lastIndex = this.at;
    const found = word.exec(this.text)?.[0] ?? mark;
    this.at += found.length;
    if (/^#\d+$/.test(found)) return { ref: Number(found.slice(1)) };
    return /^[+-]?\d/.test(found) && Number.isFinite(Number(found)) ? Number(found) : undefined;
  }

  private quoted(): string {
    const from = this.at + 1;
    let end = this.text.indexOf("'", from);
    while (end >= 0 && this.text[end + 1] === "'") end = this.text.indexOf("'", end + 2);
    const stop = end < 0 ? this.text.length : end;
    this.at = stop + 1;
    return stepText(this.text.slice(from, stop));
  }
}

/** A text with the escapes of ISO 10303-21 read: `''`, `\\`, `\S\`, `\X\`, `\X2\`, `\X4\`; others are left as they are. */
export function stepText(text: string): string {
  return text
    .replaceAll("''", "'")
    .replace(
      /\\\\|\\S\\(.)|\\X\\([0-9A-F]{2})|\\X2\\((?:[0-9A-F]{4})+)\\X0\\|\\X4\\((?:[0-9A-F]{8})+)\\X0\\|\\P[A-I]\\|[\r\n]+/gs,
      (whole, high?: string, byte?: string, two?: string, four?: string) => {
        if (whole === '\\\\') return '\\';
        if (high !== undefined) return String.fromCharCode((high.charCodeAt(0) + 128) & 0xff);
        if (byte !== undefined) return String.fromCharCode(parseInt(byte, 16));
        if (two !== undefined) return codes(two, 4);
        return four === undefined ? '' : codes(four, 8);
      },
    );
}

/** Characters by their codes, `size` digits each; a code that no character has gives the mark for that. */
const codes = (digits: string, size: number): string =>
  digits
    .match(new RegExp(`.{${size}}`, 'g'))!
    .map((code) => parseInt(code, 16))
    .map((code) =>
      size === 4 ? String.fromCharCode(code) : String.fromCodePoint(code > 0x10ffff ? 0xfffd : code),
    )
    .join('');

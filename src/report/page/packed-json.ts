/**
 * JSON in less room, for what a page tells its script: the same postures, poses, words and keys come up again and again in
 * it. Whatever occurs more than once is written once, in `table`, and referred to by `@` and its number; an object is
 * written as the number of its keys in `shapes` after a `#`, and its values. Texts that begin with either mark have one more
 * `@` before them. Numbers are in base 36.
 */
export interface Packed {
  readonly shapes: readonly (readonly string[])[];
  /** Each refers to earlier ones only. */
  readonly table: readonly unknown[];
  readonly value: unknown;
}

/** What takes fewer characters than this is no shorter as a reference. */
const WORTH = 6;
const BASE = 36;
const MARKED = /^[@#]/;

const isObject = (value: unknown): value is object => typeof value === 'object' && value !== null;

/** Writes every value once. */
class Packer {
  readonly shapes: string[][] = [];
  readonly table: unknown[] = [];
  private readonly counts = new Map<string, number>();
  private readonly shapeNumbers = new Map<string, number>();
  private readonly numbers = new Map<string, number>();

  /** Counts what may be worth a place in the table; what is inside of a repeated one is counted once. */
  count(value: unknown): void {
    if (!isObject(value) && typeof value !== 'string') return;
    const key = JSON.stringify(value);
    if (key.length >= WORTH) {
      const seen = this.counts.get(key) ?? 0;
      this.counts.set(key, seen + 1);
      if (seen > 0) return;
    }
    if (isObject(value)) for (const member of Object.values(value)) this.count(member);
  }

  packed(value: unknown): unknown {
    if (!isObject(value) && typeof value !== 'string') return value;
    const key = JSON.stringify(value);
    if ((this.counts.get(key) ?? 0) < 2) return this.written(value);
    let number = this.numbers.get(key);
    if (number === undefined) {
      const written = this.written(value);
      number = this.table.push(written) - 1;
      this.numbers.set(key, number);
    }
    return `@${number.toString(BASE)}`;
  }

  private written(value: object | string): unknown {
    if (typeof value === 'string') return MARKED.test(value) ? `@@${value}` : value;
    if (Array.isArray(value)) return value.map((member) => this.packed(member));
    const members = Object.entries(value).filter(([, member]) => member !== undefined);
    const shape = this.shape(members.map(([key]) => key));
    return [`#${shape.toString(BASE)}`, ...members.map(([, member]) => this.packed(member))];
  }

  private shape(keys: string[]): number {
    const key = JSON.stringify(keys);
    const known = this.shapeNumbers.get(key);
    if (known !== undefined) return known;
    const number = this.shapes.push(keys) - 1;
    this.shapeNumbers.set(key, number);
    return number;
  }
}

/** `value` is anything that JSON can say. */
export function packed(value: unknown): Packed {
  const packer = new Packer();
  packer.count(value);
  const written = packer.packed(value);
  return { shapes: packer.shapes, table: packer.table, value: written };
}

/** What was packed. Values that occur more than once are one object now, so nobody may change them. */
export function unpacked({ shapes, table, value }: Packed): unknown {
  const read: unknown[] = [];
  const number = (text: string): number => parseInt(text.slice(1), BASE);
  const valueOf = (written: unknown): unknown => {
    if (typeof written === 'string') {
      if (written.startsWith('@@')) return written.slice(2);
      return written.startsWith('@') ? read[number(written)] : written;
    }
    if (!Array.isArray(written)) return written;
    const [first, ...rest] = written as unknown[];
    if (typeof first !== 'string' || !first.startsWith('#')) return written.map(valueOf);
    const keys = shapes[number(first)]!;
    return Object.fromEntries(rest.map((member, i) => [keys[i]!, valueOf(member)]));
  };
  for (const written of table) read.push(valueOf(written));
  return valueOf(value);
}

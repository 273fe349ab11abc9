import { describe, expect, it } from 'vitest';
import { DEEPEST_NESTING, LONGEST_TEXT, readDocument } from '../../src/io/document.js';
import { told } from './told.js';

const read = (text: string) => readDocument(text, 'f.yaml');

describe('reading a text', () => {
  it('gives the plain value of YAML 1.2 and of JSON, also with tabs', () => {
    expect(read('a: [1, 2.5, -3]\nb: { c: yes, d: null }\n1.0: 0x10\n').document?.value).toEqual({
      a: [1, 2.5, -3],
      b: { c: 'yes', d: null },
      '1.0': 16,
    });
    expect(read('{\n\t"a": [\n\t\t1\n\t]\n}').document?.value).toEqual({ a: [1] });
  });

  it('finds the line of a key, of an entry, and of the nearest thing around what is missing', () => {
    const lineOf = read('a:\n  - b\n  -\n    c: 1\n    d:\n      - 2\n').document!.lineOf;
    expect(lineOf([])).toBe(1);
    expect(lineOf(['a', 0])).toBe(2);
    expect(lineOf(['a', 1, 'c'])).toBe(4);
    expect(lineOf(['a', 1, 'd'])).toBe(5);
    expect(lineOf(['a', 1, 'd', 0])).toBe(6);
    expect(lineOf(['a', 1, 'd', 0, 'deeper'])).toBe(6);
    expect(lineOf(['nowhere'])).toBe(1);
  });

  it('speaks of JSON where the file says it is JSON', () => {
    const readJson = (text: string) => told(readDocument(text, 'f.frame.json'));
    const said =
      'cannot be read: from here on this is not JSON; put keys and texts in double quotes, a comma between entries and none after the last, and close every bracket';
    expect(readJson('{\n  "a": 1\n  "b": 2\n}')).toEqual([`f.frame.json:3: ${said}`]);
    expect(readJson('{\n  "a": [1, 2\n')[0]).toContain(said);
    expect(readDocument('{ "a": 1 }', 'f.json').issues).toEqual([]);
  });

  it('tells every syntax error', () => {
    expect(told(read('a: !thing 1\nb: "\\q"\nc: @x\n'))).toEqual([
      'f.yaml:1: cannot be read: Unresolved tag: !thing; remove the tag',
      'f.yaml:2: cannot be read: Invalid escape sequence \\q; write valid YAML 1.2 or JSON',
      'f.yaml:3: cannot be read: Plain value cannot start with reserved character @; put the text in quotes',
    ]);
    expect(told(read('a: [1,\nb: 2\n'))).toEqual([
      'f.yaml:2: cannot be read: Flow sequence in block collection must be sufficiently indented and end with a ]; close the bracket or correct the indentation',
    ]);
    expect(told(read('a:\n\tb: 1\n'))).toEqual([
      'f.yaml:2: cannot be read: Tabs are not allowed as indentation; indent with spaces',
    ]);
  });

  it('takes one document of YAML 1.2 without dates, sets and binaries', () => {
    expect(told(read('a: 1\n---\nb: 1\n'))).toEqual([
      'f.yaml:2: a second document begins; keep one document a file',
    ]);
    expect(told(read('%YAML 1.1\n---\na: yes\n'))).toEqual([
      'f.yaml:1: the file says it is YAML 1.1; write YAML 1.2 or JSON',
    ]);
    expect(told(read('a: !!timestamp 2001-01-01\n'))).toEqual([
      'f.yaml:1: cannot be read: Unresolved tag: tag:yaml.org,2002:timestamp; remove the tag',
    ]);
    expect(read('<<: { a: 1 }\n').document?.value).toEqual({ '<<': { a: 1 } });
  });

  it('tells keys given twice and keys that are no words, and keeps the first', () => {
    const reading = read('a: 1\nb: 2\n"a": 3\n[c]: 4\n');
    expect(reading.document?.value).toEqual({ a: 1, b: 2 });
    expect(told(reading)).toEqual([
      'f.yaml:3: a: the key `a` is given twice, first at line 1; keep one of them',
      'f.yaml:4: a key is not a single word; use a plain word as the key',
    ]);
  });
});

describe('hostile texts', () => {
  it('never lets a key reach a prototype', () => {
    const reading = read('a: { __proto__: { polluted: 1 } }\n"__proto__": { polluted: 1 }\nconstructor: 1\n');
    const value = reading.document!.value as Record<string, object>;
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
    expect(Object.getPrototypeOf(value)).toBe(Object.prototype);
    expect(Object.getPrototypeOf(value['a'])).toBe(Object.prototype);
    expect(Object.keys(value)).toEqual(['a', 'constructor']);
    expect(told(reading)).toEqual([
      'f.yaml:1: a: the key `__proto__` is reserved; use another name',
      'f.yaml:2: the key `__proto__` is reserved; use another name',
    ]);
  });

  it('repeats anchors, but not without bounds', () => {
    expect(read('a: &x [1, 2]\nb: *x\n').document?.value).toEqual({ a: [1, 2], b: [1, 2] });
    const levels = Array.from({ length: 12 }, (_, i) =>
      i === 0 ? 'l0: &l0 [1, 1]' : `l${i}: &l${i} [${`*l${i - 1}, `.repeat(9)}]`,
    );
    expect(told(read(levels.join('\n')))).toEqual([
      'f.yaml:5: l4[2]: *l3 repeats more than 10000 values; write the values themselves',
    ]);
  });

  it('tells anchors that are unknown or contain themselves', () => {
    expect(told(read('a: *x\nb: &b { c: [*b] }\n'))).toEqual([
      'f.yaml:1: a: *x has no anchor above it; write the value itself',
      'f.yaml:2: b.c[0]: *b contains itself; write the value itself',
    ]);
  });

  it.each(['[', '- ', '{a: ', '? '])('refuses nesting of %j that would exhaust the stack', (open) => {
    expect(told(read(open.repeat(20_000)))).toEqual([
      'f.yaml:1: maps and lists are nested more than 64 deep; nest less',
    ]);
  });

  it('reads nesting up to the bound', () => {
    const nested = (depth: number) => '['.repeat(depth) + ']'.repeat(depth);
    expect(read(nested(DEEPEST_NESTING)).issues).toEqual([]);
    expect(read(nested(DEEPEST_NESTING + 2)).document).toBeUndefined();
  });

  it('refuses a text that is too long', () => {
    expect(told(read(' '.repeat(LONGEST_TEXT + 1)))).toEqual([
      'f.yaml: the file has 16000001 characters; at most 16000000 are read',
    ]);
  });
});

import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { canonicalText } from '../../src/io/canonical.js';
import { digest } from '../../src/io/digest.js';
import { readWeldment } from '../../src/io/read-weldment.js';

describe('canonical text', () => {
  it('sorts keys by code unit, keeps lists, writes numbers as JavaScript does', () => {
    expect(
      canonicalText({ b: [2, 1, -0, 1e21, 0.1], 10: 'x', 9: null, a: {}, c: [], é: true, Z: undefined }),
    ).toBe(
      `{
  "10": "x",
  "9": null,
  "a": {},
  "b": [
    2,
    1,
    0,
    1e+21,
    0.1
  ],
  "c": [],
  "é": true
}
`,
    );
  });

  it('is JSON of the same value, and the same text for any order of the keys', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 4 }), (value) => {
        const text = canonicalText(value);
        expect(canonicalText(reversed(value))).toBe(text);
        expect(JSON.stringify(sorted(JSON.parse(text)))).toBe(JSON.stringify(sorted(value)));
      }),
    );
  });

  it.each([NaN, Infinity, 5n, () => 1, Symbol('x'), [undefined]])(
    'refuses what JSON cannot hold',
    (value) => {
      expect(() => canonicalText(value)).toThrow(RangeError);
    },
  );
});

/** The same value with every map built in the opposite order. */
function reversed(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(reversed);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([key, member]) => [key, reversed(member)]),
  );
}

/** The value as nested lists of sorted members, so that two values can be compared whatever their order. */
function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return Object.is(value, -0) ? 0 : value;
  return Object.entries(value)
    .map(([key, member]) => [key, sorted(member)])
    .sort(([a], [b]) => (String(a) < String(b) ? -1 : 1));
}

describe('a digest', () => {
  const file = new URL('../../examples/roller-stand/roller-stand.weldment.yaml', import.meta.url);
  const text = readFileSync(file, 'utf8');
  const of = (content: string) => readWeldment(content, 'f').digest;

  it('is SHA-256 of the canonical text', () => {
    // printf 'null\n' | sha256sum
    expect(digest(null)).toBe('38e0b9de817f645c4bec37c0d4a3e58baecccb040f5718dc069a72c7385a0bed');
  });

  it('does not see comments, layout, the order of keys, or YAML against JSON', () => {
    const value: unknown = parse(text);
    const expected = of(text);
    expect(expected).toMatch(/^[0-9a-f]{64}$/);
    expect(of(text.replace(/ *#.*$/gm, ''))).toBe(expected);
    expect(of(JSON.stringify(value))).toBe(expected);
    expect(of(JSON.stringify(reversed(value), null, '\t'))).toBe(expected);
  });

  it('does not see a default that is written out, but sees every other number', () => {
    expect(of(text.replace('leg: 5, sides: both', 'leg: 5'))).toBe(of(text));
    expect(of(text.replace('leg: 5', 'leg: 6'))).not.toBe(of(text));
  });
});

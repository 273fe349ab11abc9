import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clipped, columns, padded, plain, wrapped } from '../../src/report/plain.js';

const HOSTILE = 'web\u001b[31m\u0007\u200b\u202e\u200f\ufeff\n\ud800<b>';

// eslint-disable-next-line no-control-regex
const UNSEEN = /[\u0000-\u001f\u007f-\u009f\u200b-\u200f\u2028-\u202e\u2066-\u2069]/;

describe('plain', () => {
  it('shows every mark that a terminal would not', () => {
    expect(plain(HOSTILE)).toBe('web\\u001b[31m\\u0007\\u200b\\u202e\\u200f\\ufeff\\u000a\\ud800<b>');
  });

  it('leaves letters of any script alone', () => {
    expect(plain('Träger 横梁 балка')).toBe('Träger 横梁 балка');
  });

  it('leaves nothing behind that is not seen', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(plain(text)).not.toMatch(UNSEEN);
      }),
    );
  });
});

describe('widths', () => {
  it('counts columns, not code units', () => {
    expect(columns('横梁')).toBe(4);
    expect(columns('e\u0301')).toBe(1);
    expect(padded('横', 4)).toBe('横  ');
    expect(padded('7', 3, 'right')).toBe('  7');
  });

  it('cuts with dots', () => {
    expect(clipped('cheek-left', 10)).toBe('cheek-left');
    expect(clipped('cheek-left', 9)).toBe('cheek-...');
  });

  it('wraps between words and in words that are too long', () => {
    expect(wrapped('by the handling robot', 10)).toEqual(['by the', 'handling', 'robot']);
    expect(wrapped('abcdefghij kl', 4)).toEqual(['abcd', 'efgh', 'ij', 'kl']);
    expect(wrapped('', 4)).toEqual(['']);
  });

  it('keeps every line within the width and loses nothing', () => {
    const word = fc.stringMatching(/^[a-z横]{1,12}$/);
    fc.assert(
      fc.property(fc.array(word), fc.integer({ min: 2, max: 20 }), (list, width) => {
        const lines = wrapped(list.join(' '), width);
        expect(Math.max(...lines.map(columns))).toBeLessThanOrEqual(width);
        expect(lines.join('').replaceAll(' ', '')).toBe(list.join(''));
      }),
    );
  });
});

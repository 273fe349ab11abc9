import fc from 'fast-check';
import { evaluate as library } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { ok } from '../../../src/base/result.js';
import { FUNCTIONS } from '../../../src/io/family/arithmetic.js';
import { evaluate } from '../../../src/io/family/evaluate.js';
import { namesIn } from '../../../src/io/family/expression.js';
import { parseExpression } from '../../../src/io/family/parse-expression.js';
import { LONGEST_EXPRESSION, RESERVED_WORDS } from '../../../src/model/family-file.js';
import type { ParameterValue } from '../../../src/model/family-result.js';

const VALUES: Readonly<Record<string, ParameterValue>> = {
  ...{ height: 200, ribs: 3, none: 0, gusseted: true, steel: 'S355', pi: Math.PI },
};

const scope = (name: string) => (Object.hasOwn(VALUES, name) ? ok(VALUES[name]!) : undefined);

/** The value, or code and problem of the fault. */
function valueOf(text: string): ParameterValue {
  const parsed = parseExpression(text);
  const outcome = parsed.ok ? evaluate(parsed.value, scope) : parsed;
  return outcome.ok ? outcome.value : `${outcome.error.code}: ${outcome.error.problem}`;
}

describe('an expression', () => {
  it.each<[string, ParameterValue]>([
    ['height / 2 + 10', 110],
    ['-100 + 200 * 1 / (ribs - 1)', 0],
    ['2 ^ 3 ^ 2', 512],
    ['-2 ^ 2', -4],
    ['-7 % 3', 2],
    ['height mod 60', 20],
    ['1e3 + 0.5', 1000.5],
    ['min(height, 150, 180) - max(1, ribs)', 147],
    ['floor(0.3 / 0.1) + ceil(2.0000000000001)', 5],
    ['(1e10 + 5) % 9 + 0 * floor(1e10 + 0.7)', 6],
    ['ceil(1e10 + 0.2) - 1e10', 1],
    ['round(2.5) + round(-2.5) + round(2.4999)', 2],
    ['gusseted and not (ribs > 3)', true],
    ['gusseted ? 8 : 6', 8],
    ['100 < height <= 200', true],
    ['100 < height < 200', false],
    ['0.1 + 0.2 == 0.3', true],
    ['0.1 + 0.2 > 0.3', false],
    ['steel == "S355" or 1 / none > 2', true],
    ['gusseted != false', true],
    ['none == 0 ? 0 : 1 / none', 0],
    ['steel', 'S355'],
  ])('%s is %s', (text, value) => {
    expect(valueOf(text)).toBe(value);
  });

  it.each([
    ['sin(30)', 0.5],
    ['cos(60)', 0.5],
    ['tan(45)', 1],
    ['asin(0.5) + acos(0.5)', 90],
    ['atan(1)', 45],
    ['atan2(1, -1)', 135],
    ['sqrt(abs(-2)) ^ 2', 2],
    ['2 * pi', 2 * Math.PI],
  ])('%s is %s, angles in degrees', (text, value) => {
    expect(valueOf(text)).toBeCloseTo(value, 12);
  });

  it.each([
    ['height +', 'expression-syntax: "height +" cannot be read at its end'],
    ['(height', 'expression-syntax: "(height" cannot be read at its end'],
    ['', 'expression-syntax: the expression is empty'],
    ['2 height', 'expression-syntax: two values stand side by side without an operator'],
    ['200 mm', 'expression-syntax: two values stand side by side without an operator'],
    ['sqrt(1, 2)', 'expression-syntax: sqrt is given 2 values'],
    ['min()', 'expression-syntax: min is given 0 values'],
    ['1 / none', 'division-by-zero: 1 is divided by 0'],
    ['5 % none', 'division-by-zero: 5 is divided by 0'],
    ['sqrt(-4)', 'not-finite: sqrt(-4) is no finite number'],
    ['(-8) ^ 0.5', 'not-finite: -8 ^ 0.5 is no finite number'],
    ['9 ^ 9 ^ 9 ^ 9', 'not-finite: 9 ^ 387420489 is no finite number'],
    ['1e999', 'expression-not-allowed: `Infinity` cannot be in an expression'],
    ['height + gusseted', 'expression-kind: `+` needs numbers, got true'],
    ['height ? 1 : 2', 'expression-kind: `?` needs true or false, got 200'],
    ['steel < 5', 'expression-kind: `<` cannot compare "S355" with 5'],
    ['steel == 5', 'expression-kind: `==` cannot compare "S355" with 5'],
    ['not ribs', 'expression-kind: `not` needs true or false, got 3'],
  ])('%s is refused', (text, problem) => {
    expect(valueOf(text)).toBe(problem);
  });

  it.each([
    'import("fs")',
    'constructor.constructor("return 1")()',
    '"".constructor',
    'height.constructor',
    'height["constructor"]',
    'toString()',
    'hasOwnProperty("a")',
    '__proto__("a")',
    'evaluate("1")',
    'parse("1")',
    'height = 1',
    'f(x) = x',
    '[1, 2]',
    '{a: 1}',
    '1:3',
    '1; 2',
    '1\n2',
    'ribs!',
    "ribs'",
    'ribs | 1',
    '~ribs',
    'height to 5',
    'true xor false',
    'ribs ?? 1',
    'null',
    'undefined',
    'NaN',
  ])('%s is not allowed, whatever it would do', (text) => {
    const parsed = parseExpression(text);
    expect(parsed.ok ? parsed.value : parsed.error.code).toMatch(/^expression-(not-allowed|syntax)$/);
  });

  it('knows names only by what is in scope', () => {
    for (const name of ['constructor', 'toString', '__proto__', 'valueOf', 'e', 'i', 'end'])
      expect(valueOf(name)).toMatch(/^expression-kind: `\w+` stands for nothing$/);
    const parsed = parseExpression('a + min(b, a ? c : 1) < d and "e" == f');
    expect(parsed.ok && namesIn(parsed.value)).toEqual(['a', 'b', 'c', 'd', 'f']);
  });

  it.each([
    ['brackets', '('.repeat(140) + '1' + ')'.repeat(140)],
    ['open brackets', '('.repeat(LONGEST_EXPRESSION)],
    ['lists', '['.repeat(150) + ']'.repeat(150)],
    ['minus signs', '-'.repeat(299) + '1'],
    ['powers', '2^'.repeat(149) + '2'],
    ['not', 'not '.repeat(70) + 'true'],
    ['choices', 'true ? 1 : '.repeat(27) + '1'],
    ['calls', 'abs('.repeat(50) + '1' + ')'.repeat(50)],
  ])('nested too deep is refused: %s', (_, text) => {
    const parsed = parseExpression(text);
    expect(parsed.ok || parsed.error.problem).toMatch(/nested more than 24 deep|cannot be in an expression/);
  });

  it('is refused when it is long', () => {
    const parsed = parseExpression(`1${' '.repeat(LONGEST_EXPRESSION)}`);
    expect(parsed.ok || parsed.error.problem).toBe('the expression has 301 characters');
    expect(parseExpression('1+'.repeat(1_000_000)).ok).toBe(false);
  });

  it('has no function that a parameter may be called as', () => {
    for (const name of Object.keys(FUNCTIONS)) expect(RESERVED_WORDS).toContain(name);
  });

  it('never throws, whatever the text', () => {
    const pieces = fc.constantFrom(
      ...[
        '(',
        ')',
        '[',
        ']',
        '{',
        '}',
        '+',
        '-',
        '*',
        '/',
        '^',
        '%',
        '!',
        '"',
        "'",
        ',',
        ':',
        ';',
        '?',
        '.',
        '=',
      ],
      ...[
        ' ',
        '\n',
        '\\',
        '#',
        '1',
        '0',
        '1e9',
        'a',
        'height',
        'min(',
        'and ',
        'not ',
        'to ',
        'constructor',
        '𝑥',
      ],
    );
    const texts = fc.oneof(
      fc.string(),
      fc.array(pieces, { maxLength: 40 }).map((list) => list.join('')),
    );
    fc.assert(
      fc.property(texts, (text) => {
        const value = valueOf(text);
        if (typeof value === 'number') expect(value).toSatisfy(Number.isFinite);
      }),
      { numRuns: 400 },
    );
  });
});

/**
 * Texts of arithmetic as people could write them, with brackets only where they are asked for: either with everything
 * that has steps (rounding, remainders, comparisons), on numbers that stay exact, or smooth, with divisions and roots.
 */
const arithmetic = (exact: boolean): fc.Arbitrary<string> => {
  const signs = exact ? ['+', '-', '*', '+ -', 'mod', '* 2 ^'] : ['+', '-', '*', '/', '- -'];
  const functions = exact ? ['abs', 'floor', 'ceil', 'round'] : ['abs', 'sqrt', '-abs'];
  const number = fc.oneof(
    fc.integer({ min: 1, max: 9 }).map(String),
    fc.constantFrom('0.5', '2.25', 'height', 'ribs'),
  );
  const joined = (one: fc.Arbitrary<string>): fc.Arbitrary<string> =>
    fc
      .tuple(one, fc.array(fc.tuple(fc.constantFrom(...signs), number), { maxLength: 2 }))
      .map(([first, rest]) => rest.reduce((text, [sign, atom]) => `${text} ${sign} ${atom}`, first));
  const truth = (one: fc.Arbitrary<string>): fc.Arbitrary<string> =>
    fc.oneof(
      fc.tuple(one, fc.constantFrom('<', '<=', '>', '>=', '==', '!='), number).map((of) => of.join(' ')),
      fc.tuple(number, one, number).map(([a, b, c]) => `${a} < ${b} <= ${c}`),
      fc.constantFrom('gusseted', 'not gusseted and 1 < 2', 'gusseted or 1 < 0', 'not (1 > 2 or gusseted)'),
    );
  const deeper = (one: fc.Arbitrary<string>): fc.Arbitrary<string> =>
    fc.oneof(
      number,
      joined(one).map((sum) => `(${sum})`),
      fc.tuple(fc.constantFrom(...functions), joined(one)).map(([f, of]) => `${f}(${of})`),
      fc.tuple(fc.constantFrom('min', 'max'), joined(one), one).map(([f, a, b]) => `${f}(${a}, ${b})`),
      ...(exact ? [fc.tuple(truth(one), one, one).map(([c, a, b]) => `(${c} ? ${a} : ${b})`)] : []),
    );
  return joined(deeper(deeper(deeper(number))));
};

describe('the value of arithmetic', () => {
  it.each([
    ['exact', true],
    ['smooth', false],
  ])('is what the library that parses it would work out: %s', (_, exact) => {
    let compared = 0;
    fc.assert(
      fc.property(arithmetic(exact), (text) => {
        const value = valueOf(text);
        // The library goes on with infinities and complex numbers where we stop.
        if (typeof value !== 'number') return;
        compared += 1;
        const theirs = library(text, { ...VALUES }) as number;
        expect(Math.abs(theirs - value)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(value)));
      }),
      { numRuns: 300 },
    );
    expect(compared).toBeGreaterThan(150);
  });
});

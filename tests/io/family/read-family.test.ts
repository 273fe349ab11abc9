import { describe, expect, it } from 'vitest';
import { filesBesideFamily, readFamily } from '../../../src/io/family/read-family.js';
import { readXlsxTable } from '../../../src/io/tables/xlsx-table.js';
import { issueLine } from '../../../src/model/issue.js';
import writeXlsxFile from 'write-excel-file/node';
import { readFileSync } from 'node:fs';
import { familyText, tinyFamily } from './tiny-family.js';
import { told } from '../told.js';

const issuesOf = (text: string, beside = {}): readonly string[] => told(readFamily(text, 'f', beside));

const withBase = (parts: string, more = ''): string => familyText({ parts, more });

describe('a family file', () => {
  it('gives every variant as a whole weldment, in its order, with the values of all parameters', () => {
    const { family, issues } = readFamily(tinyFamily, 'f');
    expect(issues.map(issueLine)).toEqual([]);
    expect(family!.name).toBe('posts');
    expect(family!.parameters).toEqual([
      { name: 'height', unit: 'mm', range: { low: 60, high: 140, resolution: 5 } },
      { name: 'capped', unit: undefined, range: undefined },
    ]);
    expect(family!.variants.map(({ name, values }) => [name, values])).toEqual([
      ['low', { height: 80, capped: true }],
      ['high', { height: 120, capped: false }],
    ]);
    const [low, high] = family!.variants.map(({ text }) => JSON.parse(text));
    expect(low.weldment).toBe('posts-low');
    expect(low.parts.post).toEqual({ at: [0, 0, 60], block: { length: 60, width: 60, height: 80 } });
    expect(Object.keys(low.parts)).toEqual(['cap', 'foot', 'post']);
    expect(Object.keys(high.parts)).toEqual(['foot', 'post']);
    expect(high.joints).toHaveLength(1);
  });

  it('gives variants of values in between, and says what is wrong with others', () => {
    const family = readFamily(tinyFamily, 'f').family!;
    const { variant } = family.variantOf('middle', { height: 100, capped: false });
    expect(JSON.parse(variant!.text).parts.post.block.height).toBe(100);
    expect(family.variantOf('x', { height: 80, capped: true }).variant!.values).toEqual(
      family.variants[0]!.values,
    );
    expect(told(family.variantOf('far', { height: 141 }))).toEqual([
      'f [far]:4: parameters.height: height is 141 mm; give 60 to 140 mm, or widen `range` of the parameter',
    ]);
    expect(told(family.variantOf('odd', { height: 100, colour: 'red' }))).toEqual([
      'f [odd]:3: parameters.colour: there is no parameter `colour`; known are height, capped',
    ]);
  });

  it('has a digest of its content, whatever its format', () => {
    const { digest } = readFamily(tinyFamily, 'f').family!;
    expect(readFamily(`# a remark\n${tinyFamily}`, 'g').family!.digest).toBe(digest);
    expect(readFamily(tinyFamily.replace('height: 80', 'height: 81'), 'f').family!.digest).not.toBe(digest);
    expect(readFamily(tinyFamily.replace('[60, 140]', '[60, 150]'), 'f').family!.digest).not.toBe(digest);
  });
});

describe('names and texts that mean something to a machine', () => {
  it('are names and texts like any other', () => {
    const text = familyText({
      parts: `    constructor: { block: { length: =constructor, width: 60, height: 20 }, at: [0, 0, 10] }
    toString: { repeat: 2, when: valueOf, block: { length: 60, width: 60, height: 20 }, at: [0, =100 + 100 * i, 10] }`,
      lists: '  joints: [{ between: [constructor, toString] }, { between: [constructor, hasOwnProperty] }]',
      variants: '[{ name: constructor }, { name: "<b>..%2f", constructor: 50 }]',
    }).replace(
      /^parameters: .*$/m,
      'parameters: { constructor: { default: 60 }, valueOf: { default: true } }',
    );
    expect(issuesOf(text)).toEqual([
      'f [every variant]:9: joints[2].between[1]: no part is named "hasOwnProperty"; the parts are constructor, toString-1, toString-2',
    ]);
    const { family } = readFamily(text.replace(', { between: [constructor, hasOwnProperty] }', ''), 'f');
    expect(family!.variants.map(({ values }) => Object.entries(values))).toEqual([
      [
        ['constructor', 60],
        ['valueOf', true],
      ],
      [
        ['constructor', 50],
        ['valueOf', true],
      ],
    ]);
    expect(Object.keys(JSON.parse(family!.variants[0]!.text).parts)).toEqual([
      'constructor',
      'toString-1',
      'toString-2',
    ]);
  });

  it('are refused where they are too long, without being read', () => {
    const long = (length: string): string =>
      withBase(`    foot: { block: { length: ${length}, width: 60, height: 20 }, at: [0, 0, 10] }`);
    expect(issuesOf(long(`"=${'1+'.repeat(500_000)}1"`))[0]).toContain(
      'the expression has 1000001 characters',
    );
    expect(issuesOf(long(`"${'{1}'.repeat(300_000)}"`))[0]).toContain('in braces has 900000 characters');
    expect(issuesOf(long(`"${'{'.repeat(300_000)}"`))[0]).toContain('give a number');
  });

  it('as many numbers derived from one another as there may be are worked out', () => {
    const names = Array.from({ length: 100 }, (_, i) => `n${i}`);
    const deep = (inside: string): string => `${'('.repeat(20)}${inside} + 1${')'.repeat(20)}`;
    const chain = names.map((name, i) => `  ${name}: "${i === 0 ? '1' : deep(names[i - 1]!)}"`);
    const text = withBase(FOOT('=n99'), `let:\n${chain.join('\n')}`);
    const { family } = readFamily(text, 'f');
    expect(JSON.parse(family!.variants[0]!.text).parts.foot.block.length).toBe(100);
    expect(issuesOf(text.replace('let:', 'let:\n  n100: 5'))).toHaveLength(1);
  });
});

describe('what is wrong with a family file is told in one line each', () => {
  const part = (member: string): string => withBase(`    foot: { ${member} }`);

  it.each([
    ['an expression cut off', part('block: { length: =height +, width: 60, height: 20 }, at: [0, 0, 10]')],
    ['a comma', part('block: { length: 60, width: 60, height: 20 }, at: [=min(height, 3), 0, 10]')],
    ['a colon', part('block: { length: 60, width: 60, height: 20 }, at: [=capped ? 1 : 2, 0, 10]')],
    ['an unknown name', part('block: { length: =heigth, width: 60, height: 20 }, at: [0, 0, 10]')],
    [
      '`i` where nothing is repeated',
      part('block: { length: =60 + i, width: 60, height: 20 }, at: [0, 0, 10]'),
    ],
    ['code', part('block: { length: =height.constructor, width: 60, height: 20 }, at: [0, 0, 10]')],
    [
      'a division by zero',
      part('block: { length: =60 / (height - 80), width: 60, height: 20 }, at: [0, 0, 10]'),
    ],
    ['no number', part('block: { length: =capped, width: 60, height: 20 }, at: [0, 0, 10]')],
    ['no condition', part('when: height, block: { length: 60, width: 60, height: 20 }, at: [0, 0, 10]')],
    ['no count', part('repeat: =height / 50, block: { length: 60, width: 60, height: 20 }, at: [0, 0, 10]')],
    ['too many', part('repeat: =height, block: { length: 60, width: 60, height: 20 }, at: [=i * 60, 0, 10]')],
    ['a wrong size', part('block: { length: =80 - height, width: 60, height: 20 }, at: [0, 0, 10]')],
    ['an unknown key', part('block: { length: 60, width: 60, height: 20 }, at: [0, 0, 10], colour: red')],
    ['no shapes', part('mass: =height')],
    ['a loop', withBase(FOOT(), 'let: { a: b + 1, b: c, c: 2 * a, d: e, e: 1 }')],
    ['let called as a parameter', withBase(FOOT(), 'let: { height: 5 }')],
    ['let with an unknown name', withBase(FOOT(), 'let: { top: height + widht }')],
    ['let divided by zero', withBase(FOOT('=60 + gap'), 'let: { gap: 1 / (height - 120) }')],
    ['a word of expressions', withBase(FOOT(), 'let: { min: 5, a-b: 4 }')],
    ['sub-assemblies', withBase(FOOT(), '').replace('  parts:', '  sub-assemblies: auto\n  parts:')],
    ['neither base nor weldment', withBase('').replace(/^base:[^]*(?=variants:)/m, '')],
    [
      'a name of a copy',
      withBase(
        `${FOOT()}\n    rib: { repeat: 2, block: { length: 60, width: 60, height: 20 }, at: [0, =100 + 100 * i, 10] }\n    rib-2: { block: { length: 60, width: 60, height: 20 }, at: [0, -100, 10] }`,
      ),
    ],
  ])('%s', (_, text) => {
    expect(issuesOf(text)).toMatchSnapshot();
  });

  it.each([
    ['another unit system', tinyFamily.replace('units: mm kg N s deg', 'units: m')],
    ['an unknown key', tinyFamily.replace('family: posts', 'family: posts\nvariant: 5')],
    ['a range the wrong way', tinyFamily.replace('[60, 140]', '[140, 60]')],
    ['a default out of range', tinyFamily.replace('unit: mm,', 'unit: mm, default: 30,')],
    ['a value out of range', tinyFamily.replace('height: 80', 'height: 150')],
    ['a value of another kind', tinyFamily.replace('height: 80', 'height: "=80"')],
    ['a text with a line break', tinyFamily.replace('height: 80', 'height: "8\\n0"')],
    ['an unknown parameter', tinyFamily.replace('height: 80', 'height: 80, caped: false')],
    ['a value missing', tinyFamily.replace('height: 80', 'capped: false')],
    ['a name twice', tinyFamily.replace('name: high', 'name: low')],
    ['no name', tinyFamily.replace('name: high, ', '')],
    ['overlapping parts', tinyFamily.replace('=20 + height + 5', '=20 + 75')],
    ['overlapping parts of every variant', tinyFamily.replace('=20 + height / 2', '=15 + height / 2')],
    [
      'a base that is not there',
      tinyFamily.replace(/^base:[^]*(?=variants:)/m, 'weldment: base.weldment.yaml\n'),
    ],
    [
      'a base somewhere else',
      tinyFamily.replace(/^base:[^]*(?=variants:)/m, 'weldment: ../base.weldment.yaml\n'),
    ],
    ['a table that is not there', tinyFamily.replace(/^variants:[^]*/m, 'variants: { file: v.csv }\n')],
    ['no variants', tinyFamily.replace(/^variants:[^]*/m, 'variants: []\n')],
    ['a weldment file', 'weldment: x\nunits: mm kg N s deg\nparts: {}\n'],
  ])('%s', (_, text) => {
    expect(issuesOf(text)).toMatchSnapshot();
  });

  it('far too many names that need one another are told as that', () => {
    const names = Array.from({ length: 20_000 }, (_, i) => `  a${i}: a${i + 1} + 1`);
    const text = tinyFamily.replace('base:', `let:\n${names.join('\n')}\n  a20000: height\nbase:`);
    const { family, issues } = readFamily(text, 'posts.family.yaml');
    expect(family).toBeUndefined();
    expect(issues.map(({ path }) => path)).toContain('let');
  });

  it('several at once, those of files first and each at its line', () => {
    const text = tinyFamily
      .replace('length: 60, width: 60, height: =height', 'length: =widht, width: 60, height: =height')
      .replace('height: 80', 'height: 800')
      .replace('family: posts', 'family: posts\nbased: 5');
    expect(issuesOf(text)).toMatchSnapshot();
  });
});

/** A foot that bears the rest. */
function FOOT(length = '60'): string {
  return `    foot: { block: { length: ${length}, width: 60, height: 20 }, at: [0, 0, 10] }`;
}

describe('the files of a family', () => {
  const inTable = tinyFamily.replace(/^variants:[^]*/m, 'variants: { file: tables/v.csv }\n');
  const variants = (text: string, beside: Parameters<typeof readFamily>[2]) =>
    readFamily(text, 'folder/f', beside).family?.variants;

  it('are those that it names, below its own folder', () => {
    expect(filesBesideFamily(inTable)).toEqual(['tables/v.csv']);
    expect(filesBesideFamily('family: f\nweldment: a/b.yaml\nvariants: { file: "../v.csv" }')).toEqual([
      'a/b.yaml',
    ]);
    expect(filesBesideFamily('family: f\nweldment: /etc/passwd\nvariants: []')).toEqual([]);
    expect(filesBesideFamily('{')).toEqual([]);
    expect(filesBesideFamily('weldment: lamp\nparts: {}')).toEqual([]); // a weldment file, by its name
  });

  it('may be a table: CSV gives what the list does', () => {
    const csv = 'name,height,capped\n,mm,\nlow,80,\nhigh,120,no\n';
    expect(variants(inTable, { 'tables/v.csv': csv })).toEqual(variants(tinyFamily, {}));
  });

  it('may be a workbook, read at the edge', async () => {
    const bytes = await writeXlsxFile([
      [{ value: 'name' }, { value: 'capped' }, { value: 'height' }],
      [null, null, { value: 'mm' }],
      [{ value: 'low' }, null, { value: 80 }],
      [{ value: 'high' }, { value: false }, { value: 120 }],
    ]).toBuffer();
    const { table } = await readXlsxTable(new Uint8Array(bytes), 'v.xlsx');
    const text = inTable.replace('v.csv', 'v.xlsx');
    expect(variants(text, { 'tables/v.xlsx': table! })).toEqual(variants(tinyFamily, {}));
  });

  it.each([
    ['missing columns', 'title,capped\nlow,yes\n'],
    ['an unknown column', 'name,height,capt\nlow,80,yes\n'],
    ['a column beside all others', 'name,height,capped,title\nlow,80,yes,5\n'],
    ['other units', 'name,height,capped\n,cm,mm\nlow,8,yes\n'],
    ['cells', 'name,height,capped\nlow,80,yes\n,100,no\nhigh,tall,no\nlow,100,5\nlast,,no\nfar,200,no\n'],
    ['no rows', 'name,height,capped\n'],
    ['no table', 'name,"height\n'],
  ])('%s of a table are told at their lines', (_, csv) => {
    expect(told(readFamily(inTable, 'folder/f', { 'tables/v.csv': csv }))).toMatchSnapshot();
  });

  it('may be the base, with expressions or without', () => {
    const base = `weldment: bar${tinyFamily
      .replace(/^[^]*base:/m, '')
      .replace(/variants:[^]*/, '')
      .replaceAll('\n  ', '\n')}`;
    const text = tinyFamily.replace(/^base:[^]*(?=variants:)/m, 'weldment: base.weldment.yaml\n');
    const low = variants(text, { 'base.weldment.yaml': base })![0]!;
    expect(JSON.parse(low.text)).toEqual({
      ...JSON.parse(variants(tinyFamily, {})![0]!.text),
      weldment: 'bar-low',
    });
    const wrong = base.replace('=20 + height / 2', '=15 + hight / 2').replace('units', 'unit');
    expect(told(readFamily(text, 'folder/f', { 'base.weldment.yaml': wrong }))).toMatchSnapshot();
    const stand = readFileSync(
      new URL('../../../examples/roller-stand/roller-stand.weldment.yaml', import.meta.url),
      'utf8',
    );
    const plain = variants(text, { 'base.weldment.yaml': stand })!.map((one) => JSON.parse(one.text).parts);
    expect(plain[0]).toEqual(plain[1]);
  });

  it('may have texts among the values, also such as look like numbers', () => {
    const text = inTable
      .replace('capped: { default: true }', 'capped: { default: true }\n  Steel: { default: S235 }')
      .replace('  parts:', '  material: =Steel\n  parts:');
    const read = (csv: string) => readFamily(text, 'f', { 'tables/v.csv': csv });
    const { family } = read('name,height,Steel\na,80,S355\nb,80,\n');
    expect(family!.variants.map((one) => JSON.parse(one.text).material)).toEqual(['S355', 'S235']);
    expect(told(read('name,height,Steel\na,80,235\n'))).toEqual([
      'f [a]:8: material: unknown material "235"; maybe `S235`: use one of S235, S275, S355, 1.4301, aluminium',
    ]);
  });
});

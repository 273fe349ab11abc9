import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { namedSolids } from '../../../src/io/step/assembly-tree.js';
import { stepEntities, stepText } from '../../../src/io/step/part21.js';

const WANTED = new Set(['A', 'B']);
const read = (text: string) => [...stepEntities(text, WANTED)];

describe('entities of an exchange structure', () => {
  it('have texts, numbers, references, lists and nothing', () => {
    expect(read(`#1 = A('it''s',(#2,-3.5E1,$),.T.,*);\n#2=B();#3=C('x');`)).toEqual([
      [1, { type: 'A', values: ["it's", [{ ref: 2 }, -35, undefined], undefined, undefined] }],
      [2, { type: 'B', values: [] }],
    ]);
  });

  it('are not torn by semicolons, quotes and brackets within texts and comments', () => {
    expect(read(`/* #9=A('no'); */#1=A('a;b');#2=/*;'*/B('(''')/* ; */;`)).toEqual([
      [1, { type: 'A', values: ['a;b'] }],
      [2, { type: 'B', values: ["('"] }],
    ]);
  });

  it('are passed over where they are of several types, broken or too deep', () => {
    expect(read(`#1=(A()B());#2=A('x';#3=B(1);`)).toEqual([[3, { type: 'B', values: [1] }]]);
    expect(read(`#1=A(${'('.repeat(100)}${')'.repeat(100)});`)).toEqual([]);
    expect(read(`#1=A('never ends`)).toEqual([]);
  });

  it('have letters beyond ASCII by their codes', () => {
    expect(stepText(String.raw`Tr\X2\00E4\X0\ger \X\FC \S\D \X4\0001F600\X0\ a\\b`)).toBe(
      'Träger ü Ä 😀 a\\b',
    );
    expect(stepText('\\X4\\FFFFFFFF\\X0\\')).toBe('�');
  });

  it('of any text end in time and throw nothing', () => {
    const marks = fc.constantFrom(
      ...`#1=A(B'();,$*.é\\XS20\n/`.split(''),
      'PRODUCT',
      '/*',
      '*/',
      "''",
      '#2=',
    );
    fc.assert(
      fc.property(fc.array(marks, { maxLength: 60 }), (list) => {
        const text = list.join('');
        stepEntities(text, WANTED);
        expect(namedSolids(text)).toEqual([]);
      }),
      { numRuns: 300 },
    );
  });
});

describe('the tree of an assembly', () => {
  const part = (from: number, name: string): string =>
    `#${from}=PRODUCT('${name}','${name}','',());#${from + 1}=PRODUCT_DEFINITION_FORMATION('','',#${from});` +
    `#${from + 2}=PRODUCT_DEFINITION('','',#${from + 1},$);`;

  it('that contains itself, or multiplies beyond all bounds, names nothing', () => {
    const solid = `#90=CLOSED_SHELL('',(#1));#91=MANIFOLD_SOLID_BREP('s',#90);#92=SHAPE_REPRESENTATION('',(#91),$);`;
    const use = (id: number, around: number, within: number): string =>
      `#${id}=NEXT_ASSEMBLY_USAGE_OCCURRENCE('','u${id}','',#${around},#${within},$);`;
    const ring = part(10, 'a') + part(20, 'b') + use(30, 12, 22) + use(31, 22, 12);
    expect(namedSolids(ring)).toEqual([]);
    // Twenty storeys of two uses each: a million of one solid.
    const storeys = Array.from({ length: 21 }, (_, i) => part(100 + 10 * i, `p${i}`)).join('');
    const uses = Array.from({ length: 40 }, (_, k) => {
      const i = Math.floor(k / 2);
      return use(1000 + k, 102 + 10 * i, 112 + 10 * i);
    }).join('');
    const shape = `#93=PRODUCT_DEFINITION_SHAPE('','',#302);#94=SHAPE_DEFINITION_REPRESENTATION(#93,#92);`;
    expect(namedSolids(storeys + uses + solid + shape)).toEqual([]);
  });
});

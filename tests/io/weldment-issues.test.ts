import { describe, expect, it } from 'vitest';
import { readWeldment } from '../../src/io/read-weldment.js';
import { told } from './told.js';

const HEAD = 'weldment: w\nunits: mm kg N s deg\nparts:\n';
const PART = '{ block: { length: 9, width: 9, height: 9 }, at: [0, 0, 0] }';
const THREE = `${HEAD}  a: ${PART}\n  b: ${PART}\n  c: ${PART}\n`;

/** Issues of a file, without the file's name. */
const issues = (text: string): readonly string[] =>
  told(readWeldment(text, 'w')).map((line) => line.replace(/^w:/, ''));

describe('each defect has its line, its value and its remedy', () => {
  it.each([
    ['weldment: w\nunits: m kg\nparts: { a: {} }\n', '2: units: got "m kg"; write units: mm kg N s deg'],
    ['weldment: w\nparts: { a: {} }\n', '1: units: is missing; write units: mm kg N s deg'],
    [
      'units: mm kg N s deg\nparts: { a: {} }\n',
      '1: weldment: is missing; add it, a text (a name: 1 to 80 printable characters)',
    ],
    ['weldment: w\nunits: mm kg N s deg\nparts: {}\n', '3: parts: got no parts; give at least one'],
    ['weldment: w\nunits: mm kg N s deg\nparts: 5\n', '3: parts: got 5; give a map'],
    [
      '',
      '1: got nothing; give a map with weldment, units, parts, contacts, joints, blocking, needs, times, first, wishes',
    ],
    [`${HEAD}  a:\n    mass: two\n`, '5: parts.a.mass: got "two"; give a number'],
    [`${HEAD}  a:\n    mass: "2"\n`, '5: parts.a.mass: got "2"; write it without quotes: 2'],
    [`${HEAD}  a:\n    mass: .nan\n`, '5: parts.a.mass: got NaN; give a number'],
    [`${HEAD}  a:\n    mass: 0\n`, '5: parts.a.mass: got 0; give above 0'],
    [`${HEAD}  a:\n    mas: 1\n`, '5: parts.a.mas: unknown key `mas`; maybe `mass`'],
    [`${HEAD}  a:\n    colour: 1\n`, '5: parts.a.colour: unknown key `colour`; known here: mass, ways'],
    [`${HEAD}  a:\n    ways: []\n`, '5: parts.a.ways: got [], 0 entries; give at least 1'],
    [
      `${HEAD}  a: { ways: [{ gripper: g, regrips: 1.5 }] }\n`,
      '4: parts.a.ways[0].regrips: got 1.5; give a whole number',
    ],
    [
      `${HEAD}  a: { ways: [{ gripper: g, seconds: 5 }, { gripper: h, seconds: 2e12 }] }\n`,
      '3: parts: the seconds may add up to 2.00e+12, more than the 1000000000 that can be counted; give true seconds',
    ],
    [
      `${HEAD}  a: { ways: [{ gripper: g, regrips: 4294967296 }] }\n`,
      '3: parts: the regrips may add up to 4.29e+9, more than the 1000000000 that can be counted; give true regrips',
    ],
    [
      `${HEAD}  a: {}\n  b: {}\njoints: [{ between: [a, b], tacks: 900000000 }]\n`,
      '3: parts: the seconds may add up to 3.60e+9, more than the 1000000000 that can be counted; give true seconds',
    ],
    [`${HEAD}  a:\n`, '4: parts.a: got nothing; give a map with mass, ways'],
    [
      `${THREE}joints:\n  - { between: [a, b], type: filet }\n`,
      '8: joints[0].type: got "filet"; maybe `fillet`: use one of fillet, butt, corner, lap, edge',
    ],
    [
      `${THREE}joints:\n  - { between: [a, a] }\n`,
      '8: joints[0].between: got ["a", "a"]; must name two different parts',
    ],
    [`${THREE}joints:\n  - { between: [a] }\n`, '8: joints[0].between: got ["a"], 1 entry; give exactly 2'],
    [`${THREE}joints:\n  - { type: lap }\n`, '8: joints[0].between: is missing; add it, a list of 2'],
    [
      `${THREE}joints:\n  - { between: [a, b], open: [0, 0, 0] }\n`,
      '8: joints[0].open: got [0, 0, 0]; must not be the zero vector',
    ],
    [`${THREE}joints:\n  - { between: [a, 1] }\n`, '8: joints[0].between[1]: got 1; write it in quotes: "1"'],
    [
      `${THREE}joints:\n  - { between: [a, b] }\n  - { between: [b, a] }\n`,
      '9: joints[1]: "b" and "a" are joined already by joints[0] at line 8; keep one joint for a pair of parts',
    ],
    [`${THREE}contacts: [[a, b], 7]\n`, '7: contacts[1]: got 7; give a list of 2, or a map with between'],
    [`${THREE}contacts: [[a]]\n`, '7: contacts[0]: got ["a"], 1 entry; give exactly 2'],
    [
      `${THREE}contacts: [{ between: [a, b], gap: 1 }]\n`,
      '7: contacts[0].gap: unknown key `gap`; known here: between',
    ],
    [
      `${THREE}contacts: [{ between: [a, d] }]\n`,
      '7: contacts[0].between[1]: no part is named "d"; the parts are a, b, c',
    ],
    [`${THREE}contacts: [[a, d]]\n`, '7: contacts[0][1]: no part is named "d"; the parts are a, b, c'],
    [`${HEAD}  web: ${PART}\nfirst: wbe\n`, '5: first: no part is named "wbe"; maybe `web`'],
    [
      `${THREE}blocking:\n  - part: a\n    by: [b, d]\n`,
      '9: blocking[0].by[1]: no part is named "d"; the parts are a, b, c',
    ],
    [
      `${THREE}blocking: [{ part: a, by: [a] }]\n`,
      '7: blocking[0].by[0]: "a" refers to itself; name another part',
    ],
    [
      `${THREE}needs: [{ part: d, after: [a] }]\n`,
      '7: needs[0].part: no part is named "d"; the parts are a, b, c',
    ],
    [
      `${THREE}needs: [{ part: a, after: [a] }]\n`,
      '7: needs[0].after[0]: "a" refers to itself; name another part',
    ],
    [
      `${THREE}needs:\n  - { part: c, after: [b] }\n  - { part: a, after: [c] }\n  - { part: b, after: [a] }\n`,
      '9: needs[1]: needs form a cycle: "a" after "c", "c" after "b", "b" after "a"; drop one of them',
    ],
    [
      `${THREE}tolerances: [{ name: t, from: a, to: d, iso-13920: B }]\n`,
      '7: tolerances[0].to: no part is named "d"; the parts are a, b, c',
    ],
    [
      `${THREE}tolerances: [{ name: t, from: a, to: a, iso-13920: B }]\n`,
      '7: tolerances[0].to: "a" refers to itself; name another part',
    ],
    [
      `${THREE}material: s355\n`,
      '7: material: unknown material "s355"; maybe `S355`: use one of S235, S275, S355, 1.4301, aluminium',
    ],
    [
      `${HEAD}  a:\n    block: { length: 9, width: 9, height: 9 }\n    at: [0, 0, 0]\n    material: wood\n`,
      '7: parts.a.material: unknown material "wood"; use one of S235, S275, S355, 1.4301, aluminium',
    ],
    [
      `${HEAD}  a: { plate: { length: 9, width: 9, thickness: 9 } }\n`,
      '4: parts.a.at: is missing; add it, a list of 3 (centre of the shape in the weldment frame, mm)',
    ],
    [
      `${HEAD}  a:\n    at: [0, 0]\n    block: { length: 9, width: 9, height: 9 }\n`,
      '5: parts.a.at: got [0, 0], 2 entries; give exactly 3 (centre of the shape in the weldment frame, mm)',
    ],
    [
      `${HEAD}  a:\n    at: [0, 0, 0]\n    rectangular-hollow-section: { length: 9, width: 8, height: 9, wall: 4 }\n`,
      '6: parts.a.rectangular-hollow-section.wall: got 4; must be less than half of width and of height',
    ],
    [
      `${HEAD}  a:\n    at: [0, 0, 0]\n    rest: top\n    block: { length: 9, width: 9, height: 9 }\n`,
      '6: parts.a.rest: the part has no rest "top"; use one of +x, -x, +y, -y, +z, -z',
    ],
  ])('%j', (text, expected) => {
    expect(issues(text)).toEqual([expected]);
    expect(readWeldment(text, 'w')).toMatchObject({ value: undefined, digest: undefined });
  });
});

describe('all issues of a file', () => {
  it('are told in one run, in the order of the file, those of the schema beside all others', () => {
    const text = `weldment: w
units: inch
parts:
  base: { plate: { length: 320, width: -2, thickness: 10 }, at: [0, 0, 5], colour: red }
  web: { plate: { lenght: 171, width: 120, thickness: 6 } }
  base: {}
joints:
  - { between: [base, wbe], leg: 0 }
needs:
  - { part: web, after: [base] }
  - { part: base, after: [web] }
fitup: { gap: 1 }
`;
    expect(issues(text)).toEqual([
      '2: units: got "inch"; write units: mm kg N s deg',
      '4: parts.base.colour: unknown key `colour`; known here: plate, block, rectangular-hollow-section, round-hollow-section, angle, channel, i-section, flat-bar, round-bar, square-bar, prism, at and 8 more',
      '4: parts.base.plate.width: got -2; give above 0',
      '5: parts.web.at: is missing; add it, a list of 3 (centre of the shape in the weldment frame, mm)',
      '5: parts.web.plate.lenght: unknown key `lenght`; maybe `length`',
      '5: parts.web.plate.length: is missing; add it, a number',
      '6: parts.base: the key `base` is given twice, first at line 4; keep one of them',
      '8: joints[0].between[1]: no part is named "wbe"; maybe `web`',
      '8: joints[0].leg: got 0; give above 0 (leg length of the weld, mm)',
      '11: needs[1]: needs form a cycle: "base" after "web", "web" after "base"; drop one of them',
      '12: fitup: unknown key `fitup`; maybe `fit-up`',
    ]);
  });
});

describe('a warning', () => {
  const small = `${HEAD}  a: { plate: { length: 0.32, width: 0.2, thickness: 0.01 }, at: [0, 0, 0] }\n`;

  it('is given when the sizes look like metres, and does not refuse the file', () => {
    expect(issues(small)).toEqual([
      '3: parts: warning: the largest size of any part is 0.32 mm; if these are metres, multiply every length by 1000',
    ]);
    expect(readWeldment(small, 'w').value?.kind).toBe('geometric');
  });

  it('is not given when the sizes are usual', () => {
    expect(issues(small.replace('0.32', '5').replace('0.2', '4').replace('0.01', '0.5'))).toEqual([]);
  });

  it('is given for the one size that no sheet has', () => {
    expect(issues(small.replace('0.32', '320').replace('0.2', '200'))).toEqual([
      '4: parts.a.plate.thickness: warning: 0.01 mm is thinner than any sheet that is tacked; if these are metres, multiply every length by 1000',
    ]);
  });

  const plate = (length: number, width: number, thickness: number, at: string): string =>
    `${HEAD}  a: { plate: { length: ${length}, width: ${width}, thickness: ${thickness} }, at: ${at} }\n`;

  it('is given when the sizes look like inches', () => {
    expect(issues(plate(12, 8, 0.375, '[0, 0, 0.1875]'))).toEqual([
      '3: parts: warning: every size is a small multiple of a sixteenth, as 0.375, and none is larger than 48 mm; if these are inches, multiply every length by 25.4, in `at` and outlines as well',
    ]);
    // Halves and fifths of a millimetre are usual, and so are parts of more than 48 mm.
    expect(issues(plate(12, 8, 2.5, '[0, 0, 0]'))).toEqual([]);
    expect(issues(plate(120, 8, 0.75, '[0, 0, 0]'))).toEqual([]);
  });

  it('is given when sizes were converted from inches and places were not', () => {
    // 12 in, 8 in and 3/8 in.
    expect(issues(plate(304.8, 203.2, 9.525, '[2, 0, 0.1875]'))).toEqual([
      '3: parts: warning: every size is a multiple of a sixteenth of an inch, and places such as 2 mm are not; if places are still in inches, multiply them by 25.4; if they are right, nothing',
    ]);
    expect(issues(plate(304.8, 203.2, 9.525, '[50.8, 0, 4.7625]'))).toEqual([]);
    expect(issues(plate(254, 127, 127, '[2, 0, 3]'))).toEqual([]); // whole millimetres too
  });
});

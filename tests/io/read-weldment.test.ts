import { describe, expect, it } from 'vitest';
import { readWeldment } from '../../src/io/read-weldment.js';
import type { AbstractWeldment, Weldment } from '../../src/model/weldment.js';
import { plainTurn, told } from './told.js';

const read = (text: string) => readWeldment(text, 'w.yaml');

const PAIR = `weldment: pair
units: mm kg N s deg
material: S355
parts:
  web: { plate: { length: 100, width: 60, thickness: 6 }, at: [0, 0, 40], turn: [90, 0, 0], approach: [[0, 0, -3]] }
  base: { plate: { length: 200, width: 100, thickness: 10 }, at: [0, 0, 5], material: S235, mass: 1.5, rest: +z }
  tube:
    rectangular-hollow-section: { length: 50, width: 40, height: 30, wall: 3 }
    at: [70, 0, 25]
    grips: [{ gripper: g, face: +z, turn: 90 }]
  stop: { block: { length: 10, width: 20, height: 30 }, at: [-80, 0, 25] }
joints:
  - { between: [base, web], open: [0, 3, 4] }
first: base
`;

describe('a weldment with shapes', () => {
  const weldment = read(PAIR).value as Weldment;

  it('is resolved to shapes, poses, materials and defaults', () => {
    expect(told(read(PAIR))).toEqual([]);
    expect(weldment).toMatchObject({ kind: 'geometric', name: 'pair', first: 'base', contacts: undefined });
    expect(weldment.fitUp).toEqual({ gap: 1, insertion: 0.5 });
    expect(weldment.parts.map(({ id }) => id)).toEqual(['base', 'stop', 'tube', 'web']);
    const [base, stop, tube, web] = weldment.parts;
    expect(base!.shape).toEqual({ kind: 'plate', length: 200, width: 100, height: 10 });
    expect(stop!.shape).toEqual({ kind: 'block', length: 10, width: 20, height: 30 });
    expect(tube!.shape).toMatchObject({ kind: 'rectangular-hollow-section', wall: 3 });
    expect(base).toMatchObject({ massGiven: 1.5, rest: '+z', approaches: [], grips: undefined });
    expect([base!.material.name, web!.material.name]).toEqual(['S235', 'S355']);
    expect(web!.pose.at).toEqual([0, 0, 40]);
    expect(plainTurn(web!.pose)).toEqual([1, 0, 0, 0, 0, -1, 0, 1, 0]);
  });

  it('has radians and unit vectors', () => {
    expect(weldment.parts[2]!.grips).toEqual([
      { gripper: 'g', face: '+z', position: [0, 0], turn: Math.PI / 2 },
    ]);
    expect(weldment.parts[3]!.approaches).toEqual([[0, 0, -1]]);
    expect(weldment.joints).toEqual([
      { between: ['base', 'web'], type: 'fillet', leg: 4, sides: 'both', open: [0, 0.6, 0.8] },
    ]);
  });

  it('takes directions of any length', () => {
    for (const size of ['1e-320', '1e300']) {
      const value = read(PAIR.replace('[0, 3, 4]', `[0, 0, ${size}]`)).value as Weldment;
      expect(value.joints![0]!.open).toEqual([0, 0, 1]);
    }
  });
});

describe('an abstract weldment', () => {
  const text = `weldment: ring
units: mm kg N s deg
parts: { b: {}, a: { mass: 2, ways: [{ gripper: g, seconds: 3 }] } }
contacts: [[a, b], { between: [b, a] }]
joints: [{ between: [a, b] }]
needs: [{ part: b, after: [a] }]
`;

  it('is told by having no shapes, and gets one way where none is given', () => {
    const value = read(text).value as AbstractWeldment;
    expect(told(read(text))).toEqual([]);
    expect(value.kind).toBe('abstract');
    expect(value.parts).toEqual([
      { id: 'a', mass: 2, ways: [{ gripper: 'g', regrips: 0, seconds: 3 }] },
      { id: 'b', mass: undefined, ways: [{ gripper: '', regrips: 0, seconds: 0 }] },
    ]);
    expect(value.contacts).toEqual([
      ['a', 'b'],
      ['b', 'a'],
    ]);
    expect(value.joints).toEqual([{ between: ['a', 'b'], tacks: 2 }]);
    expect(value.times).toEqual({ tack: 4, toolChange: 12 });
  });

  it('is not taken for one when a part has a place but its shape is misspelt', () => {
    expect(
      told(read('weldment: w\nunits: mm kg N s deg\nparts:\n  a: { plat: {}, at: [0, 0, 0] }\n')),
    ).toEqual([
      'w.yaml:4: parts.a: got a map with plat, at; needs exactly one shape: plate, block, rectangular-hollow-section, round-hollow-section, angle, channel, i-section, flat-bar, round-bar, square-bar or prism',
      'w.yaml:4: parts.a.plat: unknown key `plat`; maybe `plate`',
    ]);
  });
});

describe('names', () => {
  it('are data, however they look', () => {
    const names = [
      'constructor',
      'toString',
      'hasOwnProperty',
      'a.b[0]',
      '<script>',
      '../../x',
      '{{x}}',
      '1',
    ];
    const parts = names.map(
      (name) => `  ${JSON.stringify(name)}: { block: { length: 9, width: 9, height: 9 }, at: [0, 0, 0] }`,
    );
    const joint = `joints: [{ between: ["constructor", "a.b[0]"] }]`;
    const reading = read(`weldment: hostile\nunits: mm kg N s deg\nparts:\n${parts.join('\n')}\n${joint}\n`);
    expect(told(reading)).toEqual([]);
    expect(reading.value!.parts.map(({ id }) => id)).toEqual([...names].sort());
  });

  it('that a terminal would obey are refused, and shown harmless', () => {
    const text =
      'weldment: w\nunits: mm kg N s deg\nparts:\n  "a\\u001b[2J\\u202e": { mass: 1 }\n  b: {}\nfirst: "__proto__"\n';
    expect(told(read(text))).toEqual([
      'w.yaml:4: parts["a\\u001b[2J\\u202e"]: got the name "a\\u001b[2J\\u202e", which must have no control or direction-changing characters; use a name: 1 to 80 printable characters',
      'w.yaml:6: first: got "__proto__", which is reserved; give a name: 1 to 80 printable characters',
      'w.yaml:6: first: no part is named "__proto__"; the parts are a\\u001b[2J\\u202e, b',
    ]);
  });
});

describe('a part that a person sets', () => {
  const file = (manual: string, more = ''): string => `weldment: one
units: mm kg N s deg
parts:
  base: { plate: { length: 200, width: 100, thickness: 10 }, at: [0, 0, 5], manual: ${manual}${more} }
`;
  const manualOf = (text: string): unknown => (read(text).value as Weldment).parts[0]!.manual;

  it('has seconds and a tolerance, our choices by default', () => {
    expect(manualOf(file('true'))).toEqual({ seconds: 300, within: 0.5 });
    expect(manualOf(file('{ seconds: 240 }'))).toEqual({ seconds: 240, within: 0.5 });
    expect(manualOf(file('{ within: 0 }'))).toEqual({ seconds: 300, within: 0 });
    expect((read(PAIR).value as Weldment).parts.every(({ manual }) => manual === undefined)).toBe(true);
  });

  it('is refused with other words or numbers', () => {
    expect(told(read(file('please')))).toEqual([
      'w.yaml:4: parts.base.manual: got "please"; give true or false, or a map with seconds, within (a person sets, clamps and tacks the part while all robots are at home; absent: robots bring and tack it)',
    ]);
    expect(told(read(file('{ seconds: 0, weeks: 2 }')))).toEqual([
      expect.stringMatching(/parts\.base\.manual\.seconds: got 0; give above 0/),
      expect.stringMatching(/parts\.base\.manual\.weeks: unknown key `weeks`; known here: seconds, within$/),
    ]);
  });

  it('has nothing that only robots ask about', () => {
    expect(
      told(read(file('true', ', rest: +z, approach: [[0, 0, -1]], grips: [{ gripper: g, face: +z }]'))),
    ).toEqual(
      ['approach', 'grips', 'rest'].map((key) =>
        expect.stringContaining(
          `parts.base.${key}: "base" is \`manual\`: no robot takes or brings it; strike \`${key}\`, or strike \`manual\``,
        ),
      ),
    );
  });
});

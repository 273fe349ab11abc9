import { describe, expect, it } from 'vitest';
import { readFamily } from '../../../src/io/family/read-family.js';
import { familyText } from './tiny-family.js';
import { told } from '../told.js';

interface File {
  readonly parts: Readonly<Record<string, Record<string, unknown>>>;
  readonly [key: string]: unknown;
}

const BLOCK = 'block: { length: 20, width: 20, height: 20 }';
const PARTS = `    foot: { block: { length: 500, width: 100, height: 20 }, at: [0, 0, 10] }
    rib: { repeat: =n, when: i != skipped, ${BLOCK}, at: [=-100 + 50 * i, 0, 30] }
    knob: { repeat: =n, ${BLOCK}, at: [=-100 + 50 * i, 0, 50] }
    lid: { when: =lidded, ${BLOCK}, at: [200, 0, 30] }`;

/** The weldment of one variant, with these lists of the base. */
function weldment(values: string, lists = '', parts = PARTS): File {
  const text = familyText({ parts, lists, variants: `[{ name: one, ${values} }]` }).replace(
    /^parameters: .*$/m,
    'parameters: { n: { default: 3 }, skipped: { default: -1 }, lidded: { default: true } }',
  );
  const { family, issues } = readFamily(text, 'f');
  expect(told({ issues })).toEqual([]);
  return JSON.parse(family!.variants[0]!.text) as File;
}

const names = (values: string): readonly string[] => Object.keys(weldment(values).parts);

describe('the parts of a variant', () => {
  it('are repeated as often as asked for, with i in each', () => {
    expect(names('n: 2')).toEqual(['foot', 'knob-1', 'knob-2', 'lid', 'rib-1', 'rib-2']);
    expect(weldment('n: 2').parts['rib-2']!['at']).toEqual([-50, 0, 30]);
    expect(names('n: 0')).toEqual(['foot', 'lid']);
    expect(names('n: 1')).toEqual(['foot', 'knob-1', 'lid', 'rib-1']);
  });

  it('exist where their condition is true, and keep their numbers', () => {
    expect(names('n: 3, skipped: 1, lidded: false')).toEqual([
      ...['foot', 'knob-1', 'knob-2', 'knob-3', 'rib-1', 'rib-3'],
    ]);
    expect(weldment('n: 3, skipped: 1').parts['rib-3']).toEqual({
      block: { length: 20, width: 20, height: 20 },
      at: [0, 0, 30],
    });
  });

  it('may have lists whose entries come under a condition or repeated', () => {
    const plate = `    foot: { plate: { length: 500, width: 100, thickness: 10, holes: [
      { repeat: n + 1, at: [=-200 + 100 * i, 0], diameter: 10 }, { when: lidded, at: [230, 0], diameter: 8 } ] }, at: [0, 0, 5] }`;
    const holes = (values: string): unknown =>
      (weldment(values, '', plate).parts['foot'] as { plate: { holes: unknown } }).plate.holes;
    expect(holes('n: 1')).toEqual([
      { at: [-200, 0], diameter: 10 },
      { at: [-100, 0], diameter: 10 },
      { at: [230, 0], diameter: 8 },
    ]);
    expect(holes('n: 0, lidded: false')).toEqual([{ at: [-200, 0], diameter: 10 }]);
  });

  it('have tidy numbers, and only these are changed', () => {
    const parts =
      '    foot: { block: { length: =10.1 + 10.2, width: 10.1234567891234, height: 20 }, at: [=10 / 3, =-0, 10] }';
    expect(weldment('n: 1', '', parts).parts['foot']).toEqual({
      block: { length: 20.3, width: 10.1234567891234, height: 20 },
      at: [3.333333333, 0, 10],
    });
  });
});

describe('the lists of a variant', () => {
  const list = (key: string, entries: string, values = 'n: 3, skipped: 1'): unknown =>
    weldment(values, `  ${key}: ${entries}`)[key];

  it('have an entry for each copy of a part that is named by itself or in a pair', () => {
    expect(list('joints', '[{ between: [foot, rib], leg: =4 + i }, { between: [foot, lid] }]')).toEqual([
      { between: ['foot', 'rib-1'], leg: 4 },
      { between: ['foot', 'rib-3'], leg: 6 },
      { between: ['foot', 'lid'] },
    ]);
    expect(list('contacts', '[[foot, knob], { between: [foot, lid] }]', 'n: 2')).toEqual([
      ['foot', 'knob-1'],
      ['foot', 'knob-2'],
      { between: ['foot', 'lid'] },
    ]);
    expect(list('wishes', '[{ held: rib }, { before: [rib, knob] }]', 'n: 2')).toEqual([
      { held: 'rib-1' },
      { held: 'rib-2' },
      { before: ['rib-1', 'knob-1'] },
      { before: ['rib-2', 'knob-2'] },
    ]);
  });

  it('join copies of two repeated parts by their numbers', () => {
    expect(list('joints', '[{ between: [rib, knob] }]')).toEqual([
      { between: ['rib-1', 'knob-1'] },
      { between: ['rib-3', 'knob-3'] },
    ]);
  });

  it('name every copy where a list of parts is asked for', () => {
    expect(
      list('needs', '[{ part: lid, after: [rib, foot, knob-2] }, { part: knob, after: [rib] }]'),
    ).toEqual([
      { part: 'lid', after: ['rib-1', 'rib-3', 'foot', 'knob-2'] },
      { part: 'knob-1', after: ['rib-1', 'rib-3'] },
      { part: 'knob-2', after: ['rib-1', 'rib-3'] },
      { part: 'knob-3', after: ['rib-1', 'rib-3'] },
    ]);
  });

  it('have nothing about parts that are not there', () => {
    const none = 'n: 0, lidded: false';
    expect(
      list(
        'joints',
        '[{ between: [foot, lid] }, { between: [foot, rib-1] }, { between: [foot, rib] }]',
        none,
      ),
    ).toEqual([]);
    expect(list('needs', '[{ part: foot, after: [lid, rib] }, { part: lid, after: [foot] }]', none)).toEqual(
      [],
    );
    expect(list('blocking', '[{ part: foot, by: [lid, knob-2] }]', 'n: 2, lidded: false')).toEqual([
      { part: 'foot', by: ['knob-2'] },
    ]);
    expect(list('tolerances', '[{ name: t, from: foot, to: lid, iso-13920: B }]', none)).toEqual([]);
    expect(list('first', 'lid', none)).toBeUndefined();
    expect(list('first', 'rib', 'n: 2')).toBe('rib-1');
  });

  it('may be repeated themselves, with names that are worked out', () => {
    expect(list('needs', '[{ repeat: n - 1, part: "knob-{i + 2}", after: ["knob-{i + 1}"] }]')).toEqual([
      { part: 'knob-2', after: ['knob-1'] },
      { part: 'knob-3', after: ['knob-2'] },
    ]);
    expect(list('joints', '[{ when: n > 2, between: [foot, lid] }]', 'n: 2')).toEqual([]);
    expect(
      list('tolerances', '[{ name: "knob {i + 1} of {n}", from: foot, to: knob, iso-13920: B }]', 'n: 2'),
    ).toMatchObject([{ name: 'knob 1 of 2' }, { name: 'knob 2 of 2' }]);
  });

  it('leave names alone that the base does not have, which are told as that', () => {
    const text = familyText({
      parts: PARTS.replaceAll('=n', '=2').replace('i != skipped', 'true').replace('=lidded', '=capped'),
      lists: '  joints: [{ between: [foot, rob] }, { between: [foot, rib-0] }]',
    });
    expect(told(readFamily(text, 'f'))).toEqual([
      'f [every variant]:11: joints[0].between[1]: no part is named "rob"; the parts are foot, rib-1, rib-2, knob-1, knob-2, lid',
      'f [every variant]:11: joints[1].between[1]: no part is named "rib-0"; maybe `rib-1`',
    ]);
  });

  it('are told at the line of the entry they come from, whatever came before it', () => {
    const lists = `  joints:
    - { between: [foot, knob] }
    - { when: not capped, between: [foot, lid] }
    - { between: [foot, rib], leg: =5 - 5 * i }`;
    const parts = PARTS.replaceAll('=n', '=2').replace('i != skipped', 'true').replace('=lidded', '=capped');
    expect(told(readFamily(familyText({ parts, lists }), 'f'))).toEqual([
      'f [every variant]:14: joints[3].leg: got 0; give above 0 (leg length of the weld, mm)',
    ]);
  });
});

describe('a base that grows beyond reason', () => {
  const nested = (depth: number): string => (depth === 0 ? '1' : `{ repeat: 60, a: [${nested(depth - 1)}] }`);

  it('is refused in time', () => {
    const parts = `    foot: { ${BLOCK}, at: [0, 0, 10], grips: [${nested(8)}] }`;
    expect(told(readFamily(familyText({ parts }), 'f'))).toEqual([
      'f [every variant]:5: base: the weldment has more than 100000 values; repeat less',
    ]);
  });
});

import { describe, expect, it } from 'vitest';
import { readFrame } from '../../src/io/read-frame.js';
import { issueLine } from '../../src/model/issue.js';
import { frameChoicesSchema } from '../../src/model/frame.js';

const CHOICES = frameChoicesSchema.parse({});

const node = (X: number, Y: number, Z: number, is_grounded: unknown = 0): unknown => ({
  point: { X, Y, Z },
  is_grounded,
});
const bar = (...end_node_ids: unknown[]): unknown => ({ end_node_ids });

const good = {
  unit: 'millimeter',
  model_name: 'our own tripod\u001b[31m',
  node_list: [node(40, 0, 0, 1), node(-20, 35, 0, 1), node(-20, -35, 0, 1), node(0, 0, 80)],
  element_list: [bar(0, 3), bar(1, 3), bar(2, 3)],
};

const read = (value: unknown, choices = CHOICES) =>
  readFrame(typeof value === 'string' ? value : JSON.stringify(value), 'own.json', choices);
const lines = (value: unknown): readonly string[] => read(value).issues.map(issueLine);

describe('readFrame', () => {
  it('makes round tubes of bars, as large as the choices say', () => {
    const { value: frame, issues } = read(good);
    expect(issues).toEqual([]);
    expect(frame!.nodes[3]).toEqual({ point: [0, 0, 800], grounded: false });
    expect(frame!.bars.map(({ name, ends }) => [name, ends])).toEqual([
      ['bar-0', [0, 3]],
      ['bar-1', [1, 3]],
      ['bar-2', [2, 3]],
    ]);
    // A tube 21.3 x 2.0 has 0.952 kg/m (EN 10219 tables, from memory).
    const [leg] = frame!.bars;
    expect(leg!.length).toBeCloseTo(Math.hypot(400, 800), 9);
    expect(leg!.weight / leg!.length / 9.80665e-3).toBeCloseTo(0.952, 3);
  });

  it('knows three units', () => {
    expect(read({ ...good, unit: 'meter' }).value!.nodes[3]!.point).toEqual([0, 0, 800_000]);
    expect(lines({ ...good, unit: 'inch' })).toEqual([
      'own.json:1: unit: got "inch"; use one of millimeter, centimeter, meter',
    ]);
  });

  it('tells every bar that is none, with its place', () => {
    const bars = [bar(0, 3), bar(1, 9), bar(2, 2), bar(3, 0)];
    expect(lines({ ...good, element_list: bars })).toEqual([
      'own.json:1: element_list[1].end_node_ids: names node 9 of 4; use 0 to 3',
      'own.json:1: element_list[2].end_node_ids: is 0.000 mm long as built; let it be at least 1 mm long',
      'own.json:1: element_list[3].end_node_ids: is the same bar as element_list[0]; remove one of them',
    ]);
  });

  it('tells values of the wrong kind', () => {
    expect(lines({ ...good, element_list: [bar(0), bar('a', 1), bar(0, 1.5)] })).toHaveLength(3);
    expect(
      lines({ ...good, node_list: [{ point: { X: 1, Y: 2 }, is_grounded: 2 }, node(0, 0, 1e9)] }),
    ).toHaveLength(3);
    expect(lines('{ not json')).not.toEqual([]);
    expect(lines('[]')).toHaveLength(1);
  });

  it('tells a frame that nothing grounds, bars off the table, and nodes below it', () => {
    expect(lines({ ...good, node_list: good.node_list.map(() => node(1, 2, 3)) })).not.toEqual([]);
    const floating = [node(40, 0, 0, 1), node(0, 0, 80), node(5, 5, 90), node(9, 9, 99)];
    expect(lines({ ...good, node_list: floating, element_list: [bar(0, 1), bar(2, 3)] })).toEqual([
      'own.json:1: element_list[1]: is joined to no grounded node over other bars; join it, or remove it',
    ]);
    const below = [node(40, 0, 0, 1), node(0, 0, -80)];
    expect(lines({ ...good, node_list: below, element_list: [bar(0, 1)] })).toEqual([
      'own.json:1: node_list[1].point: is 800.0 mm as built below the lowest grounded node; let it be above the table',
    ]);
  });

  it('refuses tubes that are more wall than tube', () => {
    expect(frameChoicesSchema.safeParse({ diameter: 20, wall: 11 }).success).toBe(false);
  });
});

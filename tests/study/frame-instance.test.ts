import { describe, expect, it } from 'vitest';
import { beam } from '../../src/algorithms/solvers/beam.js';
import { Budget } from '../../src/base/budget.js';
import { frameChoicesSchema } from '../../src/model/frame.js';
import { frameInstance } from '../../src/study/frame-instance.js';

const node = (X: number, Y: number, Z: number) => ({ point: { X, Y, Z }, is_grounded: Z === 0 });
const text = JSON.stringify({
  unit: 'millimeter',
  node_list: [node(40, 0, 0), node(-20, 35, 0), node(-20, -35, 0), node(0, 0, 80)],
  element_list: [{ end_node_ids: [0, 3] }, { end_node_ids: [1, 3] }, { end_node_ids: [2, 3] }],
});
const source = { name: 'some/where/own.json.gz', text };

describe('frameInstance', () => {
  it('is judged by names, apart from its problem', () => {
    const { value, issues } = frameInstance(source);
    expect(issues).toEqual([]);
    if (value?.kind !== 'frame') throw new Error('no frame');
    expect(value).toMatchObject({ name: 'own', parts: 3, terms: ['held', 'travel-mm'] });
    const report = beam(value.problem(), { budget: new Budget({ steps: 100 }), memory: 1e6, seed: 1 });
    const order = value.order(report.best!.steps);
    expect(value.judge(order)).toEqual({ ok: true, value: report.best!.cost });
    expect(value.judge(['bar-0', 'toString'])).toEqual({ ok: false, error: 'there is no bar "toString"' });
  });

  it('has another digest with other tubes, and none when the file is bad', () => {
    const other = frameInstance(source, frameChoicesSchema.parse({ diameter: 30 }));
    expect(other.value!.digest).not.toBe(frameInstance(source).value!.digest);
    expect(frameInstance({ ...source, text: '{}' }).value).toBeUndefined();
    expect(frameInstance({ ...source, text: '{}' }).issues).toHaveLength(3);
  });
});

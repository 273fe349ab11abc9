import { describe, expect, it } from 'vitest';
import { HEADER, rowLine } from '../../src/study/results-csv.js';
import { resume } from '../../src/study/resume.js';
import { runKey } from '../../src/study/row.js';
import { someRow } from './some-rows.js';

const first = someRow({ instance: 'quoted, "name"' });
const last = someRow({ seed: 2, note: 'ünïcode, "marks" and = signs' });
const whole = HEADER + rowLine(first);
const { limits } = first;

describe('resume', () => {
  it('drops the last row when it was torn anywhere, and nothing else', () => {
    const line = rowLine(last);
    for (let length = 0; length < line.length; length += 1) {
      const { begun, issues } = resume(whole + line.slice(0, length), 'r.csv', limits);
      expect(issues).toEqual([]);
      expect(begun!.whole).toBe(whole);
      expect([...begun!.done]).toEqual([runKey(first)]);
    }
    expect([...resume(whole + line, 'r.csv', limits).begun!.done]).toEqual([runKey(first), runKey(last)]);
  });

  it('begins anew where not even the line of names is whole', () => {
    for (let length = 0; length < HEADER.length; length += 1)
      expect(resume(HEADER.slice(0, length), 'r.csv', limits).begun).toEqual({ whole: '', done: new Set() });
  });

  it('leaves a file alone that is no file of results', () => {
    const { begun, issues } = resume('weldment: x', 'x.yaml', limits);
    expect(begun).toBeUndefined();
    expect(issues[0]).toMatchObject({ file: 'x.yaml', line: 1 });
  });

  it('refuses rows under other limits in one line', () => {
    const { begun, issues } = resume(whole, 'r.csv', { ...limits, steps: 200 });
    expect(begun).toBeUndefined();
    expect(issues).toEqual([
      expect.objectContaining({
        line: 2,
        problem:
          'this row was made with --steps 100 --memory 64, and this study is run with --steps 200 --memory 64',
      }),
    ]);
  });
});

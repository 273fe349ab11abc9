import { describe, expect, it } from 'vitest';
import { readCell } from '../../src/io/read-cell.js';
import { readPlan } from '../../src/io/read-plan.js';
import { readWeldment } from '../../src/io/read-weldment.js';
import { issueLine } from '../../src/model/issue.js';

const lines = (reading: { issues: readonly Parameters<typeof issueLine>[0][] }): string[] =>
  reading.issues.map(issueLine);

describe('a file of another kind', () => {
  it('is told in one line', () => {
    const cell = 'cell: c\nunits: mm kg N s deg\n';
    const weldment = 'weldment: w\nunits: mm kg N s deg\nparts: {}\n';
    const plan = '{"format": "tackwright-plan"}';
    expect(lines(readWeldment(cell, 'a.yaml'))).toEqual([
      'a.yaml:1: this is a cell file; give a weldment file here',
    ]);
    expect(lines(readCell(weldment, 'a.yaml'))).toEqual([
      'a.yaml:1: this is a weldment file; give a cell file here',
    ]);
    expect(lines(readPlan(weldment, 'a.json'))).toEqual([
      'a.json:1: this is a weldment file; give a plan file here',
    ]);
    expect(lines(readWeldment(plan, 'p.json'))).toEqual([
      'p.json:1: this is a plan file; give a weldment file here',
    ]);
  });

  it('is not claimed where it is not clear: the schema speaks then', () => {
    expect(lines(readWeldment('weldment: w\ncell: c\n', 'a.yaml')).length).toBeGreaterThan(1);
    expect(lines(readCell('units: mm kg N s deg\n', 'a.yaml')).join('\n')).toContain('cell');
  });
});

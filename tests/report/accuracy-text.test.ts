import { describe, expect, it } from 'vitest';
import { accuracyTable } from '../../src/report/accuracy-text.js';
import { barePlan, bareStage } from '../support/bare-plan.js';

describe('the table of accuracy', () => {
  it('is not there when no stage says anything', () => {
    expect(accuracyTable(barePlan('base'))).toEqual([]);
  });

  it('has the worst of each direction, and why a remedy is needed', () => {
    const stage = bareStage('plate', 1);
    stage.remedies = ['locate'];
    stage.accuracy = [
      {
        direction: 'gap',
        with: 'base',
        chain: [],
        total: 0.4796,
        limit: 0.8,
        remedy: 'locate',
        without: 1.5556,
      },
      { direction: 'torch', with: 'base', chain: [], total: 0.5, limit: 1, remedy: null, without: null },
    ];
    expect(accuracyTable({ stages: [bareStage('base', 0), stage] })).toEqual([
      '',
      'Accuracy, mm (what the errors add up to, of what is allowed; the worst of each direction):',
      'stage  gap          in-plane  tilt  torch     needs',
      '    2  0.48 of 0.8  -         -     0.5 of 1  located at the stops (gap at base 1.56 without)',
    ]);
  });
});

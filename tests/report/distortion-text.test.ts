import { describe, expect, it } from 'vitest';
import { distortionText } from '../../src/report/distortion-text.js';
import { barePlan } from '../support/bare-plan.js';

const feature = (name: string, deviation: number) => ({
  ...{ name, from: 'base', to: 'plate', class: 'B' as const, nominal: 180.4, deviation },
  ...{ tolerance: 2, limit: 0.667, within: deviation <= 0.667 },
});

describe('the text of distortion', () => {
  it('is not there when no tack is laid', () => {
    expect(distortionText(barePlan('base'))).toEqual([]);
  });

  it('has the worst movement, the widest gap, bows and the tolerances against what tacking may use up', () => {
    const plan = barePlan('base', 'plate');
    plan.stages[1]!.distortion.openings = [
      { tack: 'J1.1@10', before: 0 },
      { tack: 'J1.2@10', before: 0.354 },
    ];
    plan.distortion.worst = { part: 'plate', mm: 1.234, stage: 2, after: 'tack J1.1@10' };
    plan.distortion.bows = [{ parts: ['rail', 'base'], length: 2000, bow: 0.718 }];
    plan.distortion.features = [feature('width', 0.131), feature('a\u202eb', 0.9)];
    expect(distortionText(plan)).toEqual([
      '',
      'Distortion (a screening estimate): plate moves farthest, 1.23 mm at a corner, after tack J1.1@10 in stage 2;',
      '                                   the widest gap before a tack is 0.35 mm, at J1.2@10; 1 slender member,',
      '                                   which bows by 0.72 mm over 2,000 mm (rail, base).',
      '',
      'Tolerances after tacking, mm (a screening estimate; allowed is the share that tacking may use up):',
      'tolerance  from  to     length   off  allowed  of class',
      'width      base  plate     180  0.13     0.67  B: +- 2',
      'a\\u202eb   base  plate     180   0.9     0.67  B: +- 2, beyond',
    ]);
  });

  it('tells the factors and where they come from, where they are not those of the formulas', () => {
    const plan = barePlan('base');
    plan.stages[0]!.distortion.openings.push({ tack: 'J1.1@10', before: 0 });
    expect(distortionText(plan).join(' ')).not.toContain('factors');
    plan.distortion.factors.angular = 0.7;
    plan.settings.distortion.origin = 'fitted to 9 measurements';
    expect(distortionText(plan)).toContain(
      'Shrinkage factors: transverse 1, longitudinal 1, angular 0.7 (fitted to 9 measurements).',
    );
  });
});

import { describe, expect, it } from 'vitest';
import { momentOfPick } from '../../../src/browser/stage-view/moment/pick-moment.js';
import { SAMPLE } from './page-sample.js';

describe('the moment of a pick', () => {
  it('is when the part of a stage is in place, or a step begins', () => {
    expect(momentOfPick(SAMPLE, 'stage:2')).toBe(14);
    expect(momentOfPick(SAMPLE, 'step:0.2')).toBe(4);
  });

  it('is none of a part, or of what is not in the plan', () => {
    expect(momentOfPick(SAMPLE, 'part:1')).toBeUndefined();
    expect(momentOfPick(SAMPLE, 'stage:9')).toBeUndefined();
    expect(momentOfPick(SAMPLE, 'step:7.1')).toBeUndefined();
  });
});

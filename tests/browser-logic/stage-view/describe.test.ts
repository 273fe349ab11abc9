import { describe as group, expect, it } from 'vitest';
import { describe, robotLines } from '../../../src/browser/stage-view/moment/describe.js';
import { SAMPLE } from './page-sample.js';

group('a moment in sentences', () => {
  it('says the stage, what is in place, who holds, the tacks and what robots do', () => {
    expect(describe(SAMPLE, 17)).toEqual([
      '17 s of 20 s. Stage 2 of 2: rib joins, from above.',
      'In place: plate and rib (2 of 2).',
      'handler holds rib now, from 14 s to 18 s.',
      '1 of 2 tacks of this stage laid, number 2 being laid.',
      'handler: wait for H2.',
    ]);
  });

  it('says when nothing is in place, held or tacked', () => {
    expect(describe(SAMPLE, 1).slice(1, 3)).toEqual([
      'In place: nothing yet.',
      'No robot holds it, and nothing is tacked in this stage.',
    ]);
  });

  it('says what is to be held and what was', () => {
    expect(describe(SAMPLE, 12)[2]).toBe('handler will hold rib from 14 s to 18 s.');
    expect(describe(SAMPLE, 19)[2]).toBe('handler held rib from 14 s to 18 s.');
  });

  it('says that a robot is done', () => {
    expect(robotLines(SAMPLE, 20)).toEqual(['handler: done.']);
  });
});

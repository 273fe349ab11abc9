import { describe, expect, it } from 'vitest';
import {
  jointsIn,
  neighbourMoment,
  stepAt,
  stepMoments,
} from '../../../src/browser/stage-view/moment/steps.js';
import { HANDLER } from './page-sample.js';

describe('steps', () => {
  it('begin at rising moments, once each', () => {
    expect(stepMoments([HANDLER, HANDLER], 20)).toEqual([0, 4, 8, 20]);
  });

  it('are gone through one by one', () => {
    const moments = stepMoments([HANDLER], 20);
    expect(neighbourMoment(moments, 4, 1)).toBe(8);
    expect(neighbourMoment(moments, 4, -1)).toBe(0);
    expect(neighbourMoment(moments, 20, 1)).toBeUndefined();
    expect(neighbourMoment(moments, 0, -1)).toBeUndefined();
  });

  it('are found by the moment, those that take no time giving way to what follows', () => {
    expect([0, 3.9, 4, 8, 25].map((time) => stepAt(HANDLER, time)?.n)).toEqual([1, 1, 2, 4, 4]);
    expect(stepAt({ ...HANDLER, steps: [] }, 3)).toBeUndefined();
  });

  it('turn joints evenly between the postures, each passed at its own share of the time', () => {
    const step = HANDLER.steps[1]!;
    const first = [4, 4.5, 5, 6.5, 8].map((time) => jointsIn(step, time)![0]);
    expect(first).toEqual([0, 0.5, 1, 1.5, 2]);
  });

  it('stand where there is one posture or no time', () => {
    expect(jointsIn(HANDLER.steps[0]!, 2)).toEqual([0, 0, 0, 0, 0, 0]);
    expect(jointsIn(HANDLER.steps[2]!, 8)?.[0]).toBe(2);
  });
});

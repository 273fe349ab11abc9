import { describe, expect, it } from 'vitest';
import { neighbourStage, presentStage, stageBegins } from '../../../src/browser/stage-view/moment/stages.js';
import { SAMPLE } from './page-sample.js';

const { stages } = SAMPLE;

describe('the stage that is looked at', () => {
  it('is the first from the start on, and the next once its part is taken and nothing else is held', () => {
    const begins = stageBegins(stages);
    expect(begins).toEqual([0, 9]);
    expect([0, 8.9, 9, 9.1, 20].map((time) => presentStage(begins, time))).toEqual([0, 0, 0, 1, 1]);
  });

  it('waits until what is held for the stage before is let go, but not beyond the moment of the part in place', () => {
    const held = { ...stages[0]!, hold: [8, 12] as const };
    expect(stageBegins([held, stages[1]!])[1]).toBe(12);
    const late = { ...stages[0]!, hold: [8, 19] as const };
    expect(stageBegins([late, stages[1]!])[1]).toBeCloseTo(14, 1);
  });

  it('is its own at the moment that shows it', () => {
    const begins = stageBegins(stages);
    stages.forEach(({ placed }, i) => expect(presentStage(begins, placed)).toBe(i));
  });

  it('is found from any moment, one way and the other', () => {
    const to = (time: number, way: 1 | -1): number | undefined => neighbourStage(stages, time, way)?.number;
    expect([to(0, 1), to(8, 1), to(14, 1)]).toEqual([1, 2, undefined]);
    expect([to(20, -1), to(14, -1), to(8, -1)]).toEqual([2, 1, undefined]);
  });

  it('is none of a plan without stages', () => {
    expect(presentStage(stageBegins([]), 3)).toBe(-1);
  });
});

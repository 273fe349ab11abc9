import { describe, expect, it } from 'vitest';
import { fittingLabel } from '../../src/report/timeline-kinds.js';
import { lanesOf } from '../../src/report/timeline-lanes.js';
import { timelineWindows } from '../../src/report/timeline-svg.js';
import { smallPlan } from './small-plan.js';

describe('lanesOf', () => {
  it('tells where a part is fetched while an earlier stage is tacked', () => {
    const plan = smallPlan();
    plan.timeline.activities.push({
      ...{ robot: 'handler', stage: 3, what: 'fetch', start: 110, end: 130, critical: false },
    });
    const [handler, welder] = lanesOf(plan).lanes;
    expect(handler!.ahead).toEqual([{ stage: 3, tacked: 2, start: 110, end: 120 }]);
    expect(welder!.ahead).toEqual([]);
  });

  it('has a lane for every program and for every robot that has an activity only', () => {
    const plan = smallPlan();
    plan.timeline.activities.push({
      ...{ robot: 'stranger', stage: 1, what: 'fetch', start: 0, end: 1, critical: false },
    });
    expect(lanesOf(plan).lanes.map(({ robot, program }) => [robot, program])).toEqual([
      ['handler', 0],
      ['welder', 1],
      ['stranger', -1],
    ]);
  });
});

describe('labels', () => {
  it('say as much as has room', () => {
    const label = (pixels: number): string => fittingLabel('let go and retreat', 3.25, pixels);
    expect([300, 150, 60, 20, 5].map(label)).toEqual([
      ...['let go and retreat 3.3 s', 'let go and retreat', 'let go', 'l', ''],
    ]);
    expect(fittingLabel('dance', 2, 100)).toBe('other 2 s');
  });
});

describe('windows', () => {
  it('cover the whole time without a gap, none of them empty', () => {
    for (const makespan of [0.5, 10, 126, 127, 332.419, 885.2, 9000]) {
      const windows = timelineWindows(makespan);
      expect(windows[0]!.start).toBe(0);
      windows.slice(1).forEach(({ start }, i) => expect(start).toBe(windows[i]!.end));
      expect(windows.at(-1)!.end).toBeGreaterThanOrEqual(makespan);
      expect(windows.at(-1)!.start).toBeLessThan(makespan);
    }
  });
});

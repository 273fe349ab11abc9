import { describe, expect, it } from 'vitest';
import { columns } from '../../src/report/plain.js';
import { timelineText } from '../../src/report/timeline-text.js';
import { smallPlan } from './small-plan.js';

const laneOf = (lines: readonly string[], robot: string): string =>
  lines.find((line) => line.startsWith(`  ${robot} `))!.slice(columns('  handler  '));

describe('timelineText', () => {
  it('gives every activity its share of the lane', () => {
    const plan = smallPlan();
    const lane = laneOf(timelineText(plan), 'handler');
    const perMark = 120 / 89;
    const count = (mark: string): number => lane.split('').filter((own) => own === mark).length;
    for (const [mark, seconds] of [
      ['f', 59.8],
      ['.', 40],
      ['o', 10],
    ] as const)
      expect(Math.abs(count(mark) - seconds / perMark)).toBeLessThan(1);
  });

  it('sums the waits of each robot', () => {
    expect(timelineText(smallPlan()).at(-1)).toBe('  Waits: handler 40 s, welder 1 min 0 s');
  });

  it('is at most 100 columns wide and ASCII for ASCII names', () => {
    for (const line of timelineText(smallPlan())) {
      expect(columns(line)).toBeLessThanOrEqual(100);
      expect(line).toMatch(/^[ -~]*$/);
    }
  });

  it('marks where each stage begins', () => {
    const lines = timelineText(smallPlan());
    const stages = lines[lines.findIndex((line) => line.startsWith('  handler')) - 1]!.slice(11);
    expect(stages.indexOf('1')).toBe(0);
    expect(stages.indexOf('2')).toBe(Math.floor(20.2 / (120 / 89)));
  });

  it('has nothing to say when nothing takes time', () => {
    expect(
      timelineText({ timeline: { makespan: 0, bound: 0, choices: 0, activities: [] }, programs: [] }),
    ).toEqual([]);
  });
});

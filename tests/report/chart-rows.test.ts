import { describe, expect, it } from 'vitest';
import { fixedAcross, freeAcross } from '../../src/report/across.js';
import { axisEnd, axisStep, axisTicks, rowsChart, type ChartRow } from '../../src/report/chart-rows.js';
import { ON_PAGE, ON_PAPER } from '../../src/report/theme.js';
import { allNamed, readSvg } from './drawn.js';

const row = (value: number, limit: number): ChartRow => ({
  ...{ label: 'row', value, told: `${value} of ${limit}`, bad: value > limit, open: false },
  limits: [{ at: limit, role: 'limit' }],
});
const chart = (rows: readonly ChartRow[]) => ({ axis: 'mm', most: 4, rows, legend: [] });

describe('axes', () => {
  it('have round steps, at most about six', () => {
    expect([0.09, 0.7, 1, 2, 10, 37].map(axisStep)).toEqual([0.02, 0.2, 0.2, 0.5, 2, 10]);
    expect(axisTicks(2)).toEqual([0, 0.5, 1, 1.5, 2]);
  });

  it('end at a whole step that holds every value', () => {
    expect(axisEnd([0.09, 2])).toBe(2);
    expect(axisEnd([2.1])).toBe(2.5);
    expect(axisEnd([])).toBe(1);
  });
});

describe('bars', () => {
  it('are as long as their values, on one scale with their limits', () => {
    const { content } = rowsChart(chart([row(1, 2), row(2, 4)]), fixedAcross(0, 1000), ON_PAPER);
    const root = readSvg(`<svg>${content.join('')}</svg>`);
    const bars = allNamed(root, 'rect').map((bar) => Number(bar.getAttribute('width')));
    expect(bars[1]! / bars[0]!).toBeCloseTo(2, 3);
    const groups = allNamed(root, 'g').filter((group) => group.hasAttribute('data-value'));
    const limits = groups.map((group) => Number(allNamed(group, 'line')[0]!.getAttribute('x1')));
    expect(limits[0]).toBeCloseTo(bars[1]!, 3);
    expect(groups.map((group) => group.getAttribute('data-value'))).toEqual(['1', '2']);
  });

  it('say in words and weight, not by colour alone, what is beyond its limit', () => {
    const { content } = rowsChart(chart([row(3, 2)]), freeAcross(700), ON_PAGE);
    const root = readSvg(`<svg>${content.join('')}</svg>`);
    expect(allNamed(root, 'rect')[0]!.getAttribute('class')).toBe('r-beyond');
    expect(allNamed(root, 'text').filter((text) => text.getAttribute('class') === 'r-strong')).toHaveLength(
      2,
    );
  });
});

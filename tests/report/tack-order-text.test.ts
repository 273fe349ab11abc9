import { describe, expect, it } from 'vitest';
import type { GeometricPlan, Stage } from '../../src/model/plan.js';
import type { TackOrder } from '../../src/model/plan-tack-order.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { TACK_HABITS } from '../../src/model/tack-habit.js';
import { tackOrderText } from '../../src/report/tack-order-text.js';

/** A stage whose order leaves so many mm, and every habit so many. */
const stage = (
  part: string,
  predicted: number | null,
  habits: number | null,
  rest: Partial<TackOrder> = {},
): Pick<Stage, 'part' | 'tackOrder'> => ({
  part,
  tackOrder: {
    predicted,
    habits: TACK_HABITS.map((habit) => ({ habit, predicted: habits })),
    ...{ compared: 24, all: true, least: predicted, kept: 'best' },
    ...rest,
  },
});

const text = (...stages: readonly Pick<Stage, 'part' | 'tackOrder'>[]): string =>
  tackOrderText({ stages, settings: DEFAULT_SETTINGS } as unknown as GeometricPlan);

describe('the line on the order of tacks', () => {
  it('is empty where no stage has two tacks', () => {
    expect(text({ part: 'base' })).toBe('');
  });

  it('says where the order is better, and where as good', () => {
    expect(
      text({ part: 'base' }, stage('web', 0.42, 1.57), stage('cheek', 0.44, 0.45), stage('lid', 1, 1.2)),
    ).toBe(
      'of 3 stages with two tacks or more 2 better than every habit, by up to 1.15 mm (web) and 1 as good as the best habit within 0.05 mm; all orders were compared.',
    );
  });

  it('owns up to what is worse, why, and what was only searched', () => {
    expect(
      text(
        stage('web', 0.6, 0.5, { least: 0.4, kept: 'dearer' }),
        stage('lid', 0.7, 0.5, { least: 0.4, kept: 'refused', all: false }),
      ),
    ).toBe(
      'of 2 stages with two tacks or more 2 worse than a habit; all orders were compared in 1 stage, in the others the best was searched for; in 1 stage a better one was refused when the whole was judged; in 1 stage a better one would be worse in what the objective puts first.',
    );
  });

  it('says where only this order leaves every seam closed enough', () => {
    expect(text(stage('lid', 0.3, null))).toBe(
      'of 1 stage with two tacks or more 1 better than every habit, in 1 stage of which a seam would gape too wide for the next tack; all orders were compared.',
    );
  });
});

import { describe, expect, it } from 'vitest';
import { Budget } from '../../src/base/budget.js';
import { BudgetShare } from '../../src/base/budget-share.js';

describe('a share of a budget', () => {
  it('spends the whole, and ends with its own steps or with the whole', () => {
    const whole = new Budget({ steps: 5 });
    const first = new BudgetShare(whole, 3);
    expect([first, first, first, first].map((share) => share.take())).toEqual([true, true, true, false]);
    const second = new BudgetShare(whole, 3);
    expect([second, second, second].map((share) => share.take())).toEqual([true, true, false]);
    expect([whole.steps, second.exhaustedBy()]).toEqual([5, 'steps']);
  });
});

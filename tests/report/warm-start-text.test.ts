import { describe, expect, it } from 'vitest';
import { warmStartText } from '../../src/report/warm-start-text.js';

describe('what became of a plan that was started from', () => {
  it('says of one that is not legal what is wrong, where, and what to do', () => {
    const stoppedBy = {
      rule: 'reach',
      where: 'stages[2].tacks[1]',
      message: 'joint 5 is 3 deg past its limit',
    };
    expect(warmStartText({ legal: false, stoppedBy, kept: false })).toMatchInlineSnapshot(
      `"Started from: the earlier plan is not legal for these files: joint 5 is 3 deg past its limit (rule \`reach\`, at stages[2].tacks[1] of that plan); it was taken up as far as it is, and nothing is to be done about it: use the new plan. \`tackwright check\` with the earlier one tells all that is wrong with it."`,
    );
    expect(warmStartText({ legal: false, kept: false })).not.toContain('undefined');
  });
});

import { describe, expect, it } from 'vitest';
import type { Issue } from '../../src/model/issue.js';
import { findingsText, issuesText } from '../../src/report/findings-text.js';

describe('findings and issues', () => {
  it('are one line each', () => {
    const finding = { rule: 'reach', where: 'stages[2]', message: 'joint 5 at 131 deg, limit 125' };
    expect(findingsText([finding, { ...finding, where: 'stages[3]' }])).toBe(
      'reach: stages[2]: joint 5 at 131 deg, limit 125\nreach: stages[3]: joint 5 at 131 deg, limit 125\n',
    );
    expect(findingsText([])).toBe('');
  });

  it('print a run that shows it below, indented', () => {
    const finding = {
      rule: 'r',
      where: 'w',
      message: 'm',
      trace: ['handler 1: hold a\u001b', 'welder 2: tack b'],
    };
    expect(findingsText([finding])).toBe('r: w: m\n    handler 1: hold a\\u001b\n    welder 2: tack b\n');
  });

  it('stay one line whatever a name holds', () => {
    const finding = { rule: 'reach', where: 'x', message: 'part a\nreach: all is well\u001b[A' };
    expect(findingsText([finding])).toBe('reach: x: part a\\u000areach: all is well\\u001b[A\n');
    const issue: Issue = {
      code: 'c',
      severity: 'error',
      file: 'a\u001b.yaml',
      line: 3,
      path: 'parts.web',
      problem: 'mass -2',
      remedy: 'write a positive number',
    };
    expect(issuesText([issue])).toBe('a\\u001b.yaml:3: parts.web: mass -2; write a positive number\n');
  });
});

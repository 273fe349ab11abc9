import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { codeCatalogue, codeText } from '../../src/report/code-catalogue.js';
import { codeEntries, codeEntry } from '../../src/report/codes/code-entries.js';
import { refusalTitle } from '../../src/report/refusal-text.js';
import { ABSTRACT_RULES } from '../../src/rules/check-abstract.js';
import { RULES } from '../../src/rules/check.js';
import { SUB_ASSEMBLY_RULES } from '../../src/rules/sub-assemblies/check-whole.js';
import { codesInSource } from '../support/codes-in-source.js';

/** Codes put together from a word in the source, by the code with `N` for the word. */
const MADE: Readonly<Record<string, readonly string[]>> = {
  'reach-N': ['reach-too-far', 'reach-too-close'],
  'unknown-N': ['unknown-part', 'unknown-tack', 'unknown-stage'],
  /** The kind of a fact about the order. */
  'fact.kind': ['contact', 'first', 'needs', 'blocking'],
};

/** Places that pass on a code read elsewhere, use the word for something else, or give a code that nobody is told. */
const PASSED_ON: readonly string[] = [
  'cli/codes-command.ts: code',
  'cli/files.ts: (error as { code?: string }).code',
  "cli/files.ts: (error as { code?: string }).code ?? 'unknown'",
  "cli/instance-files.ts: (error as { code?: string }).code ?? 'unknown'",
  'family/limits.ts: issue.code',
  "cli/results-file.ts: (error as { code?: string }).code ?? 'unknown'",
  'cli/study-command.ts: reportResults(rows, inputs, flags)', // an exit code
  'explain/why/file-facts.ts: kind',
  'facts/seam-access.ts: refusal.code',
  'facts/torch-ranking.ts: this.bounds[this.taken]!', // a place in a list
  'facts/torch-ranking.ts: codeOf(margin, place, roll, branch)',
  'io/issue-at.ts: complaint.code',
  'io/wish-checks.ts: code',
  'io/read-answers.ts: z.string().min(1).max(100)', // of an answer that was given
  'model/family-result.ts: z.string()', // of what limits a plan
  'planning/abstract-impossible.ts: kind',
  'planning/conflict-reasons.ts: kind',
  'planning/other-orders.ts: KNOWN_ORDER', // between two searches
  'report/codes/refusals.ts: code',
  'report/reason-text.ts: code',
  'report/inspect-cell.ts: refusal.code',
  'report/refusal-text.ts: code',
  'report/refusal-text.ts: refusal.code',
  'session/contradictions.ts: refusal.code',
  'model/plan-whole.ts: z.string()', // of a reason that a plan tells
  'session/sub-assemblies/tried-split.ts: issue.code',
  'session/sub-assemblies/tried-split.ts: rule',
];

/** zod's own code for what becomes an issue `rule`. */
const OF_ZOD = 'custom';

const { codes, unread } = codesInSource();
const given = [
  ...[...codes].filter((code) => code !== OF_ZOD && MADE[code] === undefined),
  ...Object.values(MADE).flat(),
  ...[...RULES, ...SUB_ASSEMBLY_RULES, ...ABSTRACT_RULES].map(({ id }) => id),
  'inputs-true',
];

describe('the table of codes', () => {
  it('in docs is current (npm run catalogue)', () => {
    expect(readFileSync(new URL('../../docs/codes.md', import.meta.url), 'utf8')).toBe(codeCatalogue());
  });

  it('has an entry for every code in the source', () => {
    expect(given.length).toBeGreaterThan(150);
    expect(given.filter((code) => codeEntry(code) === undefined)).toEqual([]);
  });

  it('has no code that the source does not give', () => {
    const known = new Set(given);
    expect(codeEntries().flatMap(({ code }) => (known.has(code) ? [] : [code]))).toEqual([]);
  });

  it('misses no code that is made in a way that cannot be read off the source', () => {
    expect([...new Set(unread)].filter((place) => !PASSED_ON.includes(place))).toEqual([]);
  });

  it('has every code once, with a title, a meaning and what to do', () => {
    const listed = codeEntries().map(({ code }) => code);
    expect(listed.filter((code, i) => listed.indexOf(code) !== i)).toEqual([]);
    for (const { code, title, meaning, remedy } of codeEntries()) {
      expect(code).toMatch(/^[a-z]+(?:-[a-z0-9]+|-N)*$/);
      expect(title.length, code).toBeGreaterThan(5);
      for (const text of [meaning, remedy]) {
        expect(text, code).toMatch(/^[A-Z`].*[.]$/s);
        expect(text.length, code).toBeGreaterThan(10);
      }
    }
  });

  it('gives the words of one joint, and the title that texts of refusals use', () => {
    expect(codeEntry('joint-5-limit')).toMatchObject({
      code: 'joint-5-limit',
      kind: 'refusal',
      title: refusalTitle('joint-5-limit'),
    });
    expect(codeEntry('joint-5-limit')?.title).toBe('joint 5 beyond its limit');
    expect(codeEntry('wrist-stretched')?.title).toBe(refusalTitle('wrist-stretched'));
    expect(codeEntry('constructor')).toBeUndefined();
    expect(codeText(codeEntry('payload')!)).toMatchInlineSnapshot(`
      "payload (refusal): payload
        Part and gripper together are heavier than the arm may carry.
        What to do: Use a lighter gripper or a stronger robot, or split the part; check \`mass\`.
      "
    `);
  });
});

import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../../src/algorithms/linear-program.js';
import { canonicalText } from '../../../src/io/canonical.js';
import { readCell } from '../../../src/io/read-cell.js';
import { readWeldment } from '../../../src/io/read-weldment.js';
import { issueLine } from '../../../src/model/issue.js';
import { starterFiles } from '../../../src/report/starter/starter.js';
import { checkPlan } from '../../../src/session/check.js';
import { planSession } from '../../../src/session/plan.js';

const programs = await loadLinearPrograms();

const [weldment, cell] = starterFiles('first', false);
const [abstract] = starterFiles('first', true);

/** Planned without a warning, to a plan that `check` passes. */
function planned(sources: Parameters<typeof planSession>[0]): void {
  const outcome = planSession(sources, { programs });
  if (outcome.kind !== 'planned') throw new Error(canonicalText(outcome));
  expect(outcome.warnings).toEqual([]);
  const text = canonicalText(outcome.plan);
  expect(checkPlan({ text, name: 'p.json' }, sources, programs)).toMatchObject({
    kind: 'judged',
    findings: [],
  });
}

/** A field that is there as a comment: `# key: value`, with the word of the key in lower case. */
const FIELD = /^(\s*)# ([a-z][a-z-]*: .*)$/;

/** The text with one commented-out field put in, for each there is, by its line. */
const putIn = (text: string): readonly (readonly [string, string])[] => {
  const lines = text.split('\n');
  return lines.flatMap((line, at) => {
    const [, indent, field] = FIELD.exec(line) ?? [];
    return field === undefined
      ? []
      : [[field, lines.map((one, i) => (i === at ? `${indent!}${field}` : one)).join('\n')] as const];
  });
};

const errors = (issues: readonly Parameters<typeof issueLine>[0][]): readonly string[] =>
  issues.filter(({ severity }) => severity === 'error').map(issueLine);

describe('the files to begin from', () => {
  it('are planned at once, without a warning, to a plan that passes check', () => {
    planned({
      weldment: { text: weldment!.text, name: weldment!.file },
      cell: { text: cell!.text, name: cell!.file },
    });
  });

  it('without shapes as well', () => {
    planned({ weldment: { text: abstract!.text, name: abstract!.file } });
  });

  it.each(putIn(weldment!.text))('can have `%s` in the weldment', (_, text) => {
    expect(errors(readWeldment(text, 'w.yaml').issues)).toEqual([]);
  });

  it.each(putIn(cell!.text))('can have `%s` in the cell', (_, text) => {
    expect(errors(readCell(text, 'c.yaml').issues)).toEqual([]);
  });

  it.each(putIn(abstract!.text))('can have `%s` in a weldment without shapes', (_, text) => {
    expect(errors(readWeldment(text, 'a.yaml').issues)).toEqual([]);
  });

  it('has as many of them as a beginner may want', () => {
    const counts = [weldment!, cell!, abstract!].map(({ text }) => putIn(text).length);
    expect(counts).toEqual([12, 7, 3]);
  });

  it.each([['true'], ['12'], ['a: b # c'], ['"quoted"'], ['Ständer'], ['- x'], ['null'], ['1e3'], ['~']])(
    'keep the name %s as it is',
    (name) => {
      const files = starterFiles(name, false);
      expect(readWeldment(files[0]!.text, 'w').value?.name).toBe(name);
      expect(readCell(files[1]!.text, 'c').value?.name).toBe(name);
      expect(readWeldment(starterFiles(name, true)[0]!.text, 'w').value?.name).toBe(name);
    },
  );
});

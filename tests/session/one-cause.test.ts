import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { issueLine } from '../../src/model/issue.js';
import { checkPlan } from '../../src/session/check.js';
import { inspectSession } from '../../src/session/inspect-session.js';
import { planSession } from '../../src/session/plan.js';
import { canonicalText } from '../../src/io/canonical.js';
import { benchText } from '../support/cell-text.js';

const programs = await loadLinearPrograms();

/** Our own invention: a rib on a base, in a unit of so many mm, the rib raised by a gap in that unit. */
const ribbed = (unit: number, gap = 0, more = ''): string => {
  const [l, w, t, h] = [400, 300, 10, 100].map((mm) => mm / unit);
  return [
    'weldment: ribbed',
    'units: mm kg N s deg',
    'parts:',
    `  base: { plate: { length: ${l}, width: ${w}, thickness: ${t} }, at: [0, 0, ${t! / 2}] }`,
    `  rib: { plate: { length: ${l! / 2}, width: ${h}, thickness: ${t} }, at: [0, 0, ${t! + h! / 2 + gap}], turn: [90, 0, 0] }`,
    'joints: [{ between: [base, rib] }]',
    more,
  ].join('\n');
};

const sourcesOf = (text: string) => ({
  weldment: { text, name: 'w.yaml' },
  cell: { text: benchText(), name: 'c.yaml' },
});

const errorsOf = (text: string): readonly string[] => {
  const planned = planSession(sourcesOf(text), { programs });
  if (planned.kind !== 'bad-input') throw new Error(planned.kind);
  const inspected = inspectSession(sourcesOf(text), programs);
  // What `inspect` tells is what stops `plan`.
  expect(inspected.kind === 'inspected' && inspected.issues).toEqual(planned.issues);
  return planned.issues.map(issueLine);
};

describe('a weldment in metres', () => {
  it('is told as that once, with what follows from it counted', () => {
    const told = errorsOf(ribbed(1000));
    expect(told).toHaveLength(1);
    expect(told[0]).toMatch(
      /^w\.yaml:3: parts: the largest size of any part is 0\.4 mm, with \d+ errors? that this would explain, the first at \S+: .*; if these are metres, multiply every length by 1000; all else is checked once this is mended$/,
    );
  });
});

describe('a gap of a joint that is wider than may be tacked', () => {
  it('is told with what may be tacked and by how much to close it', () => {
    expect(errorsOf(ribbed(1, 1.5))).toEqual([
      'w.yaml:6: joints[0]: the gap between base and rib is 1.5 mm, and at most 1 mm is tacked (`fit-up.gap`); move them together by 0.5 mm at least, raise `fit-up.gap` to 1.5 if such a gap can be tacked, or strike the joint',
    ]);
    expect(errorsOf(ribbed(1, 1.004))[0]).toContain(
      'the gap between base and rib is 1.004 mm, and at most 1 mm',
    );
  });

  it('is not proposed to be allowed where it is far wider', () => {
    expect(errorsOf(ribbed(1, 40))[0]).toMatch(
      /is 40 mm, .*; move them together by 39 mm at least or strike the joint$/,
    );
  });

  it('is told of a contact alike', () => {
    const text = ribbed(1, 1.5, 'contacts: [[base, rib]]').replace(/^joints.*$/m, '');
    expect(errorsOf(text)[0]).toMatch(
      /: contacts\[0\]: the gap between base and rib is 1\.5 mm, .* or strike the contact$/,
    );
  });

  it('is another thing than parts that have no faces opposed', () => {
    const aside = ribbed(1).replace('at: [0, 0, 60]', 'at: [400, 0, 60]');
    expect(errorsOf(aside)[0]).toMatch(
      /^w\.yaml:6: joints\[0\]: base and rib are 100 mm apart and have no faces opposed within 1 mm; correct `at`/,
    );
  });
});

describe('a plan of another version of its weldment', () => {
  it('is told with what to do', () => {
    const file = (mass: number) => ({
      weldment: {
        text: `weldment: pair\nunits: mm kg N s deg\nparts: { a: { mass: ${mass} }, b: {} }\n`,
        name: 'w.yaml',
      },
    });
    const outcome = planSession(file(1), { programs });
    if (outcome.kind !== 'planned') throw new Error(outcome.kind);
    const checked = checkPlan({ text: canonicalText(outcome.plan), name: 'p.json' }, file(2), programs);
    expect(checked.kind === 'judged' && checked.findings.map(({ message }) => message)).toEqual([
      expect.stringMatching(
        /^the plan was made for "pair" with digest [0-9a-f]{12}, the file is "pair" with [0-9a-f]{12}; give the file as it was, or plan again for this one$/,
      ),
    ]);
  });
});

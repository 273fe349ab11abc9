import { describe, expect, it } from 'vitest';
import type { TriedRemedy } from '../../src/model/tried-remedy.js';
import { remediesText } from '../../src/report/remedies-text.js';

const moved: TriedRemedy = {
  ...{ kind: 'moved-table', cost: 'position', size: 0.13 },
  words: 'move the work table 80 mm toward welder (x +80)',
  edits: [{ file: 'cell', path: ['stations', 'table', 'at'], from: [0, 0, 500], to: [80, 0, 500] }],
  objective: [
    { term: 'regrips', value: 1 },
    { term: 'tool-changes', value: 0 },
    { term: 'distortion', value: 0 },
    { term: 'time', value: 711 },
  ],
};
const lowered: TriedRemedy = {
  ...{ kind: 'lower-load', cost: 'relaxed-rule', size: 0.4, openBelow: 2 },
  words: 'reckon with `push-least` 8 N instead of 10',
  edits: [{ file: 'settings', path: ['loads', 'push-least'], from: 10, to: 8 }],
  caution:
    'relaxes a rule that keeps parts from falling: nothing may brush past a part that is not tacked harder than this',
  objective: [{ term: 'distortion', value: 12 }, ...moved.objective.slice(3)],
};

describe('what would help, in words', () => {
  it('says each change with the plan that was found with it, and what a person must answer for', () => {
    const text = remediesText({
      remedies: [moved, lowered],
      tries: 9,
      kinds: ['moved-table', 'lower-load'],
      steps: 2000,
    });
    expect(text).toMatchInlineSnapshot(`
      "Would help, each tried by itself, cheapest first:
        1  move the work table 80 mm toward welder (x +80): a plan with 1 regrip, 0 tool changes, 1 min
           11.1 s
        2  reckon with \`push-least\` 8 N instead of 10: a plan with 1.2 mm of distortion beyond its limits,
           1 min 11.1 s; the smallest found in 2,000 steps a try, 2 smaller changes not decided
           but: relaxes a rule that keeps parts from falling: nothing may brush past a part that is not
           tacked harder than this
      The plan is the first that was found; \`plan\` with the changed files looks for the best.
      "
    `);
  });

  it('says that not all was tried, and why', () => {
    const one = { remedies: [moved], tries: 9, kinds: ['moved-table'], steps: 2000 };
    expect(remediesText({ ...one, cutBy: 'tries' })).toMatchInlineSnapshot(`
      "Would help, each tried by itself, cheapest first:
        1  move the work table 80 mm toward welder (x +80): a plan with 1 regrip, 0 tool changes, 1 min
           11.1 s
      The plan is the first that was found; \`plan\` with the changed files looks for the best.
      No more than that is tried; other changes may help too.
      "
    `);
    expect(remediesText({ ...one, cutBy: 'stop' })).toContain('was interrupted');
    expect(remediesText({ ...one, cutBy: 'seconds' })).toContain('ended with the seconds');
  });

  it('says what was tried where nothing helps, and that nothing was where nothing speaks to the reasons', () => {
    const text = remediesText({
      remedies: [],
      ...{ tries: 12, steps: 2000 },
      kinds: ['rest-face', 'grip-density', 'set-by-hand'],
    });
    expect(text).toMatchInlineSnapshot(`
      "Nothing that was tried helps (12 changed inputs tried: rest face, grip density and set by hand).
      "
    `);
    expect(remediesText({ remedies: [], tries: 0, kinds: [], steps: 2000 })).toMatchInlineSnapshot(`
      "Nothing was tried that would help: no change that Tackwright knows speaks to these reasons.
      "
    `);
    expect(remediesText({ remedies: [], tries: 0, kinds: [], steps: 2000, cutBy: 'stop' }))
      .toMatchInlineSnapshot(`
      "The search for remedies was interrupted; other changes may help too.
      "
    `);
  });

  it('tells two changes at once apart, and tries that were not decided', () => {
    const none = { tries: 12, pairs: 3, open: 1, steps: 2000, kinds: ['rest-face', 'two-changes'] };
    const words = 'let plate lie on +y at the infeed, and move the work table 80 mm toward welder (x +80)';
    const pair = { ...moved, kind: 'two-changes', words };
    expect(remediesText({ ...none, remedies: [pair] })).toMatchInlineSnapshot(`
      "No change that was tried helps by itself. Would help, two changes at once, cheapest first:
        1  let plate lie on +y at the infeed, and move the work table 80 mm toward welder (x +80): a plan
           with 1 regrip, 0 tool changes, 1 min 11.1 s
      The plan is the first that was found; \`plan\` with the changed files looks for the best.
      Not decided: 1 try gave neither a plan nor a proof that there is none (2,000 steps of search each);
      what was changed there may help too.
      "
    `);
    expect(remediesText({ ...none, open: 2, remedies: [] })).toMatchInlineSnapshot(`
      "Nothing that was tried helps (12 changed inputs tried, 3 of them with two changes at once: rest face
      and two changes).
      Not decided: 2 tries gave neither a plan nor a proof that there is none (2,000 steps of search
      each); what was changed there may help too.
      "
    `);
  });

  it('shows no mark of a name that a terminal would obey', () => {
    const odd = { ...moved, words: 'move \u001b[2Jtable' };
    expect(remediesText({ remedies: [odd], tries: 1, kinds: ['moved-table'], steps: 2000 })).not.toContain(
      '\u001b',
    );
  });
});

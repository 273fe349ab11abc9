import { describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { loadLinearPrograms } from '../../../src/algorithms/linear-program.js';
import type { Refusal } from '../../../src/model/verdict.js';
import { tackedApart } from '../../../src/session/remedies/sub-assembly.js';
import { troubleOf, type Trouble } from '../../../src/session/remedies/trouble.js';
import { inputsOf, story } from '../../support/planned.js';

const programs = await loadLinearPrograms();
const stuck: readonly Refusal[] = [{ code: 'no-securing', subjects: ['lug'] }];

function troubled(name: string, change: object = {}): Trouble {
  const files = story(name);
  const inputs = inputsOf({ ...files, weldment: { ...files.weldment, ...change } });
  const documents = { weldment: inputs.weldmentDocument, cell: inputs.cellDocument, settings: undefined };
  return troubleOf(inputs, stuck, documents, programs) as Trouble;
}

describe('a part that is stuck', () => {
  it('is tacked to its neighbour apart, by an entry that names both', () => {
    const ladders = tackedApart(troubled('lower-seam-over-a-base', { first: 'base' }));
    expect(ladders).toHaveLength(1);
    expect(ladders[0]).toMatchObject({
      ...{ kind: 'tacked-apart', cost: 'sub-assembly' },
      changes: [
        {
          words: 'tack lug and post together first, as a sub-assembly',
          edits: [
            {
              ...{ file: 'weldment', path: ['sub-assemblies'], from: 'off' },
              to: [{ name: 'lug-post', parts: ['lug', 'post'] }],
            },
          ],
        },
      ],
    });
  });

  it('is not, where the file says what it wants of sub-assemblies', () => {
    expect(tackedApart(troubled('lower-seam-is-reached-apart'))).toEqual([]);
    expect(stringify(story('lower-seam-is-reached-apart').weldment)).toContain('sub-assemblies');
  });
});

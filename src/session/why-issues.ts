import type { Asked } from '../explain/why/opposite.js';
import { nearestWord } from '../io/nearest-word.js';
import type { Issue } from '../model/issue.js';

/** What is wrong with a question that the plan knows nothing to say about; nothing where it does. */
export function issueOf(asked: Asked, file: string): Issue[] {
  const at = { severity: 'error', file, line: 0, path: '' } as const;
  if (asked.kind === 'no-shapes')
    return [
      {
        ...at,
        code: 'no-shapes',
        problem: `the parts of the plan have no shapes, so that it has no ${asked.what} to ask about`,
        remedy: 'ask about --before, --not-first, --grip or --regrip',
      },
    ];
  if (asked.kind !== 'unknown') return [];
  const { what, name, known } = asked;
  const near = nearestWord(name, known);
  const some = known.length <= 12 ? `write one of ${known.join(', ')}` : `write one of its ${known.length}`;
  return [
    {
      ...at,
      code: `unknown-${what}`,
      problem: `the plan has no ${what} "${name}"`,
      remedy: near === undefined ? some : `perhaps "${near}" is meant`,
    },
  ];
}

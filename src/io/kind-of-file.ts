import type { Issue } from '../model/issue.js';
import type { SourceDocument } from './document.js';
import { issueAt } from './issue-at.js';

/** The kinds of files, by the key that only one of them has at its top. */
const KEYS = { family: 'family', weldment: 'weldment', cell: 'cell', plan: 'format' } as const;

export type FileKind = keyof typeof KEYS;

function kindOf(value: unknown): FileKind | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  if (Object.hasOwn(value, KEYS.plan)) return 'plan';
  // A family file may name the file of its base by the key `weldment`.
  if (Object.hasOwn(value, KEYS.family)) return 'family';
  const kinds = (['weldment', 'cell'] as const).filter((kind) => Object.hasOwn(value, KEYS[kind]));
  return kinds.length === 1 ? kinds[0] : undefined;
}

/** The one thing to say of a file that is of another kind than was asked for; nothing where that is not clear. */
export function wrongKind(document: SourceDocument, expected: FileKind): Issue | undefined {
  const kind = kindOf(document.value);
  if (kind === undefined || kind === expected) return undefined;
  return issueAt(document, [], {
    code: 'wrong-kind',
    problem: `this is a ${kind} file`,
    remedy: `give a ${expected} file here`,
  });
}

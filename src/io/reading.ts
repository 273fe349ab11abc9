import type { z } from 'zod';
import type { Issue } from '../model/issue.js';
import { digest } from './digest.js';
import type { SourceDocument } from './document.js';
import { readDocument } from './document.js';
import { hasError, inFileOrder } from './issue-at.js';
import { wrongKind, type FileKind } from './kind-of-file.js';
import { issuesOfZod } from './issues-of-zod.js';

/** What came of reading one file. With any error among the issues there is no value and no digest. */
export interface Reading<T> {
  readonly value: T | undefined;
  /** SHA-256 of the file's content with defaults filled in; the same for any formatting of it. */
  readonly digest: string | undefined;
  /** Errors and warnings in the order of the file. */
  readonly issues: readonly Issue[];
}

/** What a document was found to be: its issues and, when it meets its schema, how to make the noun of it. */
export interface Judgement<T> {
  readonly issues: readonly Issue[];
  readonly accepted: { readonly content: unknown; readonly make: () => T } | undefined;
}

export type Judge<T> = (document: SourceDocument) => Judgement<T>;

/**
 * Judges documents by a schema and by checks that no schema can make. The checks are given the raw document, so that
 * they also run when the schema is not met; `resolve` is called only when there is no error at all.
 */
export const judgeBy =
  <S extends z.ZodType, T>(
    schema: S,
    check: (document: SourceDocument) => readonly Issue[],
    resolve: (file: z.output<S>) => T,
  ): Judge<T> =>
  (document) => {
    const parsed = schema.safeParse(document.value);
    const checked = check(document);
    if (!parsed.success)
      return {
        issues: [...issuesOfZod(parsed.error.issues, schema, document), ...checked],
        accepted: undefined,
      };
    const { data } = parsed;
    return { issues: checked, accepted: { content: data, make: () => resolve(data) } };
  };

/** Reads a text with a judge and tells all issues in one run; a file of another kind than asked for is told as that. */
export function readBy<T>(text: string, file: string, judge: Judge<T>, kind?: FileKind): Reading<T> {
  const source = readDocument(text, file);
  if (source.document === undefined) return refused(source.issues);
  const wrong = kind && wrongKind(source.document, kind);
  if (wrong) return refused([wrong]);
  const judgement = judge(source.document);
  const issues = inFileOrder([...source.issues, ...judgement.issues]);
  const { accepted } = judgement;
  if (accepted === undefined || hasError(issues)) return refused(issues);
  return { value: accepted.make(), digest: digest(accepted.content), issues };
}

const refused = (issues: readonly Issue[]): Reading<never> => ({
  value: undefined,
  digest: undefined,
  issues,
});

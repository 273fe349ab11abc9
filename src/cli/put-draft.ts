import { basename, extname } from 'node:path';
import type { Issue } from '../model/issue.js';
import { issuesText } from '../report/findings-text.js';
import { counted } from '../report/numbers.js';
import type { DraftOutcome } from '../session/review-draft.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { isDevice, sameFile, unwritable, writeWhole } from './files.js';
import type { ImportFlags } from './import-flags.js';
import { alreadyThere, isThere } from './new-files.js';

/** The name of a weldment by that of the file it is made of: `lectern` of `lectern.parts.csv`. */
export function nameOfImport(file: string, word: string): string {
  const base = basename(file, extname(file));
  const shorter = base.endsWith(word) ? base.slice(0, -word.length).replace(/[-_. ]+$/, '') : base;
  return shorter === '' ? base : shorter;
}

/** What stops the weldment file from being written, found before the work is done. */
export function unwritableDraft(inputs: readonly string[], { out, force }: ImportFlags): readonly Issue[] {
  if (out === undefined) return [];
  if (inputs.some((input) => sameFile(input, out)))
    return [alreadyThere(out, 'it is an input: give another name with --out')];
  if (force !== true && isThere(out) && !isDevice(out))
    return [alreadyThere(out, 'give another name, or replace it with --force')];
  const closed = unwritable(out);
  return closed === undefined ? [] : [closed];
}

export function refuseImport(issues: readonly Issue[]): ExitCode {
  process.stderr.write(issuesText(issues));
  return EXIT.badInput;
}

/** Prints the weldment file, or writes it and says what to do next; what it wants reviewed is told beside it. */
export function putDraft(draft: DraftOutcome & { readonly kind: 'drafted' }, { out }: ImportFlags): ExitCode {
  process.stderr.write(issuesText(draft.issues));
  if (out === undefined) {
    process.stdout.write(draft.text);
    return EXIT.done;
  }
  const written = writeWhole(out, draft.text);
  if (!written.ok) return refuseImport([written.error]);
  const { parts, contacts, joints } = draft.inspection;
  const proposed = joints.filter(({ origin }) => origin === 'proposed').length;
  const said = proposed === 0 ? 'given' : 'proposed';
  process.stdout.write(
    `${counted(parts.length, 'part')}, ${counted(contacts.length, 'contact')}, ${counted(joints.length, 'joint')} (${said})\n` +
      `Written: ${out}\nLook it through, then: tackwright inspect ${/^[\w./\\:-]+$/.test(out) ? out : `"${out}"`}\n`,
  );
  return EXIT.done;
}

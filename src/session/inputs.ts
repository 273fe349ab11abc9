import { readDocument, type SourceDocument } from '../io/document.js';
import { readCell } from '../io/read-cell.js';
import { readSettings } from '../io/read-settings.js';
import { isAbstract, readWeldment } from '../io/read-weldment.js';
import { wishIssues } from '../io/wish-checks.js';
import type { Cell } from '../model/cell.js';
import type { Issue } from '../model/issue.js';
import { DEFAULT_SETTINGS, type Settings } from '../model/settings.js';
import type { AnyWeldment } from '../model/weldment.js';

/** The text of a file and the name by which messages call it. */
export interface Source {
  readonly text: string;
  readonly name: string;
  /** Of a cell: the texts of the URDF files that it names, by the paths that it writes for them. */
  readonly beside?: Readonly<Record<string, string>> | undefined;
}

/** The files of a session as text. A cell is needed for a weldment with shapes. */
export interface Sources {
  readonly weldment: Source;
  readonly cell?: Source | undefined;
  readonly settings?: Source | undefined;
}

/** All inputs understood. */
export interface Inputs {
  readonly weldment: AnyWeldment;
  readonly weldmentDigest: string;
  readonly weldmentDocument: SourceDocument;
  readonly cell: Cell | undefined;
  readonly cellDocument: SourceDocument | undefined;
  /** Undefined where the settings are all defaults. */
  readonly settingsDocument?: SourceDocument | undefined;
  readonly cellDigest: string;
  readonly settings: Settings;
  readonly warnings: readonly Issue[];
}

/** Reads every source and gathers every issue; inputs only when no issue is an error. */
export function readInputs(
  sources: Sources,
  { cellNeeded }: { readonly cellNeeded: boolean } = { cellNeeded: true },
): {
  readonly inputs: Inputs | undefined;
  readonly issues: readonly Issue[];
} {
  const weldment = readWeldment(sources.weldment.text, sources.weldment.name);
  const cell = sources.cell && readCell(sources.cell.text, sources.cell.name, sources.cell.beside);
  const settings = sources.settings && readSettings(sources.settings.text, sources.settings.name);
  const documents = {
    weldmentDocument: readDocument(sources.weldment.text, sources.weldment.name).document,
    settingsDocument: sources.settings && readDocument(sources.settings.text, sources.settings.name).document,
  };
  const about = wishesIn(documents, cell?.value);
  const issues = [...weldment.issues, ...(cell?.issues ?? []), ...(settings?.issues ?? []), ...about];
  if (cellNeeded && weldment.value?.kind === 'geometric' && !cell)
    issues.push(cellMissing(sources.weldment.name));
  if (issues.some(({ severity }) => severity === 'error')) return { inputs: undefined, issues };
  return {
    inputs: {
      weldment: weldment.value!,
      weldmentDigest: weldment.digest!,
      weldmentDocument: documents.weldmentDocument!,
      cell: cell?.value,
      cellDocument: sources.cell && readDocument(sources.cell.text, sources.cell.name).document,
      settingsDocument: documents.settingsDocument,
      cellDigest: cell?.digest ?? '',
      settings: settings?.value ?? DEFAULT_SETTINGS,
      warnings: issues,
    },
    issues,
  };
}

/** What is wrong with the wishes of both files, and with the names of the cell where there is one. */
function wishesIn(
  documents: Record<'weldmentDocument' | 'settingsDocument', SourceDocument | undefined>,
  cell: Cell | undefined,
): readonly Issue[] {
  const { weldmentDocument: weldment, settingsDocument } = documents;
  if (weldment === undefined) return [];
  const names = { weldment, cell, abstract: isAbstract(weldment.value) };
  return [weldment, ...(settingsDocument ? [settingsDocument] : [])].flatMap((document) =>
    wishIssues(document, names),
  );
}

export const cellMissing = (file: string, what = 'a weldment with shapes'): Issue => ({
  code: 'cell-missing',
  severity: 'error',
  file,
  line: 0,
  path: '',
  problem: `${what} needs a cell`,
  remedy: 'give one with --cell FILE',
});

import type { SourceDocument } from '../../io/document.js';
import type { Source, Sources } from '../inputs.js';
import type { Edit, EditedFile } from '../../model/tried-remedy.js';

/** What an edit writes into when the file has nothing there yet. */
const emptyFor = (key: string | number | undefined): unknown => (typeof key === 'number' ? [] : {});

/** A plain value with what is at a path replaced; the way there is made where it is missing. */
export function withValueAt(value: unknown, path: readonly (string | number)[], to: unknown): unknown {
  const [key, ...rest] = path;
  if (key === undefined) return to;
  const around = (value ?? emptyFor(key)) as Readonly<Record<string, unknown>> | readonly unknown[];
  if (Array.isArray(around))
    return around.map((one: unknown, i) => (i === key ? withValueAt(one, rest, to) : one));
  const inner = (around as Readonly<Record<string, unknown>>)[key];
  const others = Object.entries(around).filter(([name]) => name !== String(key));
  if (rest.length === 0 && to === undefined) return Object.fromEntries(others);
  return Object.fromEntries([
    ...Object.entries(around).map(([name, one]) =>
      name === String(key) ? [name, withValueAt(inner, rest, to)] : [name, one],
    ),
    ...(Object.hasOwn(around, key) ? [] : [[String(key), withValueAt(inner, rest, to)]]),
  ] as [string, unknown][]);
}

/** The files of a session as they were parsed; `settings` is undefined when none were given. */
export type Documents = Readonly<Record<EditedFile, SourceDocument | undefined>>;

/**
 * The sources after some edits, as JSON texts under their old names. Files without an edit stay the text that they are,
 * and a cell keeps the files beside it.
 */
export function editedSources(sources: Sources, documents: Documents, edits: readonly Edit[]): Sources {
  const edited = (file: EditedFile, source: Source | undefined): Source | undefined => {
    const own = edits.filter((edit) => edit.file === file);
    if (own.length === 0) return source;
    const before = documents[file]?.value ?? {};
    const after = own.reduce<unknown>((value, { path, to }) => withValueAt(value, path, to), before);
    return { ...source, name: source?.name ?? 'settings', text: JSON.stringify(after) };
  };
  return {
    weldment: edited('weldment', sources.weldment)!,
    cell: edited('cell', sources.cell),
    settings: edited('settings', sources.settings),
  };
}

import { readCell } from '../io/read-cell.js';
import { readSettings } from '../io/read-settings.js';
import type { FamilyInputs } from '../family/result.js';
import type { Issue } from '../model/issue.js';
import { DEFAULT_SETTINGS, type Settings } from '../model/settings.js';
import type { Source } from '../session/inputs.js';
import { readCellSource } from './cell-source.js';
import { readFamilySource } from './family-source.js';
import type { SharedByTasks } from './family-pool.js';
import { readSource } from './files.js';

/** The files of a family that were read: what it is, what threads are given, and all files that were touched. */
export interface FamilyRead {
  /** Undefined with any error among the issues. */
  readonly inputs: FamilyInputs | undefined;
  readonly shared: SharedByTasks | undefined;
  readonly issues: readonly Issue[];
  readonly files: readonly string[];
}

export interface FamilyInputFlags {
  readonly cell?: string;
  readonly settings?: string;
  readonly steps?: number;
}

/** Reads the family with the files that it names, the cell and the settings, and gathers every issue. */
export async function readFamilyInputs(file: string, flags: FamilyInputFlags): Promise<FamilyRead> {
  const family = await readFamilySource(file);
  const cell = flags.cell === undefined ? undefined : readCellSource(flags.cell);
  const settings = flags.settings === undefined ? undefined : readSource(flags.settings);
  const cellRead = cell?.source.ok === true ? cellOf(cell.source.value) : undefined;
  const settingsRead =
    settings?.ok === true ? readSettings(settings.value.text, settings.value.name) : undefined;
  const issues = [
    ...family.issues,
    ...(cell === undefined ? [cellMissing(file)] : cell.source.ok ? [] : [cell.source.error]),
    ...(cellRead?.issues ?? []),
    ...(settings?.ok === false ? [settings.error] : []),
    ...(settingsRead?.issues ?? []),
  ];
  const files = [file, ...family.files, flags.cell, ...(cell?.files ?? []), flags.settings];
  const touched = files.filter((one) => one !== undefined);
  const wrong = issues.some(({ severity }) => severity === 'error');
  if (wrong || family.family === undefined || cell?.source.ok !== true || cellRead?.value === undefined)
    return { inputs: undefined, shared: undefined, issues, files: touched };
  return {
    inputs: {
      family: family.family,
      cell: { name: cellRead.value.name, digest: cellRead.digest! },
      settings: withSteps(settingsRead?.value ?? DEFAULT_SETTINGS, flags.steps),
    },
    shared: {
      file,
      cell: cell.source.value,
      settings: settings?.ok === true ? settings.value : undefined,
      overrides: { steps: flags.steps },
    },
    ...{ issues, files: touched },
  };
}

const cellOf = ({ text, name, beside }: Source): ReturnType<typeof readCell> => readCell(text, name, beside);

const withSteps = (settings: Settings, steps: number | undefined): Settings =>
  steps === undefined ? settings : { ...settings, budget: { ...settings.budget, steps } };

const cellMissing = (file: string): Issue => ({
  code: 'cell-missing',
  severity: 'error',
  file,
  line: 0,
  path: '',
  problem: 'a family of weldments with shapes needs a cell',
  remedy: 'give one with --cell FILE',
});

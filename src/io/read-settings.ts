import type { Settings } from '../model/settings.js';
import { settingsSchema } from '../model/settings.js';
import type { Reading } from './reading.js';
import { judgeBy, readBy } from './reading.js';

const judgeSettings = judgeBy(
  settingsSchema,
  () => [],
  (file): Settings => file,
);

/** Reads a settings file (YAML or JSON); what it leaves out has its default, and an empty file is all defaults. */
export const readSettings = (text: string, file: string): Reading<Settings> =>
  readBy(text, file, (document) =>
    judgeSettings(document.value === null ? { ...document, value: {} } : document),
  );

import { z } from 'zod';
import { cellFileSchema } from '../model/cell-file.js';
import { dryRunSchema, PROGRAMS_VERSION } from '../model/dry-run.js';
import { familyFileSchema } from '../model/family-file.js';
import { FAMILY_VERSION, familyResultSchema } from '../model/family-result.js';
import { PLAN_VERSION, planSchema } from '../model/plan.js';
import { settingsSchema } from '../model/settings.js';
import { abstractFileSchema, weldmentFileSchema } from '../model/weldment.js';

/** Version of the input files; counts up with every change that an old file would not survive. */
const INPUT_VERSION = 1;

interface Source {
  readonly name: string;
  readonly title: string;
  readonly version: number;
  readonly schema: z.ZodType;
  /** Inputs may leave out what has a default; plans leave nothing out. */
  readonly io: 'input' | 'output';
}

const input = (name: string, title: string, schema: z.ZodType): Source => ({
  ...{ name, title, schema },
  version: INPUT_VERSION,
  io: 'input',
});

const SOURCES: readonly Source[] = [
  input('weldment', 'Tackwright weldment with shapes', weldmentFileSchema),
  input('abstract-weldment', 'Tackwright weldment without shapes', abstractFileSchema),
  input('family', 'Tackwright family of weldments', familyFileSchema),
  input('cell', 'Tackwright cell', cellFileSchema),
  input('settings', 'Tackwright settings', settingsSchema),
  { name: 'plan', title: 'Tackwright plan', version: PLAN_VERSION, schema: planSchema, io: 'output' },
  {
    ...{ name: 'dry-run', title: 'Tackwright programs for a first try without arc' },
    ...{ version: PROGRAMS_VERSION, schema: dryRunSchema, io: 'output' },
  },
  {
    ...{ name: 'family-result', title: 'Tackwright patterns of a family with their parameters' },
    ...{ version: FAMILY_VERSION, schema: familyResultSchema, io: 'output' },
  },
];

/** The JSON Schemas (2020-12) of everything Tackwright reads and writes, as files for the folder `shared`. */
export const jsonSchemas = (): readonly { readonly fileName: string; readonly text: string }[] =>
  SOURCES.map(({ name, title, version, schema, io }) => {
    const { $schema, ...rules } = z.toJSONSchema(schema, { io });
    const head = {
      $schema,
      $id: `urn:tackwright:schema:${name}:${version}`,
      $comment: `version ${version}; rules that JSON Schema cannot say are checked by the reader`,
      title,
    };
    return { fileName: `${name}.schema.json`, text: `${JSON.stringify({ ...head, ...rules }, null, 2)}\n` };
  });

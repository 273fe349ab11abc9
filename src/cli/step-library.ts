import { fail, ok, type Result } from '../base/result.js';
import { rawStep, STEP_OPTIONS, type RawStep } from '../io/step/raw-step.js';

/** An import library that is installed only where STEP files are read. */
export const STEP_LIBRARY = 'occt-import-js';

/** What is used of it. */
interface StepLibrary {
  readonly ReadStepFile: (content: Uint8Array, options: typeof STEP_OPTIONS) => unknown;
}

/** It would write what it does not like to the terminal, which we tell in our own words. */
interface Quiet {
  readonly print: () => void;
  readonly printErr: () => void;
}

type Making = (options: Quiet) => Promise<StepLibrary>;
type Load = (name: string) => Promise<{ readonly default: unknown }>;

/** Why a STEP file gave no solids: the library is not there, could not read the file, or broke down over it. */
export type StepFailure = 'missing' | 'refused' | 'broken';

const loadModule: Load = (name) => import(name) as Promise<{ readonly default: unknown }>;

/** The solids of a STEP file as meshes in mm, by the library, which is loaded only now. */
export async function readStepSolids(
  content: Uint8Array,
  load: Load = loadModule,
): Promise<Result<RawStep, StepFailure>> {
  let making: Making;
  try {
    making = (await load(STEP_LIBRARY)).default as Making;
  } catch (error) {
    if ((error as { code?: string }).code === 'ERR_MODULE_NOT_FOUND') return fail('missing');
    throw error;
  }
  // Made anew for each file, options too, which it changes: nothing of one file is left for the next.
  const library = await making({ print: () => undefined, printErr: () => undefined });
  try {
    const read = rawStep(library.ReadStepFile(content, STEP_OPTIONS));
    return read === undefined ? fail('refused') : ok(read);
  } catch {
    // Whatever it throws, bare numbers among it, is about this file: memory that ran out, or a fault in its code.
    return fail('broken');
  }
}

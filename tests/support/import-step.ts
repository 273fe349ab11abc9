import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { rawStep, STEP_OPTIONS, type RawStep } from '../../src/io/step/raw-step.js';
import { stepParts, type StepParts } from '../../src/io/step/step-parts.js';
import type { RecognisedPart } from '../../src/io/step/recognised.js';
import { importedStep } from '../../src/session/imported-step.js';
import type { DraftOutcome } from '../../src/session/review-draft.js';

interface Library {
  readonly ReadStepFile: (content: Uint8Array, options: object) => unknown;
}

/** One for all files of a test: making it takes longer than reading them. The command makes it anew for each file. */
const library = (
  (await import('occt-import-js' as string)) as { default: (options: object) => Promise<Library> }
).default({ print: () => undefined, printErr: () => undefined });

/** What the import library makes of a STEP file. */
export async function solidsOf(content: Uint8Array): Promise<RawStep> {
  const raw = rawStep((await library).ReadStepFile(content, STEP_OPTIONS));
  if (raw === undefined) throw new Error('the library cannot read this');
  return raw;
}

const solidsIn = (text: string): Promise<RawStep> => solidsOf(new TextEncoder().encode(text));

/** What is recognised in the text of a STEP file, by the library itself. */
export const recognisedIn = async (text: string): Promise<StepParts> =>
  stepParts(text, await solidsIn(text), 'test.step');

/** The parts among it, by name. */
export async function partsIn(text: string): Promise<ReadonlyMap<string, RecognisedPart>> {
  const { solids } = await recognisedIn(text);
  return new Map(
    solids.flatMap(({ name, solid }) => (solid.kind === 'part' ? [[name, solid] as const] : [])),
  );
}

/** The weldment file that a STEP file is made into, or why it is none. */
export const outcomeOf = async (text: string): Promise<DraftOutcome> =>
  importedStep(
    { text, raw: await solidsIn(text), file: 'folder/test.step' },
    { name: 'test', file: 'test.weldment.yaml' },
    await loadLinearPrograms(),
  );

/** The same where it is one. */
export async function importOf(text: string): Promise<DraftOutcome & { readonly kind: 'drafted' }> {
  const outcome = await outcomeOf(text);
  if (outcome.kind !== 'drafted') throw new Error(JSON.stringify(outcome.issues));
  return outcome;
}

import type { LinearPrograms } from '../algorithms/linear-program.js';
import type { Facts } from '../facts/facts.js';
import type { RawStep } from '../io/step/raw-step.js';
import type { ImportedSolid } from '../io/step/step-parts.js';
import { stepParts } from '../io/step/step-parts.js';
import type { ProposedJoint } from '../io/step/step-weldment-text.js';
import { stepWeldmentText } from '../io/step/step-weldment-text.js';
import { DEFAULT_SETTINGS } from '../model/settings.js';
import type { Issue } from '../model/issue.js';
import { factsOf } from '../planning/plan.js';
import { contradictions } from './contradictions.js';
import { readInputs } from './inputs.js';
import { standInCell } from './stand-in-cell.js';

/** A STEP file as it was read. */
export interface StepSource {
  /** For the names. */
  readonly text: string;
  readonly raw: RawStep;
  readonly file: string;
}

export interface StepImport {
  /** The weldment file; undefined where no solid became a part, or what became of them is no weldment. */
  readonly text: string | undefined;
  readonly parts: number;
  readonly joints: number;
  /** About the STEP file. */
  readonly issues: readonly Issue[];
  /** About the weldment file, what `plan` would not take. */
  readonly toMend: readonly Issue[];
}

/**
 * A weldment file, to be looked through, of the solids of a STEP file, with joints proposed from their contacts.
 *
 * @param target of the weldment file: its name within, and that by which issues call it
 */
export function importedStep(
  { text, raw, file }: StepSource,
  target: { readonly name: string; readonly file: string },
  programs: LinearPrograms,
): StepImport {
  const { solids, issues } = stepParts(text, raw, file);
  const parts = solids.filter(({ solid }) => solid.kind === 'part').length;
  const none = { text: undefined, parts, joints: 0, issues, toMend: [] };
  if (parts === 0) return none;
  const facts = factsOfText(stepWeldmentText(target.name, file, solids), target.file, programs);
  if ('issues' in facts) return { ...none, toMend: facts.issues };
  return written(facts, solids, { issues, parts, file, target });
}

function written(
  facts: Facts,
  solids: readonly ImportedSolid[],
  {
    issues,
    parts,
    file,
    target,
  }: Pick<StepImport, 'issues' | 'parts'> & { file: string; target: { name: string; file: string } },
): StepImport {
  const joints = proposedJoints(facts);
  const text = stepWeldmentText(target.name, file, solids, joints.length > 0 ? joints : undefined);
  const read = readInputs({ weldment: { text, name: target.file } }, { cellNeeded: false });
  const document = read.inputs?.weldmentDocument;
  const toMend = [...read.issues, ...(document ? contradictions(facts, document, false) : [])];
  return { text, parts, joints: joints.length, issues, toMend };
}

/** What a weldment without joints implies, or why it is none. */
function factsOfText(
  text: string,
  name: string,
  programs: LinearPrograms,
): Facts | { readonly issues: readonly Issue[] } {
  const { inputs, issues } = readInputs({ weldment: { text, name } }, { cellNeeded: false });
  if (inputs?.weldment.kind !== 'geometric') return { issues };
  return factsOf(inputs.weldment, standInCell(inputs.weldment), DEFAULT_SETTINGS, programs);
}

const proposedJoints = ({ scene, joints }: Facts): readonly ProposedJoint[] =>
  joints.map(({ a, b, type, leg, seams }) => {
    const lengths = seams.map((seam) => `${Math.round(seam.length)} mm`);
    return {
      between: [scene.parts[a]!.part.id, scene.parts[b]!.part.id],
      ...{ type, leg, sides: 'both' },
      about: `${seams.length === 1 ? 'seam' : 'seams'} of ${lengths.join(' and ')}`,
    };
  });

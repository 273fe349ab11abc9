import type { Issue } from '../../model/issue.js';
import type { PartName } from './part-names.js';
import { partNames } from './part-names.js';
import { namedSolids } from './assembly-tree.js';
import type { RawStep } from './raw-step.js';
import type { RecognisedPart, UnknownSolid } from './recognised.js';
import { recognise } from './recognise.js';
import { solidMesh } from './solid-mesh.js';

export interface ImportedSolid extends PartName {
  readonly solid: RecognisedPart | UnknownSolid;
}

/** What a STEP file has, solid by solid, and what is to be told of it. */
export interface StepParts {
  readonly solids: readonly ImportedSolid[];
  readonly issues: readonly Issue[];
}

/** A file that ISO 10303-21 begins with this word, after blanks and comments. */
const BEGINS = /^\uFEFF?(?:\s|\/\*.*?\*\/)*ISO-10303-21\s*;/s;

/** Whether a text can be a STEP file at all, so that the library need not try. */
export const looksLikeStep = (text: string): boolean => BEGINS.test(text.slice(0, 10_000));

/**
 * The parts of a STEP file: its text for the names, and what the library made of it for the shapes. A solid that is none of the
 * shapes is a warning, and an error where no solid is any.
 */
export function stepParts(text: string, raw: RawStep, file: string): StepParts {
  const names = partNames(raw, namedSolids(text));
  const solids = raw.meshes.map((mesh, i): ImportedSolid => ({
    ...names[i]!,
    solid: recognise(solidMesh(mesh)),
  }));
  const lost = solids.every(({ solid }) => solid.kind === 'unknown');
  return {
    solids,
    issues: [...unitIssues(text, file), ...solids.flatMap((one) => solidIssues(one, file, lost))],
  };
}

function unitIssues(text: string, file: string): readonly Issue[] {
  if (/\bLENGTH_UNIT\s*\(/i.test(text)) return [];
  return [
    {
      ...{ code: 'step-without-unit', severity: 'warning', file, line: 0, path: '' },
      problem: 'the file does not say in which unit its lengths are, and mm are taken',
      remedy: 'compare a size that you know; export the file anew with its unit',
    },
  ];
}

function solidIssues({ name, solid }: ImportedSolid, file: string, lost: boolean): readonly Issue[] {
  const base = { file, line: 0, path: name };
  if (solid.kind === 'unknown')
    return [
      {
        ...{ code: 'solid-not-recognised', severity: lost ? 'error' : 'warning', ...base },
        problem: `the solid is none of the shapes of a weldment file: ${solid.seen}`,
        remedy: 'add it by hand as the shape that comes nearest, or leave it out of the weldment',
      },
    ];
  if (solid.notes.length === 0) return [];
  return [
    {
      ...{ code: 'solid-simplified', severity: 'warning', ...base },
      problem: `taken for a ${solid.key}: ${solid.notes.join('; ')}`,
      remedy: 'look whether this is near enough',
    },
  ];
}

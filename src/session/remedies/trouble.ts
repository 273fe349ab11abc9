import type { LinearPrograms } from '../../algorithms/linear-program.js';
import type { Facts } from '../../facts/facts.js';
import { cellFileSchema, type CellFile } from '../../model/cell-file.js';
import type { Settings } from '../../model/settings.js';
import type { Refusal } from '../../model/verdict.js';
import {
  abstractFileSchema,
  weldmentFileSchema,
  type AbstractFile,
  type WeldmentFile,
} from '../../model/weldment.js';
import { factsOf } from '../../planning/plan.js';
import type { Inputs } from '../inputs.js';
import type { Documents } from './edited.js';

/** What generators of changes are given: why there is no plan, and the files with their defaults filled in. */
interface Common {
  readonly reasons: readonly Refusal[];
  readonly settings: Settings;
  readonly documents: Documents;
}

/** A weldment with shapes that cannot be planned in its cell. */
export interface Trouble extends Common {
  readonly kind: 'geometric';
  readonly weldment: WeldmentFile;
  readonly cell: CellFile;
  readonly facts: Facts;
  readonly programs: LinearPrograms;
}

/** A weldment without shapes whose relations leave no order. */
export interface AbstractTrouble extends Common {
  readonly kind: 'abstract';
  readonly weldment: AbstractFile;
}

export function troubleOf(
  inputs: Inputs,
  reasons: readonly Refusal[],
  documents: Documents,
  programs: LinearPrograms,
): Trouble | AbstractTrouble {
  const { weldment, cell, settings } = inputs;
  if (weldment.kind === 'abstract')
    return {
      ...{ kind: 'abstract', reasons, settings, documents },
      weldment: abstractFileSchema.parse(documents.weldment!.value),
    };
  return {
    ...{ kind: 'geometric', reasons, settings, documents, programs },
    weldment: weldmentFileSchema.parse(documents.weldment!.value),
    cell: cellFileSchema.parse(documents.cell!.value),
    facts: factsOf(weldment, cell!, settings, programs),
  };
}

/** A refusal and the nearest misses inside it. */
export const withNearest = (refusal: Refusal): readonly Refusal[] => [
  refusal,
  ...(refusal.nearest ? withNearest(refusal.nearest) : []),
];

/** All reasons with their nearest misses. */
export const missesOf = ({ reasons }: Pick<Common, 'reasons'>): readonly Refusal[] =>
  reasons.flatMap(withNearest);

/** Parts of which one of these kinds of condition is among the reasons, each once. */
export const stuckParts = (
  { reasons }: Pick<Common, 'reasons'>,
  ...codes: readonly string[]
): readonly string[] => [
  ...new Set(reasons.flatMap(({ code, subjects }) => (codes.includes(code) ? [subjects[0]!] : []))),
];

/** Whether any reason or nearest miss has one of these codes. */
export const hasCode = (trouble: Pick<Common, 'reasons'>, ...codes: readonly string[]): boolean =>
  missesOf(trouble).some(({ code }) => codes.includes(code));

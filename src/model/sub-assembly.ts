import { z } from 'zod';
import { nameSchema, notNegative, restSchema, type FaceName } from './scalars.js';

/** How far a member may be off its place in a finished sub-assembly, +- mm, where nobody says. Our choice, as `manual.within`. */
export const MEMBERS_WITHIN = 0.5;

const subAssemblySchema = z.strictObject({
  name: nameSchema.describe('by which plan and report call it; no part has this name'),
  parts: z
    .array(nameSchema)
    .min(2)
    .describe('two or more that are joined to one another, at least one fewer than there are'),
  rest: restSchema
    .optional()
    .describe(
      'the face on which it is built and then lies at the infeed, as `<part>/<face>`; `toes-1`, `toes-2` where it stands on several faces or edges at once; default: the lowest stable one on which a part of it stands flat',
    ),
  within: notNegative
    .optional()
    .describe(
      `how far a part of it may be off its place once it is tacked and measured, +- mm; default ${MEMBERS_WITHIN}, our choice. It adds to the cut of its parts`,
    ),
});

/** Absent where nothing is said, so that files without sub-assemblies mean what they meant before there were any. */
export const subAssembliesSchema = z
  .union([z.enum(['off', 'auto']), z.array(subAssemblySchema).min(1).max(20)])
  .optional()
  .describe(
    'parts that are tacked apart first and then brought as one. off (the default): none; auto: those that the planner finds worth it; or a list',
  );

/** Parts that are tacked apart first, and then brought as one part of the weldment. */
export interface SubAssembly {
  /** By which plan and report call it; no part has this name. */
  readonly name: string;
  /** Two or more, joined to one another, at least one fewer than there are. */
  readonly parts: readonly string[];
  /** The face on which it is built, and on which it then lies at the infeed; default: its lowest stable rest. */
  readonly rest?: FaceName | undefined;
  /** How far a part of it may be off its place once it is tacked and measured, +- mm; default: `MEMBERS_WITHIN`. */
  readonly within?: number | undefined;
}

/** A sub-assembly of which it is known how it lies. */
export type LyingSubAssembly = SubAssembly & { readonly rest: FaceName };

/** What a weldment wants of sub-assemblies: none, those it names, or any that the planner finds worth it. */
export type SubAssemblyWish = 'off' | 'auto' | readonly SubAssembly[];

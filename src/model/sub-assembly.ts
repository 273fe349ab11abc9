import type { FaceName } from './scalars.js';

/** Parts that are tacked apart first, and then brought as one part of the weldment. */
export interface SubAssembly {
  /** By which plan and report call it; no part has this name. */
  readonly name: string;
  /** Two or more, joined to one another, at least one fewer than there are. */
  readonly parts: readonly string[];
  /** The face on which it is built, and on which it then lies at the infeed; default: its lowest stable rest. */
  readonly rest?: FaceName | undefined;
}

/** What a weldment wants of sub-assemblies: none, those it names, or any that the planner finds worth it. */
export type SubAssemblyWish = 'off' | 'auto' | readonly SubAssembly[];

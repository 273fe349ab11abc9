import type { GridCell } from '../study/grid.js';
import type { Instance } from '../study/instance.js';
import type { InstanceSources } from '../study/read-instance.js';
import type { AskedSolver } from './study-solvers-flag.js';

/** An instance and the texts that a thread reads it from. */
export interface StudyInstance {
  readonly digest: string;
  readonly instance: Instance;
  readonly sources: InstanceSources;
}

export type StudyCell = GridCell<StudyInstance, AskedSolver>;

import type { ObjectiveTerm } from '../../src/model/settings.js';
import type { Answer, PeerName } from './contestants.js';

export type Kind = 'weldment' | 'ordering';

export interface Task {
  readonly kind: Kind;
  readonly who: 'ours' | PeerName;
  readonly size: number;
  readonly seed: number;
  readonly patience: number;
  /** Solved that often once it has been solved from cold, for the time when warm. */
  readonly again: number;
}

export const OBJECTIVE: readonly ObjectiveTerm[] = ['regrips', 'tool-changes', 'time'];

/** Seconds in one process: from its first line to the loaded solver, then to the first answer, then the warm ones. */
export interface Told {
  readonly answer: Answer<readonly unknown[]>;
  readonly load: number;
  readonly cold: number;
  readonly warm: readonly number[];
}

import type { ReasonFact } from './reason-fact.js';

/** Why a candidate was refused: a stable code, what it concerns, and by how much it missed. */
export interface Refusal {
  readonly code: string;
  /** Part, gripper, robot or place ids concerned, most specific first. */
  readonly subjects: readonly string[];
  readonly value?: number;
  readonly limit?: number;
  readonly unit?: string;
  /** How many candidates got how far, by what they were asked. */
  readonly counts?: Readonly<Record<string, number>>;
  /** Of many candidates refused, the one that came nearest. */
  readonly nearest?: Refusal;
  /** Of a reason that helps to rule every plan out: what it is about. */
  readonly fact?: ReasonFact;
}

/** A candidate and whether it may be used; refused candidates are kept with the reason. */
export interface Judged<T> {
  readonly candidate: T;
  readonly refusal: Refusal | undefined;
}

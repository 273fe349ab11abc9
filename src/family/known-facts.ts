import type { LinearPrograms } from '../algorithms/linear-program.js';
import type { Facts } from '../facts/facts.js';
import { factsOf } from '../planning/plan.js';
import type { Inputs } from '../session/inputs.js';
import type { Built } from './pattern.js';

/** Facts of a weldment of seven parts took up about 100 MB when its best plan was found (measured): a few variants a thread, and together no more than these. */
const MOST_KNOWN = 6;
const MOST_TOGETHER = 16;

/** How many variants each of some threads keeps; one at least, which is the one that it is at. */
export const knownAThread = (threads: number): number =>
  Math.min(MOST_KNOWN, Math.max(1, Math.floor(MOST_TOGETHER / threads)));

/**
 * Facts of the variants that were planned last, for the plans of them that follow. They answer the same whatever was asked
 * before, so that what is kept changes no plan, only how long it takes.
 */
export class KnownFacts {
  /** By the text of the variant, the one used last at the end. */
  private readonly kept = new Map<string, Facts>();

  constructor(private readonly most = MOST_KNOWN) {}

  of(text: string, { settings }: Inputs, { weldment, cell }: Built, programs: LinearPrograms): Facts {
    const facts = this.kept.get(text) ?? factsOf(weldment, cell, settings, programs);
    this.kept.delete(text);
    this.kept.set(text, facts);
    for (const oldest of this.kept.keys()) if (this.kept.size > this.most) this.kept.delete(oldest);
    return facts;
  }
}

import type { Shading } from './materials.js';
import { Batch } from './batch.js';

/** What everything is drawn with, each in one draw. */
export interface Batches {
  /** Parts, tables, tools, tacks and seams. */
  readonly faces: Batch;
  readonly lines: Batch;
  readonly arms: Batch;
  /** What shimmers through whatever hides it, and what is never hidden. */
  readonly through: Batch;
  readonly above: Batch;
}

export function batchesOf(shading: Shading): Batches {
  const made = {
    faces: new Batch(shading.faces(), 'faces'),
    lines: new Batch(shading.lines(), 'lines'),
    arms: new Batch(shading.faces(), 'faces'),
    through: new Batch(shading.above(true), 'faces'),
    above: new Batch(shading.above(false), 'faces'),
  };
  made.through.object.renderOrder = 1;
  made.above.object.renderOrder = 2;
  return made;
}

import type { StructureJoint } from './structure.js';

export type SeamSide = Pick<StructureJoint, 'sides' | 'open'>;

/**
 * The seam across the top of a part between two lines, on the higher line that its end meets: side 0 is the line at lower
 * y.
 */
export const topSeam = (side: number): SeamSide => ({ sides: 'one', open: [0, side === 0 ? 1 : -1, 1] });

import { rounded } from '../../base/order.js';
import type { StructureShape } from './structure.js';

/** Steel, kg per cubic millimetre: the density of `model/material.ts`. */
const DENSITY = 7.85e-6;

function volume(shape: StructureShape): number {
  if ('plate' in shape) return shape.plate.length * shape.plate.width * shape.plate.thickness;
  if ('block' in shape) return shape.block.length * shape.block.width * shape.block.height;
  const { length, width, height, wall } = shape['rectangular-hollow-section'];
  return length * (width * height - (width - 2 * wall) * (height - 2 * wall));
}

/** Mass of a part of steel, kg, to a tenth, at least that. */
export const massOf = (shape: StructureShape): number => Math.max(0.1, rounded(DENSITY * volume(shape), 1));

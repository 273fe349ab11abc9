import { REFERENCE } from '../mechanics/reference.js';
import type { WeldSteel } from '../mechanics/tack-strength.js';

/** A material of a part. */
export interface Material {
  readonly name: string;
  /** kg/m3 */
  readonly density: number;
  /** Share of a magnet's rated pull that it gives, 0 to 1. */
  readonly magnetic: number;
  /** What tacks on it are worth; undefined when we have no values for it. */
  readonly steel: WeldSteel | undefined;
}

const { steelGrades, materials } = REFERENCE;

/** The materials a file may name; values and their sources are in mechanics/reference.ts. */
export const MATERIALS: readonly Material[] = [
  ...Object.entries(steelGrades).map(([name, { tensileStrength, correlationFactor, material }]) => ({
    name,
    density: material.density.value,
    magnetic: material.magnetic.value,
    steel: { tensileStrength: tensileStrength.value, correlationFactor: correlationFactor.value },
  })),
  ...(['1.4301', 'aluminium'] as const).map((name) => ({
    name,
    density: materials[name].density.value,
    magnetic: materials[name].magnetic.value,
    steel: undefined,
  })),
];

export const findMaterial = (name: string): Material | undefined => MATERIALS.find((m) => m.name === name);

/** A material of a part. */
export interface Material {
  readonly name: string;
  /** kg/m3 */
  readonly density: number;
  /** Share of a magnet's rated pull that it gives, 0 to 1. */
  readonly magnetic: number;
  /** Ultimate strength f_u, MPa, and correlation factor beta_w; undefined when tack strength is not known. */
  readonly strength: { readonly ultimate: number; readonly correlation: number } | undefined;
}

/**
 * Densities: EN 1993-1-1 3.2.6, EN 10088-1, EN 1999-1-1 3.2.5. Strengths f_u (t <= 40) and beta_w: EN 1993-1-1
 * and EN 1993-1-8 table 4.1. Magnetic shares: common practice.
 */
export const MATERIALS: readonly Material[] = [
  { name: 'S235', density: 7850, magnetic: 1, strength: { ultimate: 360, correlation: 0.8 } },
  { name: 'S275', density: 7850, magnetic: 1, strength: { ultimate: 430, correlation: 0.85 } },
  { name: 'S355', density: 7850, magnetic: 1, strength: { ultimate: 490, correlation: 0.9 } },
  { name: '1.4301', density: 7900, magnetic: 0, strength: undefined },
  { name: 'aluminium', density: 2700, magnetic: 0, strength: undefined },
];

export const findMaterial = (name: string): Material | undefined => MATERIALS.find((m) => m.name === name);

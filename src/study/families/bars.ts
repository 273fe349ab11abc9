import type { Vec3 } from '../../geometry/vector.js';
import type { StructurePart } from './structure.js';

/** Lowest z and the middle of a part seen from above, mm. */
type Foot = readonly [x: number, y: number, z: number];

interface Named {
  readonly id: string;
  readonly alike?: string;
}

export interface Section {
  readonly width: number;
  readonly height: number;
  readonly wall: number;
}

const ACROSS: Vec3 = [0, 0, 90];

const named = ({ id, alike }: Named): { readonly id: string; readonly alike: string } => ({
  id,
  alike: alike ?? id,
});

const above = ([x, y, z]: Foot, height: number): Vec3 => [x, y, z + height / 2];

/** A bar of hollow section that lies along x. */
export const barAlong = (name: Named, length: number, section: Section, foot: Foot): StructurePart => ({
  ...named(name),
  shape: { 'rectangular-hollow-section': { length, ...section } },
  at: above(foot, section.height),
});

/** A bar of hollow section that lies along y. */
export const barAcross = (name: Named, length: number, section: Section, foot: Foot): StructurePart => ({
  ...barAlong(name, length, section, foot),
  turn: ACROSS,
});

/** A bar along y that fills the room between two others. */
export const barBetween = (name: Named, length: number, section: Section, foot: Foot): StructurePart => ({
  ...barAcross(name, length, section, foot),
  fits: true,
});

/** A plate that lies flat. */
export const plateAt = (name: Named, [length, width, thickness]: Vec3, foot: Foot): StructurePart => ({
  ...named(name),
  shape: { plate: { length, width, thickness } },
  at: above(foot, thickness),
});

/** A solid block. */
export const blockAt = (name: Named, [length, width, height]: Vec3, foot: Foot): StructurePart => ({
  ...named(name),
  shape: { block: { length, width, height } },
  at: above(foot, height),
});

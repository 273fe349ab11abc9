import type { CellFile } from '../../../model/cell-file.js';
import { missesOf, type Trouble } from '../trouble.js';

export type GripperFileOf = CellFile['grippers'][string];

/** Of a gripper with pads in one plane, what its file calls them; undefined for a jaw. */
export function padsOf(
  gripper: GripperFileOf,
):
  | { readonly key: 'magnet' | 'vacuum'; readonly pads: 'pads' | 'cups'; readonly diameter: string }
  | undefined {
  if (gripper.magnet) return { key: 'magnet', pads: 'pads', diameter: 'pad-diameter' };
  if (gripper.vacuum) return { key: 'vacuum', pads: 'cups', diameter: 'cup-diameter' };
  return undefined;
}

/** Grippers that a nearest miss names, in the order of the cell; all of them when none does. */
export function grippersMeant(trouble: Trouble): readonly (readonly [string, GripperFileOf])[] {
  const named = new Set(missesOf(trouble).flatMap(({ subjects }) => subjects));
  const all = Object.entries(trouble.cell.grippers);
  const meant = all.filter(([id]) => named.has(id));
  return meant.length > 0 ? meant : all;
}

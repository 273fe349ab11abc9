import type { Part } from '../model/weldment.js';
import { shapeText } from './inspect-text.js';
import { amount } from './numbers.js';
import { clipped, plain } from './plain.js';

/** What a node of the contact graph says of a part: its name, and its shape and mass. */
export const inspectName = (
  part: Part,
  mass: number,
): { readonly name: string; readonly detail: string } => ({
  name: clipped(plain(part.id), 24),
  detail: `${shapeText(part.shape)}, ${amount(mass, 2)} kg`,
});

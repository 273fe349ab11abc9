import { rounded } from '../base/order.js';
import type { Point } from './svg.js';
import { element } from './xml.js';

/**
 * How the width of a drawing is shared out. A fixed one is in pixels; a free one is in percent, so that the drawing can
 * be made wider without its words growing with it.
 */
export interface Across {
  /** Width in pixels; of a free one, at first. */
  readonly pixels: number;
  /** Where a share of the width lies, from 0 to 1. */
  readonly at: (share: number) => number | string;
  /** How long a share of it is. */
  readonly length: (share: number) => number | string;
}

export const fixedAcross = (left: number, pixels: number): Across => ({
  pixels,
  at: (share) => left + share * pixels,
  length: (share) => share * pixels,
});

const percent = (share: number): string => `${String(rounded(share * 100, 3))}%`;

export const freeAcross = (pixels: number): Across => ({ pixels, at: percent, length: percent });

/** Content drawn about a point of its own, there. */
export const placed = (x: number | string, y: number, ...content: readonly string[]): string =>
  typeof x === 'number'
    ? element('g', { transform: `translate(${rounded(x, 2)} ${rounded(y, 2)})` }, ...content)
    : element('svg', { x, y, overflow: 'visible', width: 1, height: 1 }, ...content);

/** A line whose ends have shares of the width. */
export const lineAcross = (
  { at }: Across,
  [x1, y1]: Point,
  [x2, y2]: Point,
  attributes: Readonly<Record<string, string | number | undefined>>,
): string => element('line', { x1: at(x1), y1, x2: at(x2), y2, ...attributes });

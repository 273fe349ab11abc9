import { rounded } from '../base/order.js';
import { element, escaped, type Attributes } from './xml.js';

/** A coordinate in pixels, to a hundredth. */
export const pixels = (value: number): string => String(rounded(value, 2));

/** A line of text; the words are escaped here. */
export const words = (x: number, y: number, text: string, attributes: Attributes = {}): string =>
  element('text', { x, y, ...attributes }, escaped(text));

export type Point = readonly [number, number];

export const pointList = (points: readonly Point[]): string =>
  points.map(([x, y]) => `${pixels(x)},${pixels(y)}`).join(' ');

export const line = ([x1, y1]: Point, [x2, y2]: Point, attributes: Attributes): string =>
  element('line', { x1, y1, x2, y2, ...attributes });

/** A generous estimate of how wide a text is in the sans-serif font of the pictures, pixels. */
export const textWidth = (text: string, size: number): number => Array.from(text).length * size * 0.58;

/** A whole picture with a title for readers and machines, on a plain ground. */
export const picture = (
  [width, height]: Point,
  title: string,
  ground: string,
  content: readonly string[],
): string =>
  `<?xml version="1.0" encoding="UTF-8"?>\n${element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${pixels(width)} ${pixels(height)}`,
      width,
      height,
      role: 'img',
      style: 'max-width: 100%; height: auto',
      'font-family': 'Helvetica, Arial, sans-serif',
    },
    `${element('title', {}, escaped(title))}\n`,
    `${element('rect', { width, height, fill: ground })}\n`,
    ...content.map((piece) => `${piece}\n`),
  )}\n`;

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

/** Tenths of a pixel as pixels, without the zero that nobody needs. */
const tenths = (value: number): string => String(value / 10).replace(/^(-?)0\./, '$1.');

/**
 * Points as a path, to a tenth of a pixel, each told from the one before: about half as long as a list of points. What is
 * left out in rounding does not add up.
 */
export function pathOf(points: readonly Point[], closed: boolean): string {
  const [first, ...others] = points.map(([x, y]) => [Math.round(x * 10), Math.round(y * 10)] as const);
  let [x, y] = first!;
  const steps = others.map(([nextX, nextY]) => {
    const [dx, dy] = [nextX - x, nextY - y];
    [x, y] = [nextX, nextY];
    if (dx === 0) return dy === 0 ? '' : `v${tenths(dy)}`;
    return dy === 0 ? `h${tenths(dx)}` : `l${tenths(dx)}${dy < 0 ? '' : ' '}${tenths(dy)}`;
  });
  return `M${tenths(first![0])} ${tenths(first![1])}${steps.join('')}${closed ? 'z' : ''}`;
}

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

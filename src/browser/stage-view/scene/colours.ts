import { Color } from 'three';

/** The colours of the style sheet that the view draws with. */
const NAMES = [
  'ground',
  'ink',
  'faint',
  'rule',
  'accent',
  'held',
  'arc',
  'wait',
  'part',
  'newcomer',
] as const;
export type Colours = Readonly<Record<(typeof NAMES)[number], Color>>;

/** As they are now, by day or by night. */
export function coloursOf(element: Element): Colours {
  const style = getComputedStyle(element);
  return Object.fromEntries(
    NAMES.map((name) => [name, new Color(style.getPropertyValue(`--${name}`).trim() || '#808080')]),
  ) as Record<(typeof NAMES)[number], Color>;
}

/** `share` of the one, the rest of the other. */
export const mixed = (one: Color, other: Color, share: number): Color => other.clone().lerp(one, share);

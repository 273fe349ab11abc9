import { PALETTE, PAPER } from './palette.js';
import { element, escaped, type Attributes } from './xml.js';

/** A face of its tone; a thin line of the same closes the gap to its neighbours that a screen would show. */
const face = (fill: string): Attributes => ({ fill, stroke: fill, 'stroke-width': 0.7 });

/**
 * How each kind of mark in a drawing looks in a file of its own: black on white, so that it prints. On a page the same
 * marks have classes instead, see `src/browser/charts.css`, which follow light and dark.
 */
const ROLES = {
  word: { fill: PAPER.ink },
  strong: { fill: PAPER.ink, 'font-weight': 'bold' },
  small: { fill: PAPER.faint },
  rule: { stroke: PAPER.rule, 'stroke-width': 1, fill: 'none' },
  axis: { stroke: PAPER.ink, 'stroke-width': 1.2, fill: 'none' },
  band: { fill: PAPER.band },
  'other-band': { fill: PAPER.ground, stroke: PAPER.rule },
  // Boxes of the timeline; the groups have patterns or outlines of their own beside their tone.
  carry: { fill: PAPER.carry, stroke: PAPER.line, 'stroke-width': 1 },
  change: { fill: PAPER.carry, stroke: PAPER.line, 'stroke-width': 1 },
  secure: { fill: PAPER.secure, stroke: PAPER.line, 'stroke-width': 1 },
  release: { fill: PAPER.release, stroke: PAPER.line, 'stroke-width': 1 },
  tack: { fill: PAPER.tack, stroke: PAPER.line, 'stroke-width': 1 },
  other: { fill: PAPER.ground, stroke: PAPER.line, 'stroke-width': 1 },
  wait: { fill: PAPER.ground, stroke: PAPER.faint, 'stroke-width': 1, 'stroke-dasharray': '3 3' },
  hatch: { stroke: PAPER.hatch, 'stroke-width': 1.6, fill: 'none' },
  critical: { stroke: PAPER.ink, 'stroke-width': 3, fill: 'none' },
  hold: { fill: PAPER.hold },
  ahead: { fill: 'none', stroke: PAPER.good, 'stroke-width': 2, 'stroke-dasharray': '1 3' },
  arrow: { stroke: PAPER.blue, 'stroke-width': 1.8, fill: 'none' },
  'arrow-head': { fill: PAPER.blue },
  halo: { fill: PAPER.ground },
  // Charts.
  bar: { fill: PAPER.bar, stroke: PAPER.blue, 'stroke-width': 1.2 },
  mark: { fill: PAPER.blue },
  link: { stroke: PAPER.blue, 'stroke-width': 1.4, fill: 'none' },
  beyond: { fill: PAPER.red },
  limit: { stroke: PAPER.red, 'stroke-width': 2, 'stroke-dasharray': '7 4', fill: 'none' },
  edge: { stroke: PAPER.ink, 'stroke-width': 2, fill: 'none' },
  own: { stroke: PAPER.ink, 'stroke-width': 2.4, fill: 'none' },
  // The graph.
  part: { fill: PAPER.carry, stroke: PAPER.ink, 'stroke-width': 1.6 },
  base: { fill: PAPER.base, stroke: PAPER.ink, 'stroke-width': 1.6 },
  inner: { fill: 'none', stroke: PAPER.ink, 'stroke-width': 1 },
  bearing: { stroke: PAPER.blue, 'stroke-width': 3, fill: 'none' },
  adjacent: { stroke: PAPER.blue, 'stroke-width': 2.2, 'stroke-dasharray': '8 6', fill: 'none' },
  apart: { stroke: PAPER.red, 'stroke-width': 2, 'stroke-dasharray': '2 5', fill: 'none' },
  plate: { fill: PAPER.ground, stroke: PAPER.red, 'stroke-width': 1.4 },
  // Pictures of parts: faces by their tone, darkest first, of parts in place and of the newcomer, and their sides.
  'face-0': face(PALETTE.part[0]),
  'face-1': face(PALETTE.part[1]),
  'face-2': face(PALETTE.part[2]),
  'new-0': face(PALETTE.newcomer[0]),
  'new-1': face(PALETTE.newcomer[1]),
  'new-2': face(PALETTE.newcomer[2]),
  side: { fill: 'none', stroke: PALETTE.ink, 'stroke-width': 1, 'stroke-linecap': 'round' },
  'new-side': { fill: 'none', stroke: PALETTE.ink, 'stroke-width': 2.4, 'stroke-linecap': 'round' },
} as const satisfies Readonly<Record<string, Attributes>>;

/** What a mark in a drawing stands for. */
export type Role = keyof typeof ROLES;

export const ALL_ROLES = Object.keys(ROLES) as readonly Role[];

/** Where a drawing is for. */
export interface Theme {
  readonly paint: (role: Role) => Attributes;
  /**
   * What its marks are beside their looks: `picked`: they can be picked; `told`: they have names and the numbers behind
   * them; `seen`: neither, as where a drawing stands a second time on a page, for printing.
   */
  readonly marks: 'picked' | 'told' | 'seen';
}

/** A picture in a file of its own. */
export const ON_PAPER: Theme = { paint: (role) => ROLES[role], marks: 'told' };

/** A drawing inside a page, whose marks can be picked. */
export const ON_PAGE: Theme = { paint: (role) => ({ class: `r-${role}` }), marks: 'picked' };

/** A drawing inside a page that is only looked at, as where it stands a second time for printing. */
export const ON_PAGE_STILL: Theme = { ...ON_PAGE, marks: 'seen' };

/**
 * What makes a mark one that can be picked; nothing where the drawing has none. The script of the page makes a button of it,
 * since without the script it is none. Its `title`, which must be there, is what it is called: a label beside it would have
 * to repeat the words in the drawing.
 */
export function picking({ marks }: Theme, pick: string | undefined, at?: number | undefined): Attributes {
  if (marks !== 'picked' || pick === undefined) return {};
  return { 'data-pick': pick, 'data-at': at === undefined ? undefined : String(at) };
}

/** A mark with its name and the numbers behind it, as far as the drawing has them. */
export const mark = (
  { marks }: Theme,
  name: string,
  attributes: Attributes,
  ...content: readonly string[]
): string =>
  marks === 'seen'
    ? content.join('')
    : element('g', attributes, element('title', {}, escaped(name)), ...content);

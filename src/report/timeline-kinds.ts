/** Activities that look alike in a timeline. */
export type ActivityGroup = 'carry' | 'change' | 'secure' | 'release' | 'tack' | 'wait' | 'other';

/** How a kind of activity is shown. */
export interface ActivityKind {
  /** One letter or sign. */
  readonly mark: string;
  /** Where there is little room. */
  readonly short: string;
  readonly group: ActivityGroup;
}

const kind = (mark: string, group: ActivityGroup, short: string): ActivityKind => ({ mark, group, short });

/** Every kind of activity that the planner knows, in the order in which a legend tells them. */
export const ACTIVITY_KINDS: ReadonlyMap<string, ActivityKind> = new Map([
  ['fetch', kind('f', 'carry', 'fetch')],
  ['regrip', kind('r', 'change', 'regrip')],
  ['locate', kind('d', 'change', 'locate')],
  ['tool change', kind('x', 'change', 'change')],
  ['bring', kind('b', 'carry', 'bring')],
  ['take hold', kind('h', 'carry', 'hold')],
  ['set by hand', kind('m', 'other', 'hand')],
  ['seat', kind('e', 'secure', 'seat')],
  ['clamp', kind('c', 'secure', 'clamp')],
  ['settle', kind('s', 'secure', 'still')],
  ['let go and retreat', kind('l', 'release', 'let go')],
  ['cool', kind('k', 'secure', 'cool')],
  ['proof pull', kind('p', 'secure', 'pull')],
  ['seam search', kind('q', 'tack', 'search')],
  ['tack', kind('#', 'tack', 'tack')],
  ['turn the table', kind('t', 'change', 'turn')],
  ['clean the nozzle', kind('n', 'other', 'clean')],
  ['check the earth path', kind('g', 'other', 'earth')],
  ['hand over', kind('v', 'release', 'over')],
  ['wait', kind('.', 'wait', 'wait')],
]);

const OTHER: ActivityKind = { mark: 'o', short: 'other', group: 'other' };

/** The kind of an activity; those that the planner does not know share one. */
export const kindOf = (what: string): ActivityKind => ACTIVITY_KINDS.get(what) ?? OTHER;

/** About how wide a letter of a label is, pixels. */
const LETTER = 7;
const SIDES = 8;

/** The longest label of an activity that has room in so many pixels; empty where none has. */
export function fittingLabel(what: string, seconds: number, pixels: number): string {
  const { short, mark } = kindOf(what);
  const known = ACTIVITY_KINDS.has(what) ? [what, short] : [short];
  const [longest] = known as [string, ...string[]];
  const told = [`${longest} ${String(Math.round(seconds * 10) / 10)} s`, ...known, mark];
  return told.find((label) => label.length * LETTER + SIDES <= pixels) ?? '';
}

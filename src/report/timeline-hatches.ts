import type { Theme } from './theme.js';
import type { ActivityGroup } from './timeline-kinds.js';
import { element } from './xml.js';

/** Strokes in a square of 8 pixels, by the groups that have a pattern: what tells them apart without colour. */
const STROKES: Readonly<Partial<Record<ActivityGroup, string>>> = {
  tack: 'M -2 10 L 10 -2 M -2 2 L 2 -2 M 6 10 L 10 6',
  secure: 'M 0 4 L 8 4',
  change: 'M 4 0 L 4 8',
  release: 'M 2 2 L 3.4 3.4 M 6 6 L 7.4 7.4',
};

/** Strength of a pattern, so that words on it can be read. */
const OPACITY = 0.28;

/** What the pattern of a group is called in a drawing; undefined where the group has none. */
export const hatchId = (group: ActivityGroup, id: string): string | undefined =>
  STROKES[group] === undefined ? undefined : `${id}-${group}`;

/** The patterns themselves. */
export const hatches = (id: string, theme: Theme): string =>
  element(
    'defs',
    {},
    ...Object.entries(STROKES).map(([group, d]) =>
      element(
        'pattern',
        { id: `${id}-${group}`, width: 8, height: 8, patternUnits: 'userSpaceOnUse' },
        element('path', { d, ...theme.paint('hatch'), opacity: OPACITY }),
      ),
    ),
  );

import type { Across } from './across.js';
import { amount } from './numbers.js';
import type { Theme } from './theme.js';
import type { Lanes, Span } from './timeline-lanes.js';

/** The part of a timeline that one drawing shows, and how. */
export interface TimelineView {
  readonly lanes: Lanes;
  /** Seconds. */
  readonly window: Span;
  readonly across: Across;
  readonly theme: Theme;
  /** What its patterns are called; different for every drawing on a page. */
  readonly id: string;
  /** Name of the part of a stage. */
  readonly partOf: (stage: number) => string;
}

/** Seconds with the tenths that are there. */
export const secondsText = (seconds: number): string => `${amount(seconds, 1)} s`;

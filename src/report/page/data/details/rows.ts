import type { PageDetail } from '../../page-data.js';
import { amount } from '../../../numbers.js';

export type Row = PageDetail['rows'][number];

/** A row, or none where there is nothing to say. */
export const row = (label: string, text: string | undefined): readonly Row[] =>
  text === undefined || text === '' ? [] : [[label, text]];

/** From when to when, in seconds of the clock. */
export const timeText = ({ start, end }: { readonly start: number; readonly end: number }): string =>
  start === end ? `at ${amount(start, 1)} s` : `${amount(start, 1)} to ${amount(end, 1)} s`;

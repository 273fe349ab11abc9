import type { Random } from '../../base/random.js';

/** Lines along x with bays between them, cut into slots by columns; around the origin, mm. */
export interface BayGrid {
  readonly lines: number;
  readonly bays: number;
  readonly columns: number;
  /** From the face of one line to that of the next. */
  readonly gap: number;
  readonly pitch: number;
  readonly length: number;
  /** Over the outer faces of the outer lines. */
  readonly width: number;
  lineY(line: number): number;
  bayY(bay: number): number;
  columnX(column: number): number;
}

/** A place between two lines: bay and column, from 0. */
export interface Slot {
  readonly bay: number;
  readonly column: number;
}

/** How many lines keep a weldment about as wide as it is long. */
export const linesFor = (parts: number): number => Math.max(2, Math.round(Math.sqrt(parts / 1.9)));

/** One of a few sizes. */
export const oneOf = (random: Random, sizes: readonly number[]): number =>
  sizes[Math.floor(random() * sizes.length)]!;

/** Lengths in mm. */
export interface GridSizes {
  /** Width of a line. */
  readonly line: number;
  /** From face to face. */
  readonly gap: number;
  /** From column to column. */
  readonly pitch: number;
  /** From the last column to the ends of the lines; default: the pitch. */
  readonly end?: number | undefined;
}

/** Sizes drawn from a few for each. */
export const drawnGrid = (
  line: number,
  of: {
    readonly gaps: readonly number[];
    readonly pitches: readonly number[];
    readonly end: number | undefined;
  },
  random: Random,
): GridSizes => ({ line, gap: oneOf(random, of.gaps), pitch: oneOf(random, of.pitches), end: of.end });

/** @param slots how many places are needed at least */
export function bayGrid(lines: number, slots: number, { line, gap, pitch, end = pitch }: GridSizes): BayGrid {
  const bays = lines - 1;
  const columns = Math.ceil(slots / bays);
  const width = lines * line + bays * gap;
  const lineY = (i: number): number => i * (line + gap) - (width - line) / 2;
  return {
    lines,
    bays,
    columns,
    gap,
    pitch,
    length: (columns - 1) * pitch + 2 * end,
    width,
    lineY,
    bayY: (bay) => lineY(bay) + (line + gap) / 2,
    columnX: (column) => (column - (columns - 1) / 2) * pitch,
  };
}

/** The first slots, column by column. */
export const slotsOf = ({ bays }: BayGrid, count: number): readonly Slot[] =>
  Array.from({ length: count }, (_, i) => ({ bay: i % bays, column: Math.floor(i / bays) }));

/** Slots of a bay, in the order of the columns. */
export const slotsInBay = (slots: readonly Slot[], bay: number): readonly Slot[] =>
  slots.filter((slot) => slot.bay === bay);

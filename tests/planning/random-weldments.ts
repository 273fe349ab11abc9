import fc from 'fast-check';
import { example, type Files, type JointEntry, type PartEntry } from '../support/planned.js';

/** What stands at one end of the base, far enough from the other for the torch; none leaves it empty. */
type Standing = 'none' | 'wall' | 'block' | 'bar';

/** Parts on a base plate: one at each end, lids on blocks, a pad flat in the middle: two to six parts. */
export interface Row {
  readonly left: Standing;
  readonly right: Standing;
  /** Height of walls, mm. */
  readonly height: number;
  readonly lids: boolean;
  /** Thickness of the pad, mm; a thin one leaves its magnet too near the arc. Zero for none. */
  readonly pad: 0 | 14 | 24 | 30;
  /** Whether the base must come first; otherwise the order is free. */
  readonly baseFirst: boolean;
  /** Moves every part along the row, mm. */
  readonly shift: number;
}

const TOP = 10;

function partOf(kind: Exclude<Standing, 'none'>, x: number, height: number): PartEntry {
  switch (kind) {
    case 'wall':
      return {
        plate: { length: height, width: 150, thickness: 8 },
        at: [x, 0, TOP + height / 2],
        turn: [0, 90, 0],
      };
    case 'block':
      return { block: { length: 56, width: 90, height: 80 }, at: [x, 0, TOP + 40] };
    case 'bar':
      return { block: { length: 30, width: 160, height: 60 }, at: [x, 0, TOP + 30] };
  }
}

/** The files of a row in the cell of the examples. */
export function rowFiles({ left, right, height, lids, pad, baseFirst, shift }: Row): Files {
  const parts: Record<string, PartEntry> = {
    base: { plate: { length: 320, width: 200, thickness: TOP }, at: [shift, 0, TOP / 2] },
  };
  const joints: JointEntry[] = [];
  const add = (id: string, under: string, part: PartEntry): void => {
    parts[id] = part;
    joints.push({ between: [under, id], type: 'fillet', leg: 4, sides: 'both' });
  };
  const ends = [
    ['left', left, shift - 100],
    ['right', right, shift + 100],
  ] as const;
  for (const [end, kind, x] of ends) {
    if (kind !== 'none') add(end, 'base', partOf(kind, x, height));
    if (kind === 'block' && lids)
      add(`lid-${end}`, end, { block: { length: 56, width: 70, height: 40 }, at: [x, 0, TOP + 100] });
  }
  if (pad > 0)
    add('pad', 'base', {
      plate: { length: 70, width: 90, thickness: pad },
      at: [shift, 0, TOP + pad / 2],
    });
  return {
    cell: example('roller-stand').cell,
    weldment: {
      ...{ weldment: 'row', units: 'mm kg N s deg', parts, joints },
      ...(baseFirst ? { first: 'base' } : {}),
    },
  };
}

const anyStanding = (): fc.Arbitrary<Standing> => fc.constantFrom('none', 'wall', 'block', 'bar');

/** Rows of at least two parts. */
export const anyRow = (): fc.Arbitrary<Row> =>
  fc
    .record({
      left: anyStanding(),
      right: anyStanding(),
      height: fc.integer({ min: 100, max: 200 }),
      lids: fc.boolean(),
      pad: fc.constantFrom(0, 14, 24, 30),
      baseFirst: fc.boolean(),
      shift: fc.integer({ min: -20, max: 20 }),
    })
    .filter(({ left, right, pad }) => left !== 'none' || right !== 'none' || pad > 0);

import fc from 'fast-check';
import { example, type Files, type JointEntry, type PartEntry } from '../support/planned.js';

/** What stands in one place of the row on the base; none leaves it empty. */
type Standing = 'none' | 'wall' | 'block' | 'bar';

/** A row of parts on a base plate, perhaps with a lid on the first block: two to five parts. */
export interface Row {
  readonly standing: readonly [Standing, Standing, Standing];
  readonly height: number;
  readonly lid: boolean;
  /** Whether the base must come first; otherwise the order is free. */
  readonly baseFirst: boolean;
  /** Moves every part along the row, mm. */
  readonly shift: number;
}

const PITCH = 80;
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
      return { block: { length: PITCH, width: 90, height: 60 }, at: [x, 0, TOP + 30] };
    case 'bar':
      return { block: { length: 30, width: 160, height: 30 }, at: [x, 0, TOP + 15] };
  }
}

/** The files of a row in the cell of the examples. Neighbouring blocks touch, so they are joined as well. */
export function rowFiles({ standing, height, lid, baseFirst, shift }: Row): Files {
  const parts: Record<string, PartEntry> = {
    base: { plate: { length: 320, width: 200, thickness: TOP }, at: [shift, 0, TOP / 2] },
  };
  const joints: JointEntry[] = [];
  const join = (a: string, b: string): void => {
    joints.push({ between: [a, b], type: 'fillet', leg: 4, sides: 'both' });
  };
  standing.forEach((kind, i) => {
    if (kind === 'none') return;
    parts[`p${i}`] = partOf(kind, shift + (i - 1) * PITCH, height);
    join('base', `p${i}`);
    if (kind === 'block' && standing[i - 1] === 'block') join(`p${i - 1}`, `p${i}`);
  });
  const under = standing.indexOf('block');
  if (lid && under >= 0) {
    const at: PartEntry['at'] = [shift + (under - 1) * PITCH, 0, TOP + 65];
    parts['lid'] = { plate: { length: 60, width: 70, thickness: 10 }, at };
    join(`p${under}`, 'lid');
  }
  return {
    cell: example('roller-stand').cell,
    weldment: {
      ...{ weldment: 'row', units: 'mm kg N s deg', parts, joints },
      ...(baseFirst ? { first: 'base' } : {}),
    },
  };
}

/** At least one part stands on the base; fewer walls than blocks and bars, which a tack or two already secure. */
export const anyRow = (): fc.Arbitrary<Row> =>
  fc
    .record({
      standing: fc.tuple(anyStanding(), anyStanding(), anyStanding()),
      height: fc.integer({ min: 100, max: 200 }),
      lid: fc.boolean(),
      baseFirst: fc.boolean(),
      shift: fc.integer({ min: -20, max: 20 }),
    })
    .filter(({ standing }) => standing.some((kind) => kind !== 'none'));

const anyStanding = (): fc.Arbitrary<Standing> => fc.constantFrom('none', 'wall', 'block', 'bar');

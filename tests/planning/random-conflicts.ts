import fc from 'fast-check';
import { example, type Files, type JointEntry, type PartEntry } from '../support/planned.js';

/** A few blocks on a base, some so placed, heavy, joined or ordered that there is no plan. */
export interface Clash {
  readonly parts: number;
  /** Pairs of places of which the first needs the second, or is blocked by it; 0 is the base. */
  readonly needs: readonly (readonly [number, number])[];
  readonly blocking: readonly (readonly [number, number])[];
  readonly first: number | undefined;
  /** Places of parts without a joint. */
  readonly loose: readonly number[];
  /** Places of parts with a roof over them that is joined to the base beside it. */
  readonly roofed: boolean;
  /** How far from the robots everything is moved along y, mm. */
  readonly away: number;
  /** Height of the blocks, mm; a low one leaves the torch or the magnet no room. */
  readonly height: number;
}

const idOf = (place: number): string => (place === 0 ? 'base' : `p${place}`);

export function clashFiles({ parts, needs, blocking, first, loose, roofed, away, height }: Clash): Files {
  const entries: Record<string, PartEntry> = {
    base: { plate: { length: 320, width: 200, thickness: 10 }, at: [0, away, 5] },
  };
  const joints: JointEntry[] = [];
  const add = (id: string, under: string, part: PartEntry, joined: boolean): void => {
    entries[id] = part;
    if (joined) joints.push({ between: [under, id], type: 'fillet', leg: 4, sides: 'both' });
  };
  for (let place = 1; place < parts; place += 1)
    add(
      idOf(place),
      'base',
      {
        block: { length: 50, width: 80, height },
        at: [110 * (place - 2), away, 10 + height / 2],
      },
      !loose.includes(place),
    );
  if (roofed)
    add(
      'roof',
      'p1',
      {
        plate: { length: 120, width: 120, thickness: 10 },
        at: [-110, away, 10 + height + 5],
      },
      true,
    );
  const rows = (pairs: readonly (readonly [number, number])[]) =>
    pairs.filter(([p, q]) => p !== q && p < parts && q < parts);
  return {
    cell: example('roller-stand').cell,
    weldment: {
      ...{ weldment: 'clash', units: 'mm kg N s deg', parts: entries, joints },
      needs: rows(needs).map(([p, q]) => ({ part: idOf(p), after: [idOf(q)] })),
      blocking: rows(blocking).map(([p, q]) => ({ part: idOf(p), by: [idOf(q)] })),
      ...(first === undefined || first >= parts ? {} : { first: idOf(first) }),
    },
  };
}

const pair = (): fc.Arbitrary<readonly [number, number]> =>
  fc.tuple(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 3 }));

export const anyClash = (): fc.Arbitrary<Clash> =>
  fc.record({
    parts: fc.integer({ min: 2, max: 4 }),
    needs: fc.array(pair(), { maxLength: 3 }),
    blocking: fc.array(pair(), { maxLength: 3 }),
    first: fc.constantFrom(undefined, 0, 1, 2),
    loose: fc.constantFrom([], [], [1], [2, 3]),
    roofed: fc.boolean(),
    away: fc.constantFrom(0, 0, 0, 700, 1500),
    height: fc.constantFrom(18, 40, 70),
  });

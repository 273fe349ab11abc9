import fc from 'fast-check';
import { example, type Files, type JointEntry, type PartEntry } from '../support/planned.js';

/** A base plate with an upright plate on it and one or two parts more: three or four parts, planned in about a second. */
export interface StandSizes {
  readonly height: number;
  readonly aside: number;
  readonly extras: readonly ('gusset' | 'saddle' | 'second')[];
}

const upright = (at: number, height: number): PartEntry => ({
  plate: { length: height, width: 180, thickness: 8 },
  at: [at, 0, 10 + height / 2],
  turn: [0, 90, 0],
});

const EXTRAS: Record<
  StandSizes['extras'][number],
  (sizes: StandSizes) => { part: PartEntry; joints: JointEntry[] }
> = {
  gusset: ({ aside }) => ({
    part: {
      plate: { length: 60, width: 140, thickness: 8 },
      at: [-aside - 34, 0, 80],
      turn: [-90, 0, 0],
    },
    joints: [
      { between: ['base', 'gusset'], type: 'fillet', leg: 4, sides: 'both' },
      { between: ['cheek', 'gusset'], type: 'fillet', leg: 4, sides: 'both' },
    ],
  }),
  saddle: ({ aside, height }) => ({
    part: { plate: { length: 60, width: 140, thickness: 12 }, at: [-aside, 0, 16 + height] },
    joints: [{ between: ['cheek', 'saddle'], type: 'fillet', leg: 4, sides: 'both' }],
  }),
  second: ({ aside, height }) => ({
    part: upright(aside, height),
    joints: [{ between: ['base', 'second'], type: 'fillet', leg: 5, sides: 'both' }],
  }),
};

/** The files of a small stand in the cell of the examples. */
export function stand(sizes: StandSizes): Files {
  const extras = sizes.extras.map((name) => [name, EXTRAS[name](sizes)] as const);
  return {
    cell: example('roller-stand').cell,
    weldment: {
      weldment: 'small-stand',
      units: 'mm kg N s deg',
      parts: {
        base: { plate: { length: 320, width: 220, thickness: 10 }, at: [0, 0, 5] },
        cheek: upright(-sizes.aside, sizes.height),
        ...Object.fromEntries(extras.map(([name, { part }]) => [name, part])),
      },
      joints: [
        { between: ['base', 'cheek'], type: 'fillet', leg: 5, sides: 'both' },
        ...extras.flatMap(([, { joints }]) => joints),
      ],
      first: 'base',
    },
  };
}

/** One of each kind at fixed sizes. */
export const PLAIN_STANDS: readonly StandSizes[] = [
  { height: 200, aside: 90, extras: ['gusset'] },
  { height: 180, aside: 85, extras: ['saddle'] },
  { height: 200, aside: 90, extras: ['gusset', 'saddle'] },
];

export const anyStand = (): fc.Arbitrary<StandSizes> =>
  fc.record({
    height: fc.integer({ min: 170, max: 220 }),
    aside: fc.integer({ min: 80, max: 95 }),
    extras: fc.constantFrom<StandSizes['extras'][]>(['gusset'], ['saddle'], ['second'], ['gusset', 'saddle']),
  });

/** A place on the floor, in whole and broken millimetres. */
export const anyShift = (): fc.Arbitrary<[number, number, number]> =>
  fc.tuple(
    fc.integer({ min: -30000, max: 30000 }).map((tenths) => tenths / 10),
    fc.integer({ min: -30000, max: 30000 }).map((tenths) => tenths / 10),
    fc.integer({ min: -3000, max: 3000 }).map((tenths) => tenths / 10),
  );

import { UNITS } from '../../model/scalars.js';
import { GRIPPERS } from './grippers.js';
import type { Family, Structure, StructurePart } from './structure.js';

/** How far the table stays inside what lies on it, mm: a wrist beside it can go below its top. */
const TABLE_MARGIN = 20;

/** Seven lengths and the limits of an arm of about 2.6 m reach. No robot that exists is meant. */
const ARM = {
  a1: 340,
  a2: -45,
  b: 0,
  c1: 780,
  c2: 1080,
  c3: 1130,
  c4: 180,
  offsets: [0, 0, -90, 0, 0, 0],
  limits: [
    [-175, 175],
    [-95, 110],
    [-130, 80],
    [-200, 200],
    [-125, 125],
    [-355, 355],
  ],
  speeds: [110, 105, 110, 190, 190, 270],
  accelerations: [330, 315, 330, 660, 660, 900],
};

const LINKS = { column: 140, 'upper-arm': 125, forearm: 95, wrist: 60 };

/** Extent along x and y of a part in the weldment frame; bars are turned by quarters only. */
function extent({ shape, turn }: StructurePart): readonly [number, number] {
  const { length, width } = Object.values(shape)[0] as { readonly length: number; readonly width: number };
  return turn === undefined ? [length, width] : [width, length];
}

/** Size over all along x and y, mm. */
function footprint({ parts }: Structure): readonly [number, number] {
  const over = (axis: 0 | 1): number =>
    2 * Math.max(...parts.map((part) => Math.abs(part.at[axis]) + extent(part)[axis] / 2));
  return [over(0), over(1)];
}

/**
 * A cell for a weldment of a family: two long arms at a bench with a table of its size, magnets for bars and large plates
 * and for small parts. Larger weldments may be out of reach in part.
 */
export function generateCell(name: string, structure: Structure, grippers: Family['grippers']): object {
  const [length, width] = footprint(structure);
  return {
    cell: `${name}-bench`,
    units: UNITS,
    robots: {
      handler: {
        duty: 'handle',
        at: [-1650, 0, 0],
        arm: ARM,
        home: [0, -35, 25, 0, 100, 0],
        links: LINKS,
        payload: { mass: 160, moment: 900_000 },
      },
      welder: {
        duty: 'weld',
        at: [1650, 0, 0],
        turn: [0, 0, 180],
        arm: ARM,
        home: [0, -45, 25, 0, 65, 0],
        links: LINKS,
        torch: 'long-torch',
      },
    },
    grippers: Object.fromEntries(grippers.map((kind) => [kind, GRIPPERS[kind]])),
    torches: { 'long-torch': { length: 420, offset: 80, bend: 45, 'body-length': 110, 'body-radius': 22 } },
    stations: {
      infeed: { at: [-1650, -1300, 400], accuracy: 0.3 },
      regrip: { at: [-1650, 1300, 400], size: [900, 180], accuracy: 0.3 },
      table: {
        at: [0, 0, 600],
        size: [width - 2 * TABLE_MARGIN, length - 2 * TABLE_MARGIN],
        friction: 0.2,
        'weldment-turn': 90,
        'first-part': { clamp: 'table-magnets', force: 4000 },
      },
    },
    process: { current: 210, voltage: 24, speed: 8, arc: 'mag' },
  };
}

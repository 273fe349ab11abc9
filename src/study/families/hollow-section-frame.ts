import { barAcross, barAlong, barBetween, plateAt } from './bars.js';
import {
  bayGrid,
  drawnGrid,
  linesFor,
  oneOf,
  slotsInBay,
  slotsOf,
  type BayGrid,
  type Slot,
} from './bay-grid.js';
import { topSeam } from './seam-sides.js';
import type { Family, Form, Structure, StructureBlock, StructureJoint, StructurePart } from './structure.js';

/**
 * In mm; of lists the seed draws one. With shapes, a bay has room for a torch beside the gripper that holds a cross member,
 * and thicker walls need fewer tacks.
 */
const SIZES = {
  abstract: {
    grid: { gaps: [150, 160, 170], pitches: [170, 180], end: undefined },
    ...{ heights: [70, 80], railWall: 5, cross: { width: 60, height: 60, wall: 4 } },
    ...{ upper: { width: 40, height: 40, wall: 4 }, mount: { along: 110, across: 60, thickness: 8 } },
  },
  geometric: {
    grid: { gaps: [280, 290, 300], pitches: [200, 210], end: 100 },
    ...{ heights: [80, 90], railWall: 6, cross: { width: 60, height: 70, wall: 5 } },
    ...{ upper: { width: 50, height: 50, wall: 5 }, mount: { along: 130, across: 60, thickness: 8 } },
  },
} as const;
const RAIL = 80;

/** What is neither rail, upper bar nor mounting plate is a cross member. */
interface Counts {
  readonly rails: number;
  readonly crosses: number;
  readonly uppers: number;
  readonly mounts: number;
}

function countsFor(parts: number): Counts {
  const rails = linesFor(parts);
  const rest = parts - rails;
  const crosses = Math.max(rails - 1, Math.ceil(rest * 0.6));
  const columns = Math.ceil(crosses / (rails - 1));
  const uppers = Math.min(Math.floor(rest / 6), Math.floor(columns / 2));
  return { rails, crosses, uppers, mounts: rest - crosses - uppers };
}

interface Layout {
  readonly sizes: (typeof SIZES)[Form];
  readonly grid: BayGrid;
  readonly height: number;
  readonly crosses: readonly Slot[];
  /** Columns over which an upper bar lies. */
  readonly uppers: readonly number[];
  /** Rail and place along it, in half columns. */
  readonly mounts: readonly { readonly rail: number; readonly place: number }[];
}

const railId = (line: number): string => `rail-${line + 1}`;
const crossId = ({ bay, column }: Slot): string => `cross-${bay + 1}-${column + 1}`;
const upperId = (i: number): string => `upper-${i + 1}`;
const mountId = ({ rail, place }: Layout['mounts'][number]): string => `mount-${rail + 1}-${place + 1}`;

/** Cross members of a bay are alike, but those that an upper bar covers have no other like them. */
const crossAlike = ({ uppers }: Layout, slot: Slot): string =>
  uppers.includes(slot.column) ? crossId(slot) : `crosses-${slot.bay + 1}`;

/** Every second column from the second on, so that torches get between upper bars. */
const upperColumns = (count: number): readonly number[] => Array.from({ length: count }, (_, i) => 2 * i + 1);

function partsOf(layout: Layout): StructurePart[] {
  const { sizes, grid, height, uppers } = layout;
  const { along, across, thickness } = sizes.mount;
  const rail = (line: number): StructurePart =>
    barAlong({ id: railId(line) }, grid.length, { width: RAIL, height, wall: sizes.railWall }, [
      0,
      grid.lineY(line),
      0,
    ]);
  const crossesIn = (bay: number): StructurePart[] =>
    slotsInBay(layout.crosses, bay).map((slot) =>
      barBetween({ id: crossId(slot), alike: crossAlike(layout, slot) }, grid.gap, sizes.cross, [
        grid.columnX(slot.column),
        grid.bayY(bay),
        0,
      ]),
    );
  return [
    rail(0),
    ...Array.from({ length: grid.bays }, (_, bay) => [...crossesIn(bay), rail(bay + 1)]).flat(),
    ...uppers.map((column, i) =>
      barAcross({ id: upperId(i) }, grid.width - 20, sizes.upper, [grid.columnX(column), 0, height]),
    ),
    ...layout.mounts.map((mount) =>
      plateAt(
        { id: mountId(mount), alike: `mounts-${mount.rail + 1}` },
        [along, across, thickness],
        [grid.columnX(mount.place - 0.5), grid.lineY(mount.rail), height],
      ),
    ),
  ];
}

/** With shapes, cross members have their seams on a rail across the top: between two no torch gets to an upright corner. */
function jointsOf({ sizes, grid, crosses, uppers, mounts }: Layout, form: Form): StructureJoint[] {
  const joint = (a: string, b: string, type: 'fillet' | 'lap', seam: number): StructureJoint => ({
    between: [a, b],
    type,
    sides: 'both',
    seam,
  });
  return [
    ...crosses.flatMap((slot) =>
      [slot.bay, slot.bay + 1].map((line, side) => ({
        ...joint(railId(line), crossId(slot), 'fillet', sizes.cross.height),
        ...(form === 'geometric' && topSeam(side)),
      })),
    ),
    ...uppers.flatMap((_, i) =>
      Array.from({ length: grid.lines }, (_rail, line) => joint(railId(line), upperId(i), 'fillet', RAIL)),
    ),
    ...mounts.map((mount) => joint(railId(mount.rail), mountId(mount), 'lap', sizes.mount.along)),
  ];
}

/** Cross members come before the rail that closes their bay and the upper bar above them; uppers before mounts beside them. */
function blocksOf(layout: Layout): StructureBlock[] {
  const closing = layout.crosses.map((slot) => ({
    alike: crossAlike(layout, slot),
    by: railId(slot.bay + 1),
  }));
  const covering = layout.crosses.flatMap((slot) => {
    const upper = layout.uppers.indexOf(slot.column);
    return upper < 0 ? [] : [{ alike: crossId(slot), by: upperId(upper) }];
  });
  const ending = layout.uppers.slice(0, -1).map((_, i) => ({ alike: upperId(i), by: upperId(i + 1) }));
  return [
    ...new Map(
      [...closing, ...covering, ...ending].map((block) => [`${block.alike}|${block.by}`, block]),
    ).values(),
  ];
}

export const hollowSectionFrame: Family = {
  name: 'hollow-section-frame',
  about:
    'rails of hollow section with cross members between them, upper bars over them and mounting plates on them',
  grippers: ['magnet', 'small-magnet', 'jaw'],
  build(parts, random, form): Structure {
    const counts = countsFor(parts);
    const sizes = SIZES[form];
    const grid = bayGrid(counts.rails, counts.crosses, drawnGrid(RAIL, sizes.grid, random));
    const layout: Layout = {
      sizes,
      grid,
      height: oneOf(random, sizes.heights),
      crosses: slotsOf(grid, counts.crosses),
      uppers: upperColumns(counts.uppers),
      mounts: Array.from({ length: counts.mounts }, (_, i) => ({
        rail: i % counts.rails,
        place: Math.floor(i / counts.rails),
      })),
    };
    return {
      parts: partsOf(layout),
      joints: jointsOf(layout, form),
      touching: [],
      blocks: blocksOf(layout),
      needs:
        counts.uppers === 0
          ? []
          : layout.uppers.map((_, i) => ({ part: upperId(i), after: [railId(0), railId(counts.rails - 1)] })),
    };
  },
};

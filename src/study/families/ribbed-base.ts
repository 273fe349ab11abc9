import { barAlong, barBetween, blockAt, plateAt, type Section } from './bars.js';
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
import { shuffled } from './dials.js';
import { topSeam } from './seam-sides.js';
import type { Family, Form, Structure, StructureBlock, StructureJoint, StructurePart } from './structure.js';

const BASE = 8;
const SPINE = 80;

/** In mm; of lists the seed draws one. With shapes, torches have room between ribs, and thicker walls need fewer tacks. */
const SIZES = {
  abstract: {
    grid: { gaps: [150, 160], pitches: [150, 160], end: undefined },
    ...{ heights: [70, 80], spineWall: 5, rib: 60, ribWall: 4 },
    pad: { along: 50, across: 80, height: 40 },
  },
  geometric: {
    grid: { gaps: [190, 200], pitches: [140, 150], end: 70 },
    ...{ heights: [80, 90], spineWall: 6, rib: 50, ribWall: 5 },
    pad: { along: 50, across: 130, height: 40 },
  },
} as const;
const CAP = 8;
/** How far a cap lies on a spine: the rest is left for its weld and for the cap of the next bay. */
const LAP = 24;

/** How the parts are shared out: what is neither base, spine, cap nor pad is a rib. */
interface Counts {
  readonly spines: number;
  readonly ribs: number;
  readonly caps: number;
  readonly pads: number;
}

function countsFor(parts: number): Counts {
  const spines = linesFor(parts);
  const rest = parts - 1 - spines;
  const caps = Math.max(1, Math.floor(rest / 6));
  const pads = Math.floor(rest / 5);
  return { spines, caps, pads, ribs: rest - caps - pads };
}

interface Layout {
  readonly sizes: (typeof SIZES)[Form];
  readonly grid: BayGrid;
  readonly height: number;
  readonly ribs: readonly Slot[];
  readonly pads: readonly Slot[];
  readonly caps: readonly { readonly bay: number; readonly over: readonly Slot[] }[];
}

const ribId = ({ bay, column }: Slot): string => `rib-${bay + 1}-${column + 1}`;
const padId = ({ bay, column }: Slot): string => `pad-${bay + 1}-${column + 1}`;
const spineId = (line: number): string => `spine-${line + 1}`;
const capId = (i: number): string => `cap-${i + 1}`;

/** One or two neighbouring ribs under each cap, as many caps as asked for and as there is room. */
function capsOver(ribs: readonly Slot[], bays: number, count: number): Layout['caps'] {
  const pairs = Array.from({ length: bays }, (_, bay) => {
    const inBay = [...slotsInBay(ribs, bay)];
    const caps: Slot[][] = [];
    while (inBay.length > 0) {
      const first = inBay.shift()!;
      const beside = inBay[0]?.column === first.column + 1 ? [inBay.shift()!] : [];
      caps.push([first, ...beside]);
    }
    return caps.map((over) => ({ bay, over }));
  }).flat();
  return [...pairs].sort((a, b) => b.over.length - a.over.length).slice(0, count);
}

/** The ribs under one cap are alike, and so are those of a bay that no cap covers. */
function ribAlike({ caps }: Layout, rib: Slot): string {
  const cap = caps.findIndex(({ over }) => over.includes(rib));
  return cap < 0 ? `ribs-${rib.bay + 1}` : `ribs-under-${capId(cap)}`;
}

function ribsOf(layout: Layout, bay: number, section: Section): StructurePart[] {
  const { grid } = layout;
  return slotsInBay(layout.ribs, bay).map((slot) =>
    barBetween({ id: ribId(slot), alike: ribAlike(layout, slot) }, grid.gap, section, [
      grid.columnX(slot.column),
      grid.bayY(bay),
      BASE,
    ]),
  );
}

function partsOf(layout: Layout): StructurePart[] {
  const { sizes, grid, height, pads, caps } = layout;
  const top = BASE + height;
  const rib: Section = { width: sizes.rib, height: height - 10, wall: sizes.ribWall };
  const spine = (line: number): StructurePart =>
    barAlong({ id: spineId(line) }, grid.length, { width: SPINE, height, wall: sizes.spineWall }, [
      0,
      grid.lineY(line),
      BASE,
    ]);
  return [
    plateAt({ id: 'base' }, [grid.length + 40, grid.width + 60, BASE], [0, 0, 0]),
    spine(0),
    ...Array.from({ length: grid.bays }, (_, bay) => [...ribsOf(layout, bay, rib), spine(bay + 1)]).flat(),
    ...pads.map((slot) =>
      blockAt(
        { id: padId(slot), alike: `pads-${slot.bay + 1}` },
        [sizes.pad.along, sizes.pad.across, sizes.pad.height],
        [grid.columnX(slot.column), grid.bayY(slot.bay), BASE],
      ),
    ),
    ...caps.map(({ bay, over }, i) => {
      const middle = over.reduce((sum, { column }) => sum + grid.columnX(column), 0) / over.length;
      const size = [(over.length - 1) * grid.pitch + sizes.rib + 20, grid.gap + 2 * LAP, CAP] as const;
      return plateAt({ id: capId(i) }, size, [middle, grid.bayY(bay), top]);
    }),
  ];
}

/** With shapes, ribs have their seams on a spine across the top: between two ribs no torch gets to an upright corner. */
function jointsOf({ sizes, grid, height, ribs, pads, caps }: Layout, form: Form): StructureJoint[] {
  const fillet = (a: string, b: string, seam: number): StructureJoint => ({
    between: [a, b],
    type: 'fillet',
    sides: 'both',
    seam,
  });
  const spines = Array.from({ length: grid.lines }, (_, line) => spineId(line));
  return [
    ...spines.map((id) => fillet('base', id, grid.length)),
    ...ribs.map((slot) => fillet('base', ribId(slot), grid.gap)),
    ...ribs.flatMap((slot) =>
      [slot.bay, slot.bay + 1].map((line, side) => ({
        ...fillet(spineId(line), ribId(slot), height - 10),
        ...(form === 'geometric' && topSeam(side)),
      })),
    ),
    ...pads.map((slot) => fillet('base', padId(slot), sizes.pad.across)),
    ...caps.flatMap(({ bay, over }, i) =>
      [bay, bay + 1].map((line, side) => ({
        between: [spineId(line), capId(i)] as const,
        type: 'lap' as const,
        sides: 'one' as const,
        open: [0, side === 0 ? -1 : 1, 1] as const,
        seam: (over.length - 1) * grid.pitch + sizes.rib + 20,
      })),
    ),
  ];
}

/** Ribs come before the spine that closes their bay and before their cap; pads before the caps beside them. */
function blocksOf(layout: Layout): StructureBlock[] {
  const { ribs, pads, caps } = layout;
  const closing = ribs.map((rib) => ({ alike: ribAlike(layout, rib), by: spineId(rib.bay + 1) }));
  const covering = caps.map(({ over }, i) => ({ alike: ribAlike(layout, over[0]!), by: capId(i) }));
  const beside = caps.flatMap(({ bay }, i) =>
    slotsInBay(pads, bay).map(() => ({ alike: `pads-${bay + 1}`, by: capId(i) })),
  );
  return distinct([...closing, ...covering, ...beside]);
}

const distinct = (blocks: readonly StructureBlock[]): StructureBlock[] => [
  ...new Map(blocks.map((block) => [`${block.alike}|${block.by}`, block])).values(),
];

export const ribbedBase: Family = {
  name: 'ribbed-base',
  about: 'a base plate with spines along it, ribs and pads in the bays between them, and caps over ribs',
  grippers: ['magnet'],
  build(parts, random, form): Structure {
    const counts = countsFor(parts);
    const sizes = SIZES[form];
    const grid = bayGrid(counts.spines, counts.ribs + counts.pads, drawnGrid(SPINE, sizes.grid, random));
    const slots = slotsOf(grid, counts.ribs + counts.pads);
    const forPads = new Set(shuffled(slots, random).slice(0, counts.pads));
    const ribs = slots.filter((slot) => !forPads.has(slot));
    const layout: Layout = {
      sizes,
      grid,
      height: oneOf(random, sizes.heights),
      ribs,
      pads: slots.filter((slot) => forPads.has(slot)),
      caps: capsOver(ribs, grid.bays, counts.caps),
    };
    return {
      parts: partsOf(layout),
      joints: jointsOf(layout, form),
      touching: [],
      blocks: blocksOf(layout),
      needs: layout.caps.map(({ bay }, i) => ({ part: capId(i), after: [spineId(bay), spineId(bay + 1)] })),
    };
  },
};

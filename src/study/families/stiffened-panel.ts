import { barAcross, barAlong, barBetween, plateAt, type Section } from './bars.js';
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

/** In mm; of lists the seed draws one. With shapes, torches have room between pieces, and thicker walls need fewer tacks. */
const SIZES = {
  abstract: {
    grid: { gaps: [150, 160], pitches: [150, 160], end: undefined },
    ...{ heights: [70, 80], stiffenerWall: 4, piece: 60, pieceWall: 4 },
    doubler: { along: 90, across: 110, thickness: 10 },
  },
  geometric: {
    grid: { gaps: [190, 200], pitches: [170, 180], end: 70 },
    ...{ heights: [80, 90], stiffenerWall: 6, piece: 50, pieceWall: 5 },
    doubler: { along: 92, across: 140, thickness: 10 },
  },
} as const;
const SHEET = 8;
const STIFFENER = 80;
const GIRDER: Section = { width: 60, height: 60, wall: 4 };
/** One strake for every so many parts. */
const PARTS_PER_STRAKE = 50;

/** What is neither strake, stiffener, girder nor doubler is a piece between two stiffeners. */
interface Counts {
  readonly strakes: number;
  readonly stiffeners: number;
  readonly pieces: number;
  readonly girders: number;
  readonly doublers: number;
}

function countsFor(parts: number): Counts {
  const strakes = 1 + Math.floor(parts / PARTS_PER_STRAKE);
  const stiffeners = linesFor(parts);
  const rest = parts - strakes - stiffeners;
  const columns = Math.ceil(rest / (stiffeners - 1));
  const girders = Math.min(Math.floor(rest / 5), Math.floor(columns / 3));
  const doublers = Math.floor((rest - girders) / 3);
  return { strakes, stiffeners, girders, doublers, pieces: rest - girders - doublers };
}

interface Layout {
  readonly sizes: (typeof SIZES)[Form];
  readonly grid: BayGrid;
  readonly height: number;
  readonly strakes: number;
  readonly pieces: readonly Slot[];
  readonly doublers: readonly Slot[];
  /** Columns over which a girder lies. */
  readonly girders: readonly number[];
}

const strakeId = (i: number): string => `strake-${i + 1}`;
const stiffenerId = (line: number): string => `stiffener-${line + 1}`;
const pieceId = ({ bay, column }: Slot): string => `piece-${bay + 1}-${column + 1}`;
const doublerId = ({ bay, column }: Slot): string => `doubler-${bay + 1}-${column + 1}`;
const girderId = (i: number): string => `girder-${i + 1}`;

/** Columns are shared out evenly: the strake under a column. */
const strakeUnder = ({ grid, strakes }: Layout, column: number): number =>
  Math.floor((column * strakes) / grid.columns);

/** First column of a strake; of one past the last, the number of columns. */
const firstColumn = ({ grid, strakes }: Layout, strake: number): number =>
  Math.ceil((strake * grid.columns) / strakes);

/** Alike are those of a bay on one strake, but under a girder each is the only one. */
function alikeOf(layout: Layout, kind: 'pieces' | 'doublers', slot: Slot): string {
  if (layout.girders.includes(slot.column)) return kind === 'pieces' ? pieceId(slot) : doublerId(slot);
  return `${kind}-${slot.bay + 1}-on-${strakeUnder(layout, slot.column) + 1}`;
}

function strakesOf(layout: Layout): StructurePart[] {
  const { grid, strakes } = layout;
  const edge = (strake: number): number =>
    strake === 0
      ? -(grid.length + 40) / 2
      : strake === strakes
        ? (grid.length + 40) / 2
        : grid.columnX(firstColumn(layout, strake) - 0.5);
  return Array.from({ length: strakes }, (_, i) =>
    plateAt(
      { id: strakeId(i) },
      [edge(i + 1) - edge(i), grid.width + 60, SHEET],
      [(edge(i) + edge(i + 1)) / 2, 0, 0],
    ),
  );
}

function partsOf(layout: Layout): StructurePart[] {
  const { sizes, grid, height } = layout;
  const stiffener = (line: number): StructurePart =>
    barAlong(
      { id: stiffenerId(line) },
      grid.length,
      { width: STIFFENER, height, wall: sizes.stiffenerWall },
      [0, grid.lineY(line), SHEET],
    );
  const section: Section = { width: sizes.piece, height: height - 20, wall: sizes.pieceWall };
  const piecesIn = (bay: number): StructurePart[] =>
    slotsInBay(layout.pieces, bay).map((slot) =>
      barBetween({ id: pieceId(slot), alike: alikeOf(layout, 'pieces', slot) }, grid.gap, section, [
        grid.columnX(slot.column),
        grid.bayY(bay),
        SHEET,
      ]),
    );
  return [
    ...strakesOf(layout),
    stiffener(0),
    ...Array.from({ length: grid.bays }, (_, bay) => [...piecesIn(bay), stiffener(bay + 1)]).flat(),
    ...layout.doublers.map((slot) =>
      plateAt(
        { id: doublerId(slot), alike: alikeOf(layout, 'doublers', slot) },
        [sizes.doubler.along, sizes.doubler.across, sizes.doubler.thickness],
        [grid.columnX(slot.column), grid.bayY(slot.bay), SHEET],
      ),
    ),
    ...layout.girders.map((column, i) =>
      barAcross({ id: girderId(i) }, grid.width - 16, GIRDER, [grid.columnX(column), 0, SHEET + height]),
    ),
  ];
}

/** With shapes, pieces have their seams on a stiffener across the top: between two no torch gets to an upright corner. */
function jointsOf(layout: Layout, form: Form): StructureJoint[] {
  const { sizes, grid, height, strakes, pieces, doublers, girders } = layout;
  const joint = (a: string, b: string, type: 'fillet' | 'lap', seam: number): StructureJoint => ({
    between: [a, b],
    type,
    sides: 'both',
    seam,
  });
  const under = (slot: Slot): string => strakeId(strakeUnder(layout, slot.column));
  const lines = Array.from({ length: grid.lines }, (_, line) => stiffenerId(line));
  const all = Array.from({ length: strakes }, (_, i) => strakeId(i));
  return [
    ...all.slice(1).map((id, i) => ({
      between: [all[i]!, id] as const,
      type: 'butt' as const,
      sides: 'one' as const,
      open: [0, 0, 1] as const,
      seam: grid.width,
    })),
    ...lines.flatMap((id) => all.map((strake) => joint(strake, id, 'fillet', grid.length / strakes))),
    ...pieces.map((slot) => joint(under(slot), pieceId(slot), 'fillet', grid.gap)),
    ...pieces.flatMap((slot) =>
      [slot.bay, slot.bay + 1].map((line, side) => ({
        ...joint(stiffenerId(line), pieceId(slot), 'fillet', height - 20),
        ...(form === 'geometric' && topSeam(side)),
      })),
    ),
    ...doublers.map((slot) => joint(under(slot), doublerId(slot), 'lap', sizes.doubler.across)),
    ...girders.flatMap((_, i) => lines.map((id) => joint(id, girderId(i), 'fillet', STIFFENER))),
  ];
}

/** Pieces come before the stiffener that closes their bay; pieces and doublers before the girder above them. */
function blocksOf(layout: Layout): StructureBlock[] {
  const { pieces, doublers, girders } = layout;
  const closing = pieces.map((slot) => ({
    alike: alikeOf(layout, 'pieces', slot),
    by: stiffenerId(slot.bay + 1),
  }));
  const under = (kind: 'pieces' | 'doublers', slots: readonly Slot[]): StructureBlock[] =>
    slots.flatMap((slot) => {
      const girder = girders.indexOf(slot.column);
      return girder < 0 ? [] : [{ alike: alikeOf(layout, kind, slot), by: girderId(girder) }];
    });
  const all = [...closing, ...under('pieces', pieces), ...under('doublers', doublers)];
  return [...new Map(all.map((block) => [`${block.alike}|${block.by}`, block])).values()];
}

export const stiffenedPanel: Family = {
  name: 'stiffened-panel',
  about:
    'strakes of sheet with stiffeners along, pieces between them, doublers on the sheet and girders across the top',
  grippers: ['magnet'],
  build(parts, random, form): Structure {
    const counts = countsFor(parts);
    const sizes = SIZES[form];
    const slotCount = counts.pieces + counts.doublers;
    const grid = bayGrid(counts.stiffeners, slotCount, drawnGrid(STIFFENER, sizes.grid, random));
    const slots = slotsOf(grid, slotCount);
    const forDoublers = new Set(shuffled(slots, random).slice(0, counts.doublers));
    const layout: Layout = {
      sizes,
      grid,
      height: oneOf(random, sizes.heights),
      strakes: counts.strakes,
      pieces: slots.filter((slot) => !forDoublers.has(slot)),
      doublers: slots.filter((slot) => forDoublers.has(slot)),
      girders: Array.from({ length: counts.girders }, (_, i) => 3 * i + 1),
    };
    const strakes = Array.from({ length: counts.strakes }, (_, i) => strakeId(i));
    const ends = [stiffenerId(0), stiffenerId(counts.stiffeners - 1)];
    return {
      parts: partsOf(layout),
      joints: jointsOf(layout, form),
      touching: [],
      blocks: blocksOf(layout),
      needs: [
        ...Array.from({ length: counts.stiffeners }, (_, line) => ({
          part: stiffenerId(line),
          after: strakes,
        })),
        ...layout.girders.map((_, i) => ({ part: girderId(i), after: ends })),
      ],
    };
  },
};

import { barAcross, barAlong, barBetween, plateAt, type Section } from './bars.js';
import { oneOf } from './bay-grid.js';
import type { Vec3 } from '../../geometry/vector.js';
import { topSeam, type SeamSide } from './seam-sides.js';
import type { Family, Form, Structure, StructureBlock, StructureJoint, StructurePart } from './structure.js';

const BASE = 8;
const LID = 8;
/** How far a lid stays inside the outer faces of its walls: room for its weld. */
const LEDGE = 12;
/** By how much each box is higher than the one inside it. */
const STEP = 20;

/** Lengths in mm; of a list the seed draws one. */
interface Sizes {
  readonly pitches: readonly number[];
  readonly heights: readonly number[];
  readonly wall: number;
  /** Thickness of the metal of walls and diaphragms. */
  readonly metal: number;
  readonly diaphragm: number;
  /** From the middle of the innermost box to its long walls. */
  readonly inner: number;
  /** From the walls of one box to those of the next. */
  readonly ring: number;
  /** By how much long walls are longer than the box, at either end: a corner for the weld of a short wall. */
  readonly beyond: number;
  /** Of the base, beyond the outermost walls. */
  readonly margin: number;
}

/** With shapes, torches and grippers have room between diaphragms and between boxes, and walls carry the pads of a magnet. */
const SIZES: Readonly<Record<Form, Sizes>> = {
  abstract: {
    ...{ pitches: [110, 120], heights: [60, 70], wall: 40, metal: 4, diaphragm: 40 },
    ...{ inner: 80, ring: 110, beyond: 0, margin: 25 },
  },
  geometric: {
    ...{ pitches: [140, 150], heights: [80, 90], wall: 60, metal: 6, diaphragm: 50 },
    ...{ inner: 100, ring: 160, beyond: 20, margin: 40 },
  },
};

/** A box around those inside it: half sizes to the inner faces of its walls, mm. */
interface Level {
  readonly number: number;
  readonly x: number;
  readonly y: number;
  readonly height: number;
  /** Diaphragms inside its first and its second long wall; of the innermost box all are in the first list. */
  readonly diaphragms: readonly [number, number];
}

interface Layout {
  readonly sizes: Sizes;
  readonly pitch: number;
  readonly levels: readonly Level[];
}

/** At most so many boxes that the room between them is filled evenly. */
const levelsFor = (parts: number): number =>
  Math.max(1, Math.min(Math.round(Math.sqrt(parts / 2.5)), Math.floor((parts - 1) / 6)));

const name = (kind: string, level: number, ...rest: readonly number[]): string =>
  [kind, level + 1, ...rest.map((i) => i + 1)].join('-');

const rooms = (halfLength: number, pitch: number): number => Math.floor((2 * halfLength - 40) / pitch);

/** Spreads diaphragms over the boxes, the outer ones by what has room; the innermost box is as long as its own ask for. */
function layoutFor(parts: number, sizes: Sizes, pitch: number, innerHeight: number): Layout {
  const { wall, ring } = sizes;
  const count = levelsFor(parts);
  const all = parts - 1 - 5 * count;
  const halvesFor = (inner: number): number[] =>
    Array.from({ length: count }, (_, k) => ((inner + 1) * pitch) / 2 + k * (ring + wall));
  const roomFor = (inner: number): number =>
    inner +
    2 *
      halvesFor(inner)
        .slice(0, -1)
        .reduce((sum, x) => sum + rooms(x + wall, pitch), 0);
  const least = count === 1 ? all : Math.min(all, Math.max(1, Math.ceil(all / (2 * count))));
  let inner = least;
  while (roomFor(inner) < all) inner += 1;
  const halves = halvesFor(inner);
  const taken = halves.map((): [number, number] => [0, 0]);
  taken[0] = [inner, 0];
  let left = all - inner;
  for (let round = 0; left > 0; round += 1)
    for (let k = 1; k < count && left > 0; k += 1)
      for (const side of [0, 1] as const) {
        if (left === 0 || taken[k]![side] !== round || round >= rooms(halves[k - 1]! + wall, pitch)) continue;
        taken[k]![side] += 1;
        left -= 1;
      }
  return {
    sizes,
    pitch,
    levels: halves.map((x, k) => ({
      number: k,
      x,
      y: sizes.inner + k * (ring + wall),
      height: innerHeight + k * STEP,
      diaphragms: taken[k]!,
    })),
  };
}

/** The diaphragms of a box with where they stand; of a ring, those of one side touch one long wall of either box. */
function diaphragmsOf(
  { sizes: { wall, ring, diaphragm, metal }, pitch, levels }: Layout,
  level: Level,
): { id: string; alike: string; side: 0 | 1; part: StructurePart }[] {
  const inside = levels[level.number - 1];
  const section: Section = { width: diaphragm, height: (inside ?? level).height - 10, wall: metal };
  return ([0, 1] as const).flatMap((side) =>
    Array.from({ length: level.diaphragms[side] }, (_, i) => {
      const id = name('diaphragm', level.number, side, i);
      const alike = name('diaphragms', level.number, side);
      const x = (i - (level.diaphragms[side] - 1) / 2) * pitch;
      const y = inside === undefined ? 0 : (side === 0 ? -1 : 1) * (inside.y + wall + ring / 2);
      const long = inside === undefined ? 2 * level.y : ring;
      return { id, alike, side, part: barBetween({ id, alike }, long, section, [x, y, BASE]) };
    }),
  );
}

function partsOfLevel(layout: Layout, level: Level): StructurePart[] {
  const { number, x, y, height } = level;
  const { wall, metal, beyond } = layout.sizes;
  const section: Section = { width: wall, height, wall: metal };
  const long = (side: 0 | 1): StructurePart =>
    barAlong({ id: name('long-wall', number, side) }, 2 * (x + wall + beyond), section, [
      0,
      (side === 0 ? -1 : 1) * (y + wall / 2),
      BASE,
    ]);
  const short = (side: 0 | 1): StructurePart => ({
    ...barAcross(
      { id: name('short-wall', number, side), alike: name('short-walls', number) },
      2 * y,
      section,
      [(side === 0 ? -1 : 1) * (x + wall / 2), 0, BASE],
    ),
    fits: true,
  });
  const inside = diaphragmsOf(layout, level);
  const onSide = (side: 0 | 1): StructurePart[] =>
    inside.filter((one) => one.side === side).map(({ part }) => part);
  const lid = plateAt(
    { id: name('lid', number) },
    [2 * (x + wall - LEDGE), 2 * (y + wall - LEDGE), LID],
    [0, 0, BASE + height],
  );
  return [...onSide(0), long(0), short(0), short(1), ...onSide(1), long(1), lid].sort(
    // In the innermost box the first wall comes first: there is nothing inside for diaphragms to touch.
    (a, b) =>
      number === 0 ? Number(b.id === name('long-wall', 0, 0)) - Number(a.id === name('long-wall', 0, 0)) : 0,
  );
}

/**
 * With shapes, walls have their seams outside: nobody welds in a closed box. Diaphragms have theirs on walls across the top.
 */
function jointsOfLevel(layout: Layout, level: Level, form: Form): StructureJoint[] {
  const { number, x, y, height } = level;
  const { wall: thick, ring } = layout.sizes;
  const fillet = (a: string, b: string, seam: number, side?: SeamSide): StructureJoint => ({
    between: [a, b],
    type: 'fillet',
    sides: 'both',
    seam,
    ...(form === 'geometric' && side),
  });
  const outer = (open: Vec3): SeamSide => ({ sides: 'one', open });
  const way = (side: number): number => (side === 0 ? -1 : 1);
  const [long, short] = ['long-wall', 'short-wall'].map((kind) =>
    ([0, 1] as const).map((side) => name(kind, number, side)),
  ) as [string[], string[]];
  const lid = name('lid', number);
  const inside = layout.levels[number - 1];
  const lap = (wall: string, open: readonly [number, number, number], seam: number): StructureJoint => ({
    between: [wall, lid],
    type: 'lap',
    sides: 'one',
    open,
    seam,
  });
  return [
    ...long.map((id, side) => fillet('base', id, 2 * (x + thick), outer([0, way(side), 1]))),
    ...short.map((id, side) => fillet('base', id, 2 * y, outer([way(side), 0, 1]))),
    ...short.flatMap((id, end) =>
      long.map((wall, side) => fillet(wall, id, height, outer([way(end), -way(side), 0]))),
    ),
    ...diaphragmsOf(layout, level).flatMap(({ id, side }) => [
      fillet('base', id, inside === undefined ? 2 * y : ring),
      ...(inside === undefined ? long : [name('long-wall', number - 1, side), long[side]!]).map((wall, i) =>
        // Of those between two boxes at lower y, the inner wall is the one at higher y.
        fillet(wall, id, (inside ?? level).height - 10, topSeam(inside && side === 0 ? 1 - i : i)),
      ),
    ]),
    lap(long[0]!, [0, -1, 1], 2 * (x + thick - LEDGE)),
    lap(long[1]!, [0, 1, 1], 2 * (x + thick - LEDGE)),
    lap(short[0]!, [-1, 0, 1], 2 * (y + thick - LEDGE)),
    lap(short[1]!, [1, 0, 1], 2 * (y + thick - LEDGE)),
  ];
}

/**
 * Inside before outside: diaphragms and short walls before the long wall that closes on them, all of a box and the lid of
 * the one inside before its lid, and that inner lid also before the walls around it, between which no torch gets to it.
 */
function blocksOfLevel(layout: Layout, level: Level): StructureBlock[] {
  const { number } = level;
  const lid = name('lid', number);
  const closing = (side: 0 | 1): string => name('long-wall', number, number === 0 ? 1 : side);
  const groups = [...new Map(diaphragmsOf(layout, level).map(({ alike, side }) => [alike, side]))];
  const inner = number === 0 ? [] : [name('lid', number - 1)];
  return [
    ...groups.map(([alike, side]) => ({ alike, by: closing(side) })),
    { alike: name('short-walls', number), by: name('long-wall', number, 1) },
    ...groups.map(([alike]) => ({ alike, by: lid })),
    ...inner.flatMap((alike) => [lid, closing(0), closing(1)].map((by) => ({ alike, by }))),
  ];
}

export const nestedBox: Family = {
  name: 'nested-box',
  about:
    'boxes of hollow section, one inside the other, each with a lid; diaphragms in the innermost and between two',
  grippers: ['magnet'],
  build(parts, random, form): Structure {
    const sizes = SIZES[form];
    const layout = layoutFor(parts, sizes, oneOf(random, sizes.pitches), oneOf(random, sizes.heights));
    const { levels } = layout;
    const { wall, beyond, margin } = sizes;
    const outer = levels.at(-1)!;
    const base = plateAt(
      { id: 'base' },
      [2 * (outer.x + wall + beyond + margin), 2 * (outer.y + wall + margin), BASE],
      [0, 0, 0],
    );
    return {
      parts: [base, ...levels.flatMap((level) => partsOfLevel(layout, level))],
      joints: levels.flatMap((level) => jointsOfLevel(layout, level, form)),
      touching: [],
      blocks: levels.flatMap((level) => blocksOfLevel(layout, level)),
      needs: levels.map(({ number }) => ({
        part: name('lid', number),
        after: ['long-wall', 'short-wall'].flatMap((kind) => [0, 1].map((side) => name(kind, number, side))),
      })),
    };
  },
};

import { barAcross, barAlong, barBetween, plateAt, type Section } from './bars.js';
import { oneOf } from './bay-grid.js';
import type { Family, Structure, StructureBlock, StructureJoint, StructurePart } from './structure.js';

const BASE = 8;
const WALL = 40;
const LID = 8;
/** How far a lid stays inside the outer faces of its walls: room for its weld. */
const LEDGE = 12;
const DIAPHRAGM = 40;
/** By how much each box is higher than the one inside it. */
const STEP = 20;
/** From the walls of one box to those of the next. */
const RING = 110;

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
function layoutFor(parts: number, pitch: number, innerHeight: number): Layout {
  const count = levelsFor(parts);
  const all = parts - 1 - 5 * count;
  const sizes = (inner: number): number[] =>
    Array.from({ length: count }, (_, k) => ((inner + 1) * pitch) / 2 + k * (RING + WALL));
  const roomFor = (inner: number): number =>
    inner +
    2 *
      sizes(inner)
        .slice(0, -1)
        .reduce((sum, x) => sum + rooms(x + WALL, pitch), 0);
  const least = count === 1 ? all : Math.min(all, Math.max(1, Math.ceil(all / (2 * count))));
  let inner = least;
  while (roomFor(inner) < all) inner += 1;
  const halves = sizes(inner);
  const taken = halves.map((): [number, number] => [0, 0]);
  taken[0] = [inner, 0];
  let left = all - inner;
  for (let round = 0; left > 0; round += 1)
    for (let k = 1; k < count && left > 0; k += 1)
      for (const side of [0, 1] as const) {
        if (left === 0 || taken[k]![side] !== round || round >= rooms(halves[k - 1]! + WALL, pitch)) continue;
        taken[k]![side] += 1;
        left -= 1;
      }
  return {
    pitch,
    levels: halves.map((x, k) => ({
      number: k,
      x,
      y: 80 + k * (RING + WALL),
      height: innerHeight + k * STEP,
      diaphragms: taken[k]!,
    })),
  };
}

/** The diaphragms of a box with where they stand; of a ring, those of one side touch one long wall of either box. */
function diaphragmsOf(
  { pitch, levels }: Layout,
  level: Level,
): { id: string; alike: string; side: 0 | 1; part: StructurePart }[] {
  const inside = levels[level.number - 1];
  const section: Section = { width: DIAPHRAGM, height: (inside ?? level).height - 10, wall: 4 };
  return ([0, 1] as const).flatMap((side) =>
    Array.from({ length: level.diaphragms[side] }, (_, i) => {
      const id = name('diaphragm', level.number, side, i);
      const alike = name('diaphragms', level.number, side);
      const x = (i - (level.diaphragms[side] - 1) / 2) * pitch;
      const y = inside === undefined ? 0 : (side === 0 ? -1 : 1) * (inside.y + WALL + RING / 2);
      const long = inside === undefined ? 2 * level.y : RING;
      return { id, alike, side, part: barBetween({ id, alike }, long, section, [x, y, BASE]) };
    }),
  );
}

function partsOfLevel(layout: Layout, level: Level): StructurePart[] {
  const { number, x, y, height } = level;
  const section: Section = { width: WALL, height, wall: 4 };
  const long = (side: 0 | 1): StructurePart =>
    barAlong({ id: name('long-wall', number, side) }, 2 * (x + WALL), section, [
      0,
      (side === 0 ? -1 : 1) * (y + WALL / 2),
      BASE,
    ]);
  const short = (side: 0 | 1): StructurePart => ({
    ...barAcross(
      { id: name('short-wall', number, side), alike: name('short-walls', number) },
      2 * y,
      section,
      [(side === 0 ? -1 : 1) * (x + WALL / 2), 0, BASE],
    ),
    fits: true,
  });
  const inside = diaphragmsOf(layout, level);
  const onSide = (side: 0 | 1): StructurePart[] =>
    inside.filter((one) => one.side === side).map(({ part }) => part);
  const lid = plateAt(
    { id: name('lid', number) },
    [2 * (x + WALL - LEDGE), 2 * (y + WALL - LEDGE), LID],
    [0, 0, BASE + height],
  );
  return [...onSide(0), long(0), short(0), short(1), ...onSide(1), long(1), lid].sort(
    // In the innermost box the first wall comes first: there is nothing inside for diaphragms to touch.
    (a, b) =>
      number === 0 ? Number(b.id === name('long-wall', 0, 0)) - Number(a.id === name('long-wall', 0, 0)) : 0,
  );
}

function jointsOfLevel(layout: Layout, level: Level): StructureJoint[] {
  const { number, x, y, height } = level;
  const fillet = (a: string, b: string, seam: number): StructureJoint => ({
    between: [a, b],
    type: 'fillet',
    sides: 'both',
    seam,
  });
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
    ...long.map((id) => fillet('base', id, 2 * (x + WALL))),
    ...short.map((id) => fillet('base', id, 2 * y)),
    ...short.flatMap((id) => long.map((wall) => fillet(wall, id, height))),
    ...diaphragmsOf(layout, level).flatMap(({ id, side }) => [
      fillet('base', id, inside === undefined ? 2 * y : RING),
      ...(inside === undefined ? long : [name('long-wall', number - 1, side), long[side]!]).map((wall) =>
        fillet(wall, id, (inside ?? level).height - 10),
      ),
    ]),
    lap(long[0]!, [0, -1, 1], 2 * (x + WALL - LEDGE)),
    lap(long[1]!, [0, 1, 1], 2 * (x + WALL - LEDGE)),
    lap(short[0]!, [-1, 0, 1], 2 * (y + WALL - LEDGE)),
    lap(short[1]!, [1, 0, 1], 2 * (y + WALL - LEDGE)),
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
  build(parts, random): Structure {
    const layout = layoutFor(parts, oneOf(random, [110, 120]), oneOf(random, [60, 70]));
    const { levels } = layout;
    const outer = levels.at(-1)!;
    const base = plateAt(
      { id: 'base' },
      [2 * (outer.x + WALL + 25), 2 * (outer.y + WALL + 25), BASE],
      [0, 0, 0],
    );
    return {
      parts: [base, ...levels.flatMap((level) => partsOfLevel(layout, level))],
      joints: levels.flatMap((level) => jointsOfLevel(layout, level)),
      touching: [],
      blocks: levels.flatMap((level) => blocksOfLevel(layout, level)),
      needs: levels.map(({ number }) => ({
        part: name('lid', number),
        after: ['long-wall', 'short-wall'].flatMap((kind) => [0, 1].map((side) => name(kind, number, side))),
      })),
    };
  },
};

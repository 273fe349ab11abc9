import type {
  CellEntries,
  Files,
  KeepOutEntry,
  PartEntry,
  Triple,
  WeldmentEntries,
} from '../support/planned.js';

/** A turn about the vertical through the cell's origin, then a shift. */
export interface Motion {
  readonly degrees: number;
  readonly shift: Triple;
}

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

function turned([x, y, z]: Triple, degrees: number): Triple {
  const [c, s] = [Math.cos(radians(degrees)), Math.sin(radians(degrees))];
  return [c * x - s * y, s * x + c * y, z];
}

const added = (a: Triple, b: Triple): Triple => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];

const movedPoint = (point: Triple, { degrees, shift }: Motion): Triple =>
  added(turned(point, degrees), shift);

/** Something with a place and fixed-axis angles; the yaw comes last, so a turn about the vertical adds to it. */
function movedPose<T extends { at: Triple; turn?: Triple }>(entry: T, motion: Motion): T {
  const [roll, pitch, yaw] = entry.turn ?? [0, 0, 0];
  return { ...entry, at: movedPoint(entry.at, motion), turn: [roll, pitch, yaw + motion.degrees] };
}

const movedFlat = <T extends { at: Triple; turn?: number }>(entry: T, motion: Motion): T => ({
  ...entry,
  at: movedPoint(entry.at, motion),
  turn: (entry.turn ?? 0) + motion.degrees,
});

const mapValues = <T>(record: Readonly<Record<string, T>>, change: (value: T) => T): Record<string, T> =>
  Object.fromEntries(Object.entries(record).map(([key, value]) => [key, change(value)]));

/** The whole cell, and the weldment in it, somewhere else on the floor and turned about the vertical. */
export function cellMoved({ weldment, cell }: Files, motion: Motion): Files {
  const { infeed, regrip, table } = cell.stations;
  const place = table['weldment-at'];
  return {
    weldment,
    cell: {
      ...cell,
      robots: mapValues(cell.robots, (robot) => movedPose(robot, motion)),
      grippers: mapValues(cell.grippers, (gripper) => ({
        ...gripper,
        stand: movedPoint(gripper.stand, motion),
      })),
      stations: {
        infeed: movedPose(infeed, motion),
        regrip: movedFlat(regrip, motion),
        table: {
          ...movedFlat(table, motion),
          ...(place === undefined ? {} : { 'weldment-at': movedPoint(place, motion) }),
          'weldment-turn': (table['weldment-turn'] ?? 0) + motion.degrees,
        },
      },
      'keep-outs': (cell['keep-outs'] ?? []).map((box) => movedFlat(box, motion)),
    },
  };
}

/** The weldment in a shifted frame of its own that lies shifted back on the table: nothing moves in the cell. */
export function frameShifted({ weldment, cell }: Files, shift: Triple): Files {
  const { table } = cell.stations;
  const back = turned([-shift[0], -shift[1], -shift[2]], table['weldment-turn'] ?? 0);
  const place = added(table['weldment-at'] ?? table.at, back);
  return {
    weldment: {
      ...weldment,
      parts: mapValues(weldment.parts, (part): PartEntry => ({ ...part, at: added(part.at, shift) })),
    },
    cell: {
      ...cell,
      stations: { ...cell.stations, table: { ...table, 'weldment-at': place } },
    },
  };
}

/** New names, as lookups of the old ones. */
export interface Names {
  readonly parts: Readonly<Record<string, string>>;
  readonly grippers: Readonly<Record<string, string>>;
}

const reordered = <T>(
  record: Readonly<Record<string, T>>,
  names: Readonly<Record<string, string>>,
): Record<string, T> =>
  Object.fromEntries(
    Object.entries(names).map(([old, name]): [string, T] => {
      return [name, record[old]!];
    }),
  );

function renamedWeldment(weldment: WeldmentEntries, names: Names['parts']): WeldmentEntries {
  const renamed = (id: string): string => names[id]!;
  return {
    ...weldment,
    parts: reordered(weldment.parts, names),
    joints: weldment.joints.map((joint) => ({
      ...joint,
      between: [renamed(joint.between[0]), renamed(joint.between[1])],
    })),
    needs: (weldment.needs ?? []).map(({ part, after }) => ({
      part: renamed(part),
      after: after.map(renamed),
    })),
    tolerances: (weldment.tolerances ?? []).map((tolerance) => ({
      ...tolerance,
      from: renamed(tolerance.from),
      to: renamed(tolerance.to),
    })),
    ...(weldment.first === undefined ? {} : { first: renamed(weldment.first) }),
  };
}

/** Other names for parts and grippers, which are listed in the order of the lookups. */
export const renamed = ({ weldment, cell }: Files, names: Names): Files => ({
  weldment: renamedWeldment(weldment, names.parts),
  cell: { ...cell, grippers: reordered(cell.grippers, names.grippers) },
});

/** One box more that nothing may enter. */
export const withKeepOut = ({ weldment, cell }: Files, box: KeepOutEntry): Files => ({
  weldment,
  cell: { ...cell, 'keep-outs': [...(cell['keep-outs'] ?? []), box] } satisfies CellEntries,
});

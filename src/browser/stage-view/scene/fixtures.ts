import { BufferAttribute, BufferGeometry } from 'three';
import { IDENTITY, type Pose } from '../../../geometry/pose.js';
import type { PageFixture, PageMesh } from '../../../report/page/page-data.js';
import { pointsOf } from '../moment/points.js';
import type { Batches } from './batches.js';
import { mixed, type Colours } from './colours.js';
import { matrixOf } from './matrices.js';
import { solidGeometry } from './solid-geometry.js';

/** Height of the floor and what is in the middle of it, mm. */
export interface Floor {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** Between two lines of the floor, mm, and how many lines lie on either side of the middle. */
const [GRID, LINES] = [500, 5];

/**
 * Tables, stands and stations, merged into what stands and what turns, on a floor; keep-outs are drawn as edges only.
 * Lines go down to the floor from the lowest corners, so that heights are seen: what carries them is not in the cell.
 */
export class Fixtures {
  private readonly faces: readonly Drawn[];
  private readonly lines: readonly Drawn[];

  constructor(
    fixtures: readonly PageFixture[],
    floor: Floor,
    private readonly batches: Batches,
    colours: Colours,
  ) {
    const face = mixed(colours.rule, colours.ground, 0.6);
    const edge = mixed(colours.faint, colours.ground, 0.6);
    const pale = mixed(colours.rule, colours.ground, 0.7);
    const solids = fixtures.map(({ mesh, kind, turns }) => ({
      made: solidGeometry([mesh]),
      solid: kind !== 'keep-out',
      turns,
    }));
    const legs = fixtures
      .filter(({ kind }) => kind !== 'keep-out')
      .flatMap(({ mesh }) => legsOf(mesh, floor.z));
    this.faces = solids.flatMap(({ made, solid, turns }) =>
      solid ? [{ slot: batches.faces.add(made.faces, face), turns }] : [],
    );
    this.lines = [
      ...solids.map(({ made, solid, turns }) => ({
        slot: batches.lines.add(made.edges, solid ? edge : colours.arc),
        turns,
      })),
      { slot: batches.lines.add(linesOf(legs), edge), turns: false },
      { slot: batches.lines.add(linesOf(gridOf(floor)), pale), turns: false },
    ];
  }

  /** `table`: what the turn of the work table does; undefined: nothing of it is shown. */
  show(table: Pose | undefined): void {
    const [turned, still] = [table && matrixOf(table), table && matrixOf(IDENTITY)];
    for (const { slot, turns } of this.faces) this.batches.faces.put(slot, turns ? turned : still);
    for (const { slot, turns } of this.lines) this.batches.lines.put(slot, turns ? turned : still);
  }
}

interface Drawn {
  readonly slot: number;
  /** With the table. */
  readonly turns: boolean;
}

function linesOf(positions: readonly number[]): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(new Float32Array(positions), 3));
  return geometry;
}

/** From each lowest corner straight down to the floor. */
function legsOf({ corners }: PageMesh, floor: number): number[] {
  const points = pointsOf(corners);
  const low = Math.min(...points.map(([, , z]) => z));
  return points.filter(([, , z]) => z < low + 0.01).flatMap(([x, y, z]) => [x, y, z, x, y, floor]);
}

function gridOf({ x, y, z }: Floor): number[] {
  const far = GRID * LINES;
  const [left, front] = [Math.round(x / GRID) * GRID, Math.round(y / GRID) * GRID];
  return Array.from({ length: 2 * LINES + 1 }, (_, i) => (i - LINES) * GRID).flatMap((k) => [
    ...[left + k, front - far, z, left + k, front + far, z],
    ...[left - far, front + k, z, left + far, front + k, z],
  ]);
}

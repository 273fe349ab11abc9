import { emptySet, setOf, type PartSet } from '../base/part-set.js';
import { fromAxes, multiply, turnAbout, type Pose } from '../geometry/pose.js';
import { cross, negate, type Vec3 } from '../geometry/vector.js';
import { positionAllowed, type Torch } from '../model/cell.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import { weldingPosition, type WeldingPosition } from '../model/welding-position.js';
import { spaceHits, torchSpace, type SweptSpace } from './torch-space.js';

/** Torch angles off the bisector of a seam, degrees: across the seam and along it. */
export type Tilt = readonly [work: number, travel: number];

/** A way for the torch to lay a tack: pose of the wire tip at its start and end before roll, and what it would hit. */
export interface TorchWay {
  readonly tilt: Tilt;
  /** Where the arc starts: at the `from` end of the tack, or at the other where only that position is allowed. */
  readonly start: Pose;
  readonly end: Pose;
  readonly position: WeldingPosition;
  /** Room of nozzle and body, whatever the roll. */
  readonly space: SweptSpace;
  readonly hits: PartSet;
  /** What is always there and in the way. */
  readonly fixed: 'table' | 'keep-out' | undefined;
}

/** The straight line of a tack, and where it is open. Cell frame; `along` and `open` are unit vectors. */
export interface TackLine {
  readonly from: Vec3;
  readonly to: Vec3;
  readonly along: Vec3;
  readonly open: Vec3;
}

const RADIANS = Math.PI / 180;
/** Last bits of a quotient of angles. */
const SLACK = 1e-9;

/** Multiples of the step inside the window: 0, then the nearest to it first, each before its opposite. */
function angles(most: number, step: number): readonly number[] {
  const count = Math.floor(most / step + SLACK);
  return [0, ...Array.from({ length: count }, (_, i) => [(i + 1) * step, -(i + 1) * step]).flat()];
}

/** All torch angles that are tried, the bisector first, then by how far they are off it; across before along. */
export function tiltsOf({ torch }: Settings): readonly Tilt[] {
  const works = angles(torch['work-angle'], torch['work-step']);
  const travels = angles(torch['travel-angle'], torch['travel-step']);
  const off = ([work, travel]: Tilt): number => Math.abs(work) + Math.abs(travel);
  return works
    .flatMap((work) => travels.map((travel): Tilt => [work, travel]))
    .sort((a, b) => off(a) - off(b) || Math.abs(a[0]) - Math.abs(b[0]));
}

/** Turn of the wire tip: z feeds against `open` after the two tilts, x lies along the seam before roll. */
function tipTurn(seamWay: Vec3, open: Vec3, [work, travel]: Tilt): Pose['turn'] {
  const z = negate(open);
  const y = cross(z, seamWay);
  const square = fromAxes(seamWay, y, z);
  const tilt = multiply(turnAbout(seamWay, work * RADIANS), turnAbout(y, travel * RADIANS));
  return multiply(tilt, square);
}

/**
 * The position in which a tack is laid and whether it runs from its `from` end: so where that is allowed, from the
 * other end where only that is. Undefined where neither is.
 */
function runOf(
  { cell }: Scene,
  line: TackLine,
): { readonly position: WeldingPosition; readonly forward: boolean } | undefined {
  const forward = weldingPosition(line.along, line.open);
  if (positionAllowed(cell, forward)) return { position: forward, forward: true };
  const back = weldingPosition(negate(line.along), line.open);
  return positionAllowed(cell, back) ? { position: back, forward: false } : undefined;
}

function fixedIn(
  { table, keepOuts }: Scene,
  space: SweptSpace,
  tolerance: number,
): 'table' | 'keep-out' | undefined {
  if (spaceHits(space, table, tolerance)) return 'table';
  return keepOuts.some((solid) => spaceHits(space, solid, tolerance)) ? 'keep-out' : undefined;
}

/** All ways of a torch onto a tack, hit or not, the bisector first; none where its welding position is not allowed. */
export function torchWays(
  scene: Scene,
  torch: Torch,
  line: TackLine,
  settings: Settings,
): readonly TorchWay[] {
  const run = runOf(scene, line);
  if (run === undefined) return [];
  const { 'torch-stroke': stroke, 'touch-tolerance': tolerance } = settings.motion;
  const [first, last] = run.forward ? [line.from, line.to] : [line.to, line.from];
  return tiltsOf(settings).map((tilt) => {
    const turn = tipTurn(line.along, line.open, tilt);
    const [start, end] = [
      { at: first, turn },
      { at: last, turn },
    ];
    const space = torchSpace(start, end, torch, stroke);
    const met = scene.parts.flatMap(({ solid }, i) => (spaceHits(space, solid, tolerance) ? [i] : []));
    return {
      ...{ tilt, start, end, position: run.position, space },
      hits: met.length > 0 ? setOf(scene.parts.length, met) : emptySet(scene.parts.length),
      fixed: fixedIn(scene, space, tolerance),
    };
  });
}

import { rounded } from '../base/order.js';
import { rotate, transpose } from '../geometry/pose.js';
import { along, cross, dot, length, scale, subtract, type Vec3 } from '../geometry/vector.js';
import type { WeldShrinkage } from '../mechanics/shrinkage.js';
import type { PlanWeld, WeldRun } from '../model/plan.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Replayed } from './distortion-replay.js';
import { DistortionRun, runStage, type DistortionStage } from './distortion-run.js';
import { closing, freeShrinkage, pullOf, rootGap, type ShrinkingTack } from './distortion-tacks.js';
import { SeamPlaces, type SeamPlace } from './seam-places.js';
import { farthestCorner } from './stage-deviation.js';

/** Places along a seam are written in steps of this, mm; nearer to each other than that they are one. */
export const WELD_GRAIN = 0.001;

/** Seams beyond this size, mm, are another rule's matter and are not handed to the engine. */
const SOUND = 1e5;

const DIGITS = 3;
const DEGREE_DIGITS = 4;
const DEGREES = 180 / Math.PI;

/** What a plan states of an order of welds, apart from how it was found. */
export type WeldAccount = Pick<PlanWeld, 'measure' | 'value' | 'moved' | 'features'>;

/** The seams that are welded: all of the plan whose parts are in place in the end. */
export function weldSeams(context: Replayed, stages: readonly DistortionStage[]): readonly SeamPlace[] {
  const inPlace = new Set(stages.map(({ part }) => part));
  return new SeamPlaces(context).all().filter(({ a, b, along: way, open, from, length: size, joint }) => {
    const square = subtract(open, scale(way, dot(open, way)));
    const sound = [size, joint.leg, ...from].every((value) => Math.abs(value) <= SOUND);
    return inPlace.has(a) && inPlace.has(b) && length(square) > 1e-3 && sound;
  });
}

/** Into how many segments, which count as laid and shrunk at once, a stretch of seam is divided. */
export const segmentCount = (stretch: number, { weld }: Settings): number =>
  Math.max(1, Math.ceil(stretch / weld.segment - WELD_GRAIN));

/** A run of weld as segments in the order in which they are laid, each as a tack of its whole length would be. */
export function weldSegments(
  scene: Scene,
  settings: Settings,
  seam: SeamPlace,
  { from, to }: Pick<WeldRun, 'from' | 'to'>,
): readonly ShrinkingTack[] {
  const { a, b, along: way, open, joint, id } = seam;
  const count = segmentCount(Math.abs(to - from), settings);
  return Array.from({ length: count }, (_, i): ShrinkingTack => {
    const at = along(seam.from, way, from + ((to - from) * (i + 0.5)) / count);
    const size = Math.abs(to - from) / count;
    return {
      ...{ id: `${id}#${i}`, seam: id, a, b, at, along: way, open, gap: rootGap(scene, a, b, at) },
      ...{ length: size, leg: joint.leg, seamLength: seam.length, type: joint.type },
    };
  });
}

/** The tack-up as it is welded: all tacks laid, every gripper away, the first part still clamped. */
export function tackedUp({ scene, settings }: Replayed, stages: readonly DistortionStage[]): DistortionRun {
  const run = new DistortionRun(scene, settings);
  for (const stage of stages) runStage(run, stage);
  for (const part of scene.parts.keys()) run.letGo(part);
  return run;
}

/**
 * The seams of a tack-up as they are welded, one run after the other. A section of a seam is stress-free in the shape in
 * which it is laid, and shrinks by what the seam has not made yet since it was begun: published figures are for the
 * whole of a continuous weld, and a free part that the first section has turned is not turned again by the next.
 */
export class Welding {
  /** How things stood when each seam was begun. */
  private readonly begun: Map<string, DistortionRun>;

  constructor(
    private readonly scene: Scene,
    private readonly settings: Settings,
    readonly run: DistortionRun,
    begun: ReadonlyMap<string, DistortionRun> = new Map(),
  ) {
    this.begun = new Map(begun);
  }

  /** The same moment once more, to go on in another way. */
  copy(): Welding {
    return new Welding(this.scene, this.settings, this.run.copy(), this.begun);
  }

  lay(seam: SeamPlace, run: Pick<WeldRun, 'from' | 'to'>): void {
    const key = `${seam.joint.id}\n${seam.id}`;
    const before = this.begun.get(key) ?? this.run.copy();
    this.begun.set(key, before);
    for (const segment of weldSegments(this.scene, this.settings, seam, run))
      this.run.lay({ ...segment, shrinkage: this.left(segment, before) });
  }

  /** What of the full shrinkage a section has still to make. */
  private left(segment: ShrinkingTack, before: DistortionRun): WeldShrinkage {
    const { scene, settings, run } = this;
    const { a, b, at } = segment;
    const free = freeShrinkage(scene, segment, settings, 'full');
    const apart = (of: DistortionRun): Vec3 => subtract(of.displacement(b, at), of.displacement(a, at));
    const turned = (of: DistortionRun): Vec3 => subtract(of.motion(b).turn, of.motion(a).turn);
    const drawn = dot(subtract(apart(run), apart(before)), pullOf(scene, segment));
    const closed = dot(subtract(turned(run), turned(before)), closing(scene, segment));
    return {
      ...free,
      transverse: Math.min(free.transverse, Math.max(0, free.transverse - drawn)),
      angular: Math.min(free.angular, Math.max(0, free.angular - closed)),
    };
  }
}

/** How parts have moved as seen from the first one. */
class SeenFromFirst {
  constructor(
    private readonly scene: Scene,
    private readonly run: DistortionRun,
    private readonly first: number,
  ) {}

  at(part: number, point: Vec3): Vec3 {
    return subtract(this.run.displacement(part, point), this.run.displacement(this.first, point));
  }

  turn(part: number): Vec3 {
    return subtract(this.run.motion(part).turn, this.run.motion(this.first).turn);
  }

  /** How far the corner of a part goes that goes farthest, mm. */
  farthest(part: number): number {
    const [move, turn] = [this.at(part, [0, 0, 0]), this.turn(part)];
    return farthestCorner(this.scene.parts[part]!.solid, (at) => along(move, cross(turn, at), 1));
  }
}

/** What is made least, in a state of the welding as it is; unrounded. */
export function weldValue(scene: Scene, run: DistortionRun, inPlace: readonly number[]): number {
  const deviations = run.deviations();
  if (deviations.length > 0)
    return Math.max(...deviations.map(({ deviation, tolerance }) => deviation / tolerance));
  const seen = new SeenFromFirst(scene, run, inPlace[0]!);
  return inPlace.reduce((most, part) => Math.max(most, seen.farthest(part)), 0);
}

const vector = (v: Vec3, digits: number): [number, number, number] => [
  rounded(v[0], digits),
  rounded(v[1], digits),
  rounded(v[2], digits),
];

/** What a welded state comes to once the clamps are open; the state is left as it is. */
export function weldAccount(scene: Scene, welded: DistortionRun, inPlace: readonly number[]): WeldAccount {
  const run = welded.copy();
  run.openClamps();
  const seen = new SeenFromFirst(scene, run, inPlace[0]!);
  const back = transpose(scene.cell.weldmentPose.turn);
  const features = run.deviations();
  return {
    measure: features.length > 0 ? 'tolerance-share' : 'corner-movement',
    value: rounded(weldValue(scene, run, inPlace), DIGITS),
    moved: inPlace.slice(1).flatMap((part) => {
      const { solid, part: of } = scene.parts[part]!;
      const move = vector(rotate(back, seen.at(part, solid.centre)), DIGITS);
      const turn = vector(rotate(back, scale(seen.turn(part), DEGREES)), DEGREE_DIGITS);
      return [...move, ...turn].every((value) => value === 0) ? [] : [{ part: of.id, move, turn }];
    }),
    features: features.map(({ name, deviation, tolerance }) => ({
      ...{ name, tolerance, deviation: rounded(deviation, DIGITS) },
      within: rounded(deviation, DIGITS) <= tolerance,
    })),
  };
}

/** The four ways in which a whole seam is laid. */
export const WELD_WAYS = ['forwards', 'backwards', 'back-step', 'skip'] as const;

export type WeldWay = (typeof WELD_WAYS)[number];

/** A seam as the runs by which one of the ways lays it. Steps are of whole segments. */
export function weldRuns(
  { joint, id, length: size }: SeamPlace,
  way: WeldWay,
  settings: Settings,
): WeldRun[] {
  const place = (share: number): number => rounded(size * share, DIGITS);
  const run = (from: number, to: number): WeldRun => ({ joint: joint.id, seam: id, from, to });
  if (way === 'forwards') return [run(0, place(1))];
  if (way === 'backwards') return [run(place(1), 0)];
  const segments = segmentCount(size, settings);
  const each = Math.max(1, Math.floor(settings.weld.step / settings.weld.segment));
  const steps = Array.from({ length: Math.ceil(segments / each) }, (_, i): [number, number] => [
    place((i * each) / segments),
    place(Math.min(1, ((i + 1) * each) / segments)),
  ]);
  if (way === 'back-step') return steps.map(([start, end]) => run(end, start));
  const [odd, even] = [0, 1].map((rest) => steps.filter((_, i) => i % 2 === rest));
  return [...odd!, ...even!].map(([start, end]) => run(start, end));
}

import { snap } from '../base/order.js';
import { dot, subtract, type Vec3 } from '../geometry/vector.js';
import { Distortion } from '../mechanics/distortion.js';
import type { Spring, Stop } from '../mechanics/point-store.js';
import { GROUND } from '../mechanics/system.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { HeldPart } from './assembly.js';
import { featureDeviations, type FeatureDeviation } from './distortion-features.js';
import { clampSprings, holdSprings, holdStops } from './distortion-holds.js';
import { contactStops, tableStops } from './distortion-stops.js';
import { isBorne, weightSprings } from './distortion-weight.js';
import { seatOf, shrinkingSprings, type ShrinkingTack, type TackSeat } from './distortion-tacks.js';

/** Openings are compared in whole steps of this, mm: the last bit does not decide. */
const OPENING_GRAIN = 1e-4;

/** How a part has moved: its centre in mm, and its turn as a vector in radians. */
export interface PartMotion {
  readonly move: Vec3;
  readonly turn: Vec3;
}

/**
 * The replay of a tack-up in the distortion engine: every part a rigid body, by its index; join one, take a hold, lay
 * tacks one by one, let go. Cell frame with the table at index angle 0. A screening estimate: a
 * part that is brought comes to its nominal place whatever the others did, presses with its weight on what bears it from
 * below once nobody holds it, and what touches pushes but never rubs.
 */
export class DistortionRun {
  private readonly engine: Distortion;
  private readonly joined: Set<number>;
  /** The springs and stops of each part that is held. */
  private readonly holds: Map<number, readonly number[]>;
  /** Those that press on what bears them. */
  private readonly weighing: Set<number>;
  /** The springs of the clamps of the first part; undefined before it has joined and once they are open. */
  private clamps: number | undefined;
  /** Whether something was added or taken away since all last came to rest. */
  private restless: boolean;
  /** Those of the tacks so far, as long as anyone else knows the tack: the same for all copies of a run. */
  private readonly seats: WeakMap<ShrinkingTack, TackSeat>;

  /** Parts that are `fixed` stay where they should be, as part of the ground. */
  constructor(
    private readonly scene: Scene,
    private readonly settings: Settings,
    private readonly fixed: ReadonlySet<number> = new Set(),
    state?: DistortionRun,
  ) {
    this.engine = state?.engine.copy() ?? new Distortion(scene.parts.map(({ solid }) => solid.centre));
    this.joined = new Set(state?.joined);
    this.holds = new Map(state?.holds);
    this.weighing = new Set(state?.weighing);
    this.clamps = state?.clamps;
    this.restless = state?.restless ?? false;
    this.seats = state?.seats ?? new WeakMap<ShrinkingTack, TackSeat>();
  }

  /** The same moment once more, to go on in another way. */
  copy(): DistortionRun {
    return new DistortionRun(this.scene, this.settings, this.fixed, this);
  }

  /** A part is brought to its nominal place; the first one is clamped there. */
  join(part: number): void {
    this.settle();
    const { scene, settings } = this;
    if (this.joined.size === 0) this.clamps = this.add(clampSprings(scene, part, settings));
    const touching = scene.contacts.filter(
      ({ a, b }) => (a === part && this.joined.has(b)) || (b === part && this.joined.has(a)),
    );
    this.addStops([
      ...tableStops(scene, part, settings),
      ...touching.flatMap((contact) => contactStops(contact, settings)),
    ]);
    this.joined.add(part);
    this.restless = true;
  }

  /**
   * A gripper takes hold of a part as it is: of one that just joined at its nominal place, before neighbours that stand in
   * its way push it off.
   */
  hold(held: HeldPart): void {
    if (this.holds.has(held.part)) return;
    const { scene, settings, engine } = this;
    const displacement = (at: Vec3): Vec3 => engine.displacement(held.part, at);
    this.holds.set(held.part, [
      this.add(holdSprings(scene, held, settings)),
      this.addStops(holdStops(scene, held, settings, displacement)),
    ]);
    this.restless = true;
  }

  isHeld(part: number): boolean {
    return this.holds.has(part);
  }

  /** A tack is laid in the shape of the moment and shrinks. */
  lay(tack: ShrinkingTack): void {
    this.settle();
    const opening = this.opening(tack);
    this.add(shrinkingSprings(this.seat(tack), opening));
    this.restless = true;
    this.settle();
  }

  /** A part is let go and springs back; nothing where it is not held. */
  letGo(part: number): void {
    const handles = this.holds.get(part);
    if (handles === undefined) return;
    this.settle();
    for (const handle of handles) this.engine.remove(handle);
    this.holds.delete(part);
    this.restless = true;
    this.settle();
  }

  /** The clamps of the first part are opened, and all springs back; nothing where they are open. */
  openClamps(): void {
    if (this.clamps === undefined) return;
    this.settle();
    this.engine.remove(this.clamps);
    this.clamps = undefined;
    this.restless = true;
    this.settle();
  }

  /** How far the seam stands open at the place of a tack, square to the contact, with its designed gap; mm, never below 0. */
  opening(tack: ShrinkingTack): number {
    const { a, b, at, gap } = tack;
    const apart = subtract(this.displacement(b, at), this.displacement(a, at));
    return Math.max(0, gap + dot(apart, this.seat(tack).across));
  }

  motion(part: number): PartMotion {
    this.settle();
    return this.engine.motion(part);
  }

  /** Where the point of a part has gone that was at `at`, mm. */
  displacement(part: number, at: Vec3): Vec3 {
    this.settle();
    return this.engine.displacement(part, at);
  }

  /** The tolerance features of the weldment, in the order of its file. */
  deviations(): readonly FeatureDeviation[] {
    return featureDeviations(this.scene, this.settings, (part, at) => this.displacement(part, at));
  }

  private seat(tack: ShrinkingTack): TackSeat {
    let seat = this.seats.get(tack);
    if (!seat) this.seats.set(tack, (seat = seatOf(this.scene, tack, this.settings)));
    return seat;
  }

  private add(springs: readonly Spring[]): number {
    return this.engine.add(this.grounded(springs));
  }

  private addStops(stops: readonly Stop[]): number {
    return this.engine.addStops(this.grounded(stops));
  }

  /** Springs or stops with ground in place of what is fixed, less those that then join nothing that moves. */
  private grounded<T extends Spring | Stop>(points: readonly T[]): readonly T[] {
    if (this.fixed.size === 0) return points;
    const body = (part: number): number => (this.fixed.has(part) ? GROUND : part);
    return points
      .map((point) => ({ ...point, a: body(point.a), b: body(point.b) }))
      .filter(({ a, b }) => a !== b);
  }

  /** What is not held any more, or never was, presses with its weight on what bears it from below, from then on. */
  private weigh(): void {
    for (const part of this.joined) {
      if (this.weighing.has(part) || this.holds.has(part)) continue;
      if (!isBorne(this.scene, part, (other) => this.joined.has(other))) continue;
      this.add(weightSprings(this.scene, part));
      this.weighing.add(part);
    }
  }

  /** Lets all come to rest; asking where parts are does so by itself. */
  settle(): void {
    if (!this.restless) return;
    this.weigh();
    this.engine.settle();
    this.restless = false;
  }
}

/** A stage as the prediction of distortion sees it, whoever decided it. Parts by index. */
export interface DistortionStage {
  readonly part: number;
  /** All that is held while the securing tacks are laid, also what is held since an earlier stage. */
  readonly holds: readonly HeldPart[];
  /** In the order in which they are laid. */
  readonly securing: readonly ShrinkingTack[];
  readonly completing: readonly ShrinkingTack[];
  /** Whether the newcomer is held on until a later part has joined. */
  readonly heldOn: boolean;
}

/** Something that happens in a stage, after which parts may have moved. */
export type DistortionEvent =
  | { readonly kind: 'join' | 'let-go'; readonly part: number }
  | {
      readonly kind: 'tack';
      readonly tack: ShrinkingTack;
      /** How far its seam stood open there just before, mm. */
      readonly before: number;
    };

/** The newcomer of a stage comes and is held, or stands and an earlier part is taken. */
export function beginStage(run: DistortionRun, { part, holds }: DistortionStage): void {
  run.join(part);
  for (const own of holds.filter((hold) => hold.part === part)) run.hold(own);
  run.settle();
  for (const other of holds.filter((hold) => hold.part !== part)) run.hold(other);
}

/** The parts that are let go after the securing tacks of a stage, in that order: the newcomer last, unless it is held on. */
export const letGoIn = ({ part, holds, heldOn }: DistortionStage): readonly number[] => [
  ...holds.map((hold) => hold.part).filter((held) => held !== part),
  ...(heldOn ? [] : [part]),
];

/**
 * The one order of events of a stage: the newcomer comes and is held, or stands and an earlier part is taken; the
 * securing tacks; what is held is let go, the earlier part first and a newcomer that is held on not at all; the
 * completing tacks. `after` is told each event as soon as all has come to rest; all events are given back.
 */
export function runStage(
  run: DistortionRun,
  stage: DistortionStage,
  after: (event: DistortionEvent) => void = () => undefined,
): readonly DistortionEvent[] {
  const events: DistortionEvent[] = [];
  const told = (event: DistortionEvent): void => {
    events.push(event);
    after(event);
  };
  beginStage(run, stage);
  told({ kind: 'join', part: stage.part });
  const lay = (tack: ShrinkingTack): void => {
    const before = run.opening(tack);
    run.lay(tack);
    told({ kind: 'tack', tack, before });
  };
  stage.securing.forEach(lay);
  for (const gone of letGoIn(stage)) {
    if (!run.isHeld(gone)) continue;
    run.letGo(gone);
    told({ kind: 'let-go', part: gone });
  }
  stage.completing.forEach(lay);
  return events;
}

/** Whether a seam that stands open by so many mm can still be tacked. */
export const canBeTacked = ({ weldment }: Pick<Scene, 'weldment'>, opening: number): boolean =>
  snap(opening, OPENING_GRAIN) <= weldment.fitUp.gap;

/** The tack of some events whose seam stood open farthest before it, where that is more than may still be tacked. */
export function worstOpening(
  { weldment }: Scene,
  events: readonly DistortionEvent[],
): { readonly tack: ShrinkingTack; readonly opening: number; readonly limit: number } | undefined {
  const limit = weldment.fitUp.gap;
  let worst: { readonly tack: ShrinkingTack; readonly opening: number } | undefined;
  for (const event of events) {
    if (event.kind !== 'tack') continue;
    const opening = snap(event.before, OPENING_GRAIN);
    if (opening <= limit || (worst !== undefined && opening <= worst.opening)) continue;
    worst = { tack: event.tack, opening };
  }
  return worst && { ...worst, limit };
}

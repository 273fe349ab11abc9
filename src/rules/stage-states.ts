import type { Vec3 } from '../geometry/vector.js';
import type { PlanReserve } from '../model/plan.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import { arrivalLoads, seatingLoads } from './arrival-loads.js';
import { hotTack, secondsAsLeft, secondsAtLetGo, tacksAsLaid } from './hot-tacks.js';
import type { AssemblyState, HeldPart, LaidTack } from './assembly.js';
import { liftOutLoads } from './lift-out.js';
import {
  letGoLoad,
  otherLetGoLoad,
  proofLoad,
  pushLoads,
  torchLoads,
  wireLoads,
  type PartLoad,
  type TouchedTack,
} from './load-cases.js';
import { looseLoads } from './loose-parts.js';
import { attractionLoads } from './magnet-attraction.js';
import { tableTurnLoads } from './table-turn-loads.js';

/** A state inside a stage and the loads it must carry. */
export interface StageState {
  readonly state: PlanReserve['state'];
  /** What sets it apart from other states of the same kind; empty where there is one only. */
  readonly note: string;
  readonly assembly: AssemblyState;
  readonly loads: readonly PartLoad[];
}

/** A stage as statics sees it, whoever decided it. Parts by index, cell frame. */
export interface StageMoment {
  readonly part: number;
  /** Unit direction of travel into place; undefined where it is none. */
  readonly direction: Vec3 | undefined;
  /** Parts in place, in the order they joined, and the tacks of earlier stages. */
  readonly before: readonly number[];
  readonly laid: readonly LaidTack[];
  /** The grip that puts the newcomer in place; undefined when it is not known. */
  readonly placing: HeldPart | undefined;
  /** Whether the newcomer is held while its securing tacks are laid. */
  readonly held: boolean;
  /** Whether it is held on after its tacks, until a later part joins. */
  readonly heldOn: boolean;
  /** An earlier part that is held meanwhile. */
  readonly other: HeldPart | undefined;
  /** Whether that part is held from an earlier stage on, so that it is held already while the newcomer comes. */
  readonly otherKept: boolean;
  /** In the order in which they are laid. */
  readonly securing: readonly TouchedTack[];
  readonly completing: readonly TouchedTack[];
  /** N by which the part held is pulled at before it is let go; undefined for none. */
  readonly proofPull: number | undefined;
  /** Whether the table turns after it, with all parts in place; absent: it does not. */
  readonly turnedAfter?: boolean;
}

/**
 * The states of a stage that must be carried, in the order of events (design, section 6): the parts in place while the
 * newcomer comes; the newcomer held, before and after each securing tack; let go, also with any one
 * securing tack missing, of a part held on until then too, unless a pull has proved them; with all tacks; before a stage at another index angle, on the turning table; and, after the last stage, lifted out. Where an
 * earlier part is held instead, the newcomer stands by itself before that; of two holds the earlier part is let go first;
 * a newcomer that is held on is not let go in its stage. Pushes are not repeated after each securing
 * tack: a tack adds forces that can be and takes none away. Tacks of the stage count as hot as they still are: while
 * tacking as long after their arcs as they are at least, at the let-go as long as a part is held on; later stages find
 * them cold.
 */
export function stageStates(scene: Scene, moment: StageMoment, settings: Settings): readonly StageState[] {
  return new StageStates(scene, moment, settings).all();
}

/** What a state carries beside its loads from outside: tacks, holds, and where a torch or its wire may pull. */
interface Situation {
  /** Seconds since the arcs of `tacks`, at least: they are still hot. */
  readonly seconds?: number;
  /** A tack of an earlier stage that does not hold. */
  readonly lost?: LaidTack;
  readonly tacks?: readonly TouchedTack[];
  readonly held?: readonly HeldPart[];
  readonly touched?: readonly TouchedTack[];
  readonly wired?: readonly TouchedTack[];
}

class StageStates {
  private readonly inPlace: readonly number[];
  private readonly pushes: readonly PartLoad[];

  constructor(
    private readonly scene: Scene,
    private readonly moment: StageMoment,
    private readonly settings: Settings,
  ) {
    this.inPlace = [...moment.before, moment.part];
    this.pushes = pushLoads(scene, moment.part, moment.before, settings);
  }

  all(): readonly StageState[] {
    return [
      ...this.arriving(),
      ...this.standing(),
      ...this.whileHeld(),
      ...this.onceLetGo(),
      this.complete(),
      ...this.turning(),
      ...this.liftedOut(),
    ];
  }

  private get holds(): readonly HeldPart[] {
    const { placing, held, other } = this.moment;
    return [...(held && placing ? [placing] : []), ...(other ? [other] : [])];
  }

  private get everyTack(): readonly TouchedTack[] {
    return [...this.moment.securing, ...this.moment.completing];
  }

  private state(
    state: StageState['state'],
    note: string,
    { lost, tacks = [], seconds, held = [], touched = [], wired = [] }: Situation,
    loads: readonly PartLoad[],
  ): StageState {
    const { scene, settings } = this;
    const { part, laid } = this.moment;
    const assembly = {
      inPlace: this.inPlace,
      tacks: [...laid.filter((tack) => tack !== lost), ...this.hot(tacks, seconds)],
      held,
    };
    const all = [
      ...loads,
      ...touched.flatMap(({ touch }) => torchLoads(part, touch, settings)),
      ...wired.flatMap(({ touch }) => wireLoads(part, touch, settings)),
      ...looseLoads(scene, assembly, part, this.moment.other?.part, { touched, wired }, settings),
    ];
    return { state, note, assembly, loads: all };
  }

  /** Tacks so many seconds after their arcs, or while the last of them is being finished. */
  private hot(tacks: readonly TouchedTack[], seconds: number | undefined): readonly LaidTack[] {
    const { scene, settings } = this;
    if (seconds === undefined) return tacksAsLaid(scene, tacks, settings);
    return tacks.map(({ tack }) => hotTack(scene, tack, seconds, settings));
  }

  private arriving(): StageState[] {
    const { part, direction, before, laid, other, otherKept } = this.moment;
    const held = other && otherKept ? [other] : [];
    const loads = direction ? arrivalLoads(this.scene, part, direction, before, this.settings) : [];
    if (loads.length === 0) return [];
    return [{ state: 'arriving', note: '', assembly: { inPlace: before, tacks: laid, held }, loads }];
  }

  private standing(): StageState[] {
    const { part, placing, held, other } = this.moment;
    if (held || other === undefined || placing === undefined) return [];
    const pull = letGoLoad(this.scene, part, placing.grip, placing.gripper);
    return [this.state('standing', '', {}, [...this.pushes, pull])];
  }

  private whileHeld(): StageState[] {
    const { part, direction, securing, held: own } = this.moment;
    const held = this.holds;
    if (held.length === 0) return [];
    const seating = own && direction ? seatingLoads(this.scene, part, direction, this.settings) : [];
    const attracted = held.flatMap((one) => attractionLoads(this.scene, one, this.inPlace));
    return [
      this.state('held', '', { held, touched: securing }, [...this.pushes, ...seating, ...attracted]),
      ...this.powerLost(held),
      ...securing.map((last, i) => {
        // Another torch may have laid none of its tacks by then.
        const tacks = securing.slice(0, i + 1).filter(({ robot }) => robot === last.robot);
        const touched = securing.filter((tack) => !tacks.includes(tack));
        return this.state('tacking', `after ${last.touch.id}`, { tacks, held, touched, wired: [last] }, []);
      }),
    ];
  }

  /**
   * Grippers that keep nothing when power fails, with the part before its first tack: it must stand, and no other part
   * may be what it stands by that falls itself.
   */
  private powerLost(held: readonly HeldPart[]): StageState[] {
    if (!held.some(({ gripper }) => gripper.powerLoss.kind === 'must-stand')) return [];
    const kept = held.filter(({ gripper }) => gripper.powerLoss.kind === 'stored-seconds');
    const { assembly } = this.state('power-lost', '', { held: kept }, []);
    return [{ state: 'power-lost', note: '', assembly, loads: [] }];
  }

  private onceLetGo(): StageState[] {
    const { scene } = this;
    const { part, placing, held, other, securing, completing, proofPull } = this.moment;
    if (placing === undefined || this.moment.heldOn) return [];
    const last = !held && other ? other : placing;
    const { grip, gripper } = last;
    const otherPull = other ? [otherLetGoLoad(scene, other)] : [];
    const ownPull = last === placing ? [letGoLoad(scene, part, grip, gripper)] : [];
    const loads = [...this.pushes, ...ownPull, ...otherPull];
    const proof = proofPull === undefined ? [] : [proofLoad(scene, last.part, grip, gripper, proofPull)];
    const seconds = secondsAtLetGo(scene.cell);
    const later = { seconds, touched: completing, wired: completing };
    const lost = proofPull === undefined ? securing : [];
    const oneLetGo = { tacks: securing, seconds, held: [placing] };
    return [
      ...(held && other ? [this.state('one-let-go', '', oneLetGo, [...this.pushes, ...otherPull])] : []),
      this.state('let-go', '', { tacks: securing, ...later }, [...loads, ...proof]),
      ...lost.map((one) => {
        const tacks = securing.filter((tack) => tack !== one);
        return this.state('one-tack-lost', `without ${one.touch.id}`, { tacks, ...later }, loads);
      }),
      ...(proofPull === undefined ? this.keptTacks : []).map((one, i) => {
        const note = `without tack ${i + 1} of ${scene.parts[other!.part]!.part.id}`;
        return this.state('one-tack-lost', note, { lost: one, tacks: securing, ...later }, loads);
      }),
    ];
  }

  /** The tacks of an earlier part that is held on until now, so that its let-go hangs on them too. */
  private get keptTacks(): readonly LaidTack[] {
    const { other, otherKept, laid } = this.moment;
    return other && otherKept ? laid.filter(({ a, b }) => a === other.part || b === other.part) : [];
  }

  private complete(): StageState {
    const { laid, securing, completing, heldOn } = this.moment;
    const { cell } = this.scene;
    const tacks = [
      ...laid,
      ...this.hot(securing, heldOn ? secondsAsLeft(cell) : secondsAtLetGo(cell)),
      ...this.hot(completing, secondsAsLeft(cell)),
    ];
    const assembly = { inPlace: this.inPlace, tacks, held: heldOn ? this.holds : [] };
    const loose = looseLoads(
      this.scene,
      assembly,
      this.moment.part,
      this.moment.other?.part,
      { touched: [], wired: [] },
      this.settings,
    );
    return { state: 'complete', note: '', assembly, loads: [...this.pushes, ...loose] };
  }

  /** All tacks, cold: before the table turns or a hoist lifts, and as the next part comes, the torch has gone home. */
  private get coldTacks(): readonly LaidTack[] {
    return [...this.moment.laid, ...this.everyTack.map(({ tack }) => tack)];
  }

  /** Nothing is held while the table turns, and no robot is near. */
  private turning(): StageState[] {
    if (this.moment.turnedAfter !== true) return [];
    const assembly = { inPlace: this.inPlace, tacks: this.coldTacks, held: [] };
    return [{ state: 'turning', note: '', assembly, loads: tableTurnLoads(this.scene, this.inPlace) }];
  }

  private liftedOut(): StageState[] {
    if (this.moment.before.length === 0 || this.inPlace.length < this.scene.parts.length) return [];
    const loads = liftOutLoads(this.scene, this.inPlace, this.settings);
    if (loads.length === 0) return [];
    const assembly = { inPlace: this.inPlace, tacks: this.coldTacks, held: [], lifted: true };
    return [{ state: 'lifted-out', note: '', assembly, loads }];
  }
}

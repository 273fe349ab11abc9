import { distance, type Vec3 } from '../geometry/vector.js';
import type { GripWish, HeldWish, RegripsWish, TackWish, Wish } from '../model/wish.js';

/** A grip that puts a part in place; of a weldment without shapes only the gripper is known, null where any will do. */
export interface WishGrip {
  readonly gripper: string | null;
  readonly robot?: string;
  readonly face?: string;
  /** mm from the face centre, along the face axes. */
  readonly position?: readonly [number, number];
  /** Degrees about the face normal. */
  readonly turn?: number;
  /** Of pads; null: all. */
  readonly group?: string | null;
}

/** A stage as far as wishes ask about it. */
export interface WishStage {
  readonly part: string;
  /** Undefined where a person sets the part. */
  readonly grip: WishGrip | undefined;
  readonly regrips: number;
  /** Whether a robot holds the part while its securing tacks are laid. */
  readonly held: boolean;
  readonly tacks: readonly { readonly between: readonly [string, string]; readonly middle: Vec3 }[];
}

/** How far a grip may be off the position that is wished, mm along either axis of the face; what a plan states is exact. */
const POSITION = 0.1 + 1e-9;

/** How far it may be off the turn that is wished, degrees. */
const TURN = 0.1 + 1e-9;

/** A last bit of a distance, mm. */
const GRAIN = 1e-6;

/** Whether stages do what a wish asks for or forbids. What is said of a part that is in none of them is not done. */
function doesWish(wish: Wish, stages: readonly WishStage[]): boolean {
  const numberOf = (part: string): number => stages.findIndex((stage) => stage.part === part);
  if ('before' in wish) {
    const [earlier, later] = wish.before.map(numberOf) as [number, number];
    return earlier >= 0 && earlier < later;
  }
  if ('first' in wish) return stages[0]?.part === wish.first;
  if ('tack' in wish) return stages.some((stage) => hasTack(wish, stage));
  const stage = stages.find(({ part }) => part === partOf(wish));
  if (stage === undefined) return false;
  if ('grip' in wish) return stage.grip !== undefined && isGrip(wish, stage.grip);
  if ('regrips' in wish) return stage.regrips <= wish.most;
  return stage.held;
}

/** Whether stages keep a wish: do what it asks for, or do not do what it forbids. */
export const keepsWish = (wish: Wish, stages: readonly WishStage[]): boolean =>
  doesWish(wish, stages) !== wish.never;

const partOf = (wish: GripWish | RegripsWish | HeldWish): string =>
  'grip' in wish ? wish.grip : 'regrips' in wish ? wish.regrips : wish.held;

/** What a grip wish asks for, against a grip; what either leaves open fits. */
export function isGrip(
  wish: Pick<GripWish, 'gripper' | 'face' | 'position' | 'turn' | 'group' | 'robot'>,
  grip: WishGrip,
): boolean {
  const { gripper, face, position, turn, group, robot } = wish;
  if (gripper !== undefined && gripper !== grip.gripper) return false;
  if (robot !== undefined && robot !== grip.robot) return false;
  if (face !== undefined && face !== grip.face) return false;
  if (group !== undefined && group !== grip.group) return false;
  if (turn !== undefined && !isTurned(turn, grip.turn)) return false;
  return position === undefined || isAt(position, grip.position);
}

/** Whether two turns differ by whole turns. */
const isTurned = (wished: number, turn: number | undefined): boolean =>
  turn !== undefined && Math.abs(wished - turn - 360 * Math.round((wished - turn) / 360)) <= TURN;

const isAt = (wished: readonly [number, number], position: WishGrip['position']): boolean =>
  position !== undefined && wished.every((value, i) => Math.abs(value - position[i]!) <= POSITION);

/** Whether the middle of a tack, in the weldment frame, is where a wish has it. */
export const isNear = ({ near, within }: Pick<TackWish, 'near' | 'within'>, middle: Vec3): boolean =>
  distance(near, middle) <= within + GRAIN;

const hasTack = (wish: TackWish, { tacks }: WishStage): boolean =>
  tacks.some(
    ({ between, middle }) => wish.tack.every((part) => between.includes(part)) && isNear(wish, middle),
  );

/** Parts that a wish names. */
export function partsOfWish(wish: Wish): readonly string[] {
  if ('before' in wish) return wish.before;
  if ('first' in wish) return [wish.first];
  if ('tack' in wish) return wish.tack;
  return [partOf(wish)];
}

/** What breaking wishes counts: the weights of the soft ones among them. */
export const weightOf = (broken: readonly Wish[]): number =>
  broken.reduce((sum, { soft, weight }) => sum + (soft ? weight : 0), 0);

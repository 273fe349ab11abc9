import type { Solid } from '../geometry/solid.js';
import type { Cell, Gripper, Handler } from '../model/cell.js';
import { flatFaces } from '../model/part-geometry.js';
import { gripperSolid, type GripPlace } from '../model/placement.js';
import type { Handling, Stage } from '../model/plan.js';
import type { PlacedPart, Scene } from '../model/scene.js';
import { sceneAt } from '../model/table-turn.js';
import { gripPlaceOf } from './plan-frames.js';
import type { RuleContext } from './rule.js';
import { angleOf, seenStage } from './seen-stage.js';

/** A stage whose part is known, and what stands when it begins. */
export interface StageView {
  /** Place in the plan's list, from 0. */
  readonly index: number;
  readonly where: string;
  /** As seen from the table at index angle 0 (seen-stage.ts). */
  readonly stage: Stage;
  /** The scene with what stands in the cell as seen from the table in this stage: arms at the place, and keep-outs. */
  readonly scene: Scene;
  /** Index of the part that joins. */
  readonly part: number;
  readonly placed: PlacedPart;
  /** Indices of the parts in place before, in the order they joined. */
  readonly before: readonly number[];
}

/** One grip of a stage whose gripper and robot, as it stands in the cell, are known. */
export interface HandlingView {
  readonly robot: Handler;
  readonly where: string;
  readonly handling: Handling;
  readonly grip: GripPlace;
  readonly gripper: Gripper;
  readonly last: boolean;
}

/**
 * The stages as far as their parts are known; one that brings a part a second time is left out, since the rule
 * each-part-once speaks of it.
 */
export function stageViews({ plan, scene }: Pick<RuleContext, 'plan' | 'scene'>): readonly StageView[] {
  const views: StageView[] = [];
  const before: number[] = [];
  plan.stages.forEach((stage, index) => {
    const part = scene.index.get(stage.part);
    if (part === undefined || before.includes(part)) return;
    const placed = scene.parts[part]!;
    views.push({
      ...{ index, where: `stages[${index}]`, part, placed, before: [...before] },
      stage: seenStage(scene.cell, stage),
      scene: sceneAt(scene, angleOf(scene.cell, stage)),
    });
    before.push(part);
  });
  return views;
}

/** A handling robot of the cell by its name. */
export const handlerNamed = ({ handlers }: Cell, name: string | null | undefined): Handler | undefined =>
  handlers.find(({ id }) => id === name);

/** The grips of a stage as far as its robot and their grippers are in the cell and their faces are flat ones of the part. */
export const handlingViews = ({ cell }: Pick<RuleContext, 'cell'>, view: StageView): HandlingView[] =>
  view.stage.handling.flatMap((handling, i) => {
    const robot = handlerNamed(cell, view.stage.robot);
    const gripper = cell.grippers.find(({ id }) => id === handling.grip.gripper);
    const { shape } = view.placed.part;
    if (gripper === undefined || robot === undefined) return [];
    if (!flatFaces(shape).some(({ id }) => id === handling.grip.face)) return [];
    const last = i === view.stage.handling.length - 1;
    const where = `${view.where}.handling[${i}]`;
    return [{ robot, where, handling, grip: gripPlaceOf(handling.grip), gripper, last }];
  });

/** A part in its final place and the grip that holds it there. */
export interface HolderView {
  readonly where: string;
  readonly part: number;
  readonly placed: PlacedPart;
  readonly grip: GripPlace;
  readonly gripper: Gripper;
  readonly robot: Handler;
  /** Whether it holds since it brought the part. */
  readonly kept: boolean;
}

/** The hold of an earlier part, as far as that part is in place and robot and gripper in the cell. */
export function otherHolder(
  { cell, scene }: Pick<RuleContext, 'cell' | 'scene'>,
  { stage, before, where }: StageView,
): HolderView | undefined {
  const stated = stage.alsoHeld;
  const part = stated && scene.index.get(stated.part);
  const gripper = cell.grippers.find(({ id }) => id === stated?.grip.gripper);
  const robot = handlerNamed(cell, stated?.robot);
  if (stated === undefined || part === undefined || !before.includes(part)) return undefined;
  if (gripper === undefined || robot === undefined) return undefined;
  const placed = scene.parts[part]!;
  const grip = gripPlaceOf(stated.grip);
  return { where: `${where}.alsoHeld`, part, placed, grip, gripper, robot, kept: stated.approach === null };
}

/** All grips that hold a part in its final place while the securing tacks of a stage are laid. */
export function holdersOf(
  context: Pick<RuleContext, 'cell' | 'scene'>,
  view: StageView,
): readonly HolderView[] {
  const own = view.stage.held === null ? undefined : placingGrip(context, view);
  const other = otherHolder(context, view);
  const { part, placed } = view;
  return [...(own ? [{ ...own, part, placed, kept: false }] : []), ...(other ? [other] : [])];
}

/** The grip by which the part is put in its final place; undefined when its gripper is unknown. */
export const placingGrip = (context: Pick<RuleContext, 'cell'>, view: StageView): HandlingView | undefined =>
  handlingViews(context, view).find(({ last }) => last);

/** Holds that last since an earlier stage while a part is brought. */
export const keptHolds = (
  context: Pick<RuleContext, 'cell' | 'scene'>,
  view: StageView,
): readonly HolderView[] => [otherHolder(context, view)].flatMap((one) => (one?.kept ? [one] : []));

/** The envelopes of grippers that hold, with what to call them. */
export const grippersOf = (
  holders: readonly HolderView[],
): readonly { readonly name: string; readonly solid: Solid }[] =>
  holders.map(({ placed, grip, gripper }) => ({
    name: `gripper ${gripper.id}`,
    solid: gripperSolid(placed.part.shape, placed.pose, grip, gripper),
  }));

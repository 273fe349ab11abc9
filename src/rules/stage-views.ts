import type { Gripper } from '../model/cell.js';
import { flatFaces } from '../model/part-geometry.js';
import type { GripPlace } from '../model/placement.js';
import type { Handling, Stage } from '../model/plan.js';
import type { PlacedPart } from '../model/scene.js';
import { gripPlaceOf } from './plan-frames.js';
import type { RuleContext } from './rule.js';

/** A stage whose part is known, and what stands when it begins. */
export interface StageView {
  /** Place in the plan's list, from 0. */
  readonly index: number;
  readonly where: string;
  readonly stage: Stage;
  /** Index of the part that joins. */
  readonly part: number;
  readonly placed: PlacedPart;
  /** Indices of the parts in place before, in the order they joined. */
  readonly before: readonly number[];
}

/** One grip of a stage whose gripper is known. */
export interface HandlingView {
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
    views.push({ index, where: `stages[${index}]`, stage, part, placed, before: [...before] });
    before.push(part);
  });
  return views;
}

/** The grips of a stage as far as their grippers are in the cell and their faces are flat ones of the part. */
export const handlingViews = ({ cell }: Pick<RuleContext, 'cell'>, view: StageView): HandlingView[] =>
  view.stage.handling.flatMap((handling, i) => {
    const gripper = cell.grippers.find(({ id }) => id === handling.grip.gripper);
    const { shape } = view.placed.part;
    if (gripper === undefined || !flatFaces(shape).some(({ id }) => id === handling.grip.face)) return [];
    const last = i === view.stage.handling.length - 1;
    const where = `${view.where}.handling[${i}]`;
    return [{ where, handling, grip: gripPlaceOf(handling.grip), gripper, last }];
  });

/** A part in its final place and the grip that holds it there. */
export interface HolderView {
  readonly where: string;
  readonly part: number;
  readonly placed: PlacedPart;
  readonly grip: GripPlace;
  readonly gripper: Gripper;
}

/** The hold of an earlier part, as far as that part is in place and the gripper in the cell. */
export function otherHolder(
  { cell, scene }: Pick<RuleContext, 'cell' | 'scene'>,
  { stage, before, where }: StageView,
): HolderView | undefined {
  const stated = stage.alsoHeld;
  const part = stated && scene.index.get(stated.part);
  const gripper = cell.grippers.find(({ id }) => id === stated?.grip.gripper);
  if (stated === undefined || part === undefined || gripper === undefined || !before.includes(part))
    return undefined;
  const placed = scene.parts[part]!;
  return { where: `${where}.alsoHeld`, part, placed, grip: gripPlaceOf(stated.grip), gripper };
}

/** All grips that hold a part in its final place while the securing tacks of a stage are laid. */
export function holdersOf(
  context: Pick<RuleContext, 'cell' | 'scene'>,
  view: StageView,
): readonly HolderView[] {
  const own = view.stage.held === null ? undefined : placingGrip(context, view);
  const other = otherHolder(context, view);
  const { part, placed } = view;
  return [...(own ? [{ ...own, part, placed }] : []), ...(other ? [other] : [])];
}

/** The grip by which the part is put in its final place; undefined when its gripper is unknown. */
export const placingGrip = (context: Pick<RuleContext, 'cell'>, view: StageView): HandlingView | undefined =>
  handlingViews(context, view).find(({ last }) => last);

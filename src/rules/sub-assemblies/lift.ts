import { place, type Pose } from '../../geometry/pose.js';
import { scale } from '../../geometry/vector.js';
import { judge } from '../../mechanics/equilibrium.js';
import { movedDisturbance } from '../../mechanics/moved-system.js';
import type { Disturbance } from '../../mechanics/system.js';
import type { Element } from '../../mechanics/verdict.js';
import { padsInCell } from '../../model/placement.js';
import type { PlanLift } from '../../model/plan-sub-assembly.js';
import type { HeldPart } from '../assembly.js';
import { governingInertia, inertiaWays } from '../carried.js';
import { carriedPoses } from '../grip-carries.js';
import { sound } from '../judged-reserves.js';
import type { RuleContext } from '../rule.js';
import { handlingViews, stageViews } from '../stage-views.js';
import { hangingGroup, type HangingGroup } from './hanging-group.js';

/** Places of a grip in which it carries, in the order of `carriedPoses`. */
const PLACES = ['taken', 'home', 'put'] as const;

/**
 * What a sub-assembly carries while it is handled as one part of `main`: its weight and its inertia in every way, at each
 * pose of each grip of the stage in which it joins. Solved from nothing. None where no such stage, grip or face is known,
 * or numbers cannot belong to a cell: the matter of other rules.
 */
export function liftsIn(main: RuleContext, name: string): readonly PlanLift[] {
  const view = stageViews(main).find(({ stage }) => stage.part === name);
  if (view === undefined) return [];
  return handlingViews(main, view).flatMap(({ grip, gripper, robot, handling }): PlanLift[] => {
    const held = { part: view.part, grip, gripper, robot };
    return carriedPoses(main, held, handling).flatMap((pose, i) => {
      const number = view.stage.handling.indexOf(handling) + 1;
      return liftsAt(main, held, pose).map((lift) => ({ grip: number, at: PLACES[i]!, ...lift }));
    });
  });
}

/** The least sure of these, the first of equals by reserve over what is required; undefined where there are none. */
export const leastOf = ([first, ...others]: readonly PlanLift[]): PlanLift | undefined =>
  first &&
  others.reduce(
    (least, next) => (next.reserve / next.required < least.reserve / least.required ? next : least),
    first,
  );

/** What a sub-assembly carries least surely while it is handled as one part of `main`; undefined where `liftsIn` has none. */
export const leastLift = (main: RuleContext, name: string): PlanLift | undefined =>
  leastOf(liftsIn(main, name));

type Lift = Omit<PlanLift, 'grip' | 'at'>;

/** Every load of a hanging sub-assembly at one pose, with what gives out first. */
function liftsAt(main: RuleContext, held: HeldPart, pose: Pose): readonly Lift[] {
  const { scene, settings, programs } = main;
  const hanging = hangingGroup(scene, held, pose, settings);
  if (hanging === undefined || !sound(hanging.system)) return [];
  const { system, frame } = hanging;
  const loads = inertiaLoads(main, held, pose, hanging).map((load) => movedDisturbance(load, frame));
  const { gravity, disturbances } = judge(programs, system, loads, { cold: true });
  const named = (element: Element | undefined): string => weakestText(element, hanging, held);
  const weight: Lift = {
    ...{ case: 'gravity', required: settings.reserves.gravity, reserve: gravity.reserve },
    weakest: named(gravity.weakest),
  };
  if (!gravity.stands) return [weight];
  const { required } = governingInertia(settings);
  return [
    weight,
    ...disturbances.map(({ name, reserve, weakest }) => ({
      ...{ case: name, required, reserve, weakest: named(weakest) },
    })),
  ];
}

/** Inertia in every way of all parts of the sub-assembly at once, each about its own centre of mass; cell frame. */
function inertiaLoads(
  { scene, settings }: RuleContext,
  { part, grip, gripper }: HeldPart,
  pose: Pose,
  { inside, moved }: HangingGroup,
): Disturbance[] {
  const { name, acceleration } = governingInertia(settings);
  if (acceleration === 0) return [];
  const { into } = padsInCell(scene.parts[part]!.part.shape, pose, grip, gripper);
  return inertiaWays(scene, into).map(([way, direction]) => ({
    name: `${name} ${way}`,
    forces: inside.members.map(({ mass, solid }, body) => ({
      ...{ body, force: scale(direction, mass * acceleration), at: place(moved, solid.centre) },
    })),
  }));
}

/** What gives out first, in words. */
function weakestText(
  element: Element | undefined,
  { inside: { members }, system: { bearings, links } }: HangingGroup,
  { gripper, robot }: HeldPart,
): string {
  if (element === undefined) return '';
  const { kind, index } = element;
  const pair = ({ a, b }: { readonly a: number; readonly b: number }): string =>
    `${members[a]!.id} and ${members[b]!.id}`;
  switch (kind) {
    case 'bearing':
      return `contact of ${pair(bearings[index]!)}`;
    case 'link':
      return `tack between ${pair(links[index]!)}`;
    case 'pad':
      return `pad ${index + 1} of ${gripper.id}`;
    case 'hold':
      return `the arm of ${robot.id}`;
  }
}

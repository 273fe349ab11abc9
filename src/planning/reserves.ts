import { rounded } from '../base/order.js';
import type { Facts } from '../facts/facts.js';
import { prepare } from '../mechanics/equilibrium.js';
import type { System } from '../mechanics/system.js';
import type { Element, Verdict } from '../mechanics/verdict.js';
import type { PlanReserve } from '../model/plan.js';
import { assemblySystem, type Assembly, type AssemblyState, type LaidTack } from '../rules/assembly.js';
import {
  asDisturbances,
  familyOf,
  letGoLoad,
  otherLetGoLoad,
  LOAD_FAMILIES,
  pushLoads,
  torchLoads,
  type PartLoad,
} from '../rules/load-cases.js';
import { looseLoads } from '../rules/loose-parts.js';
import { firstShort, QUICK_MARGIN } from './first-short.js';
import { touchOf } from './securing.js';
import type { StageDraft, StageTack } from './stage-draft.js';
import { heldBy } from './tack-layout.js';

/** A state inside a stage and the loads it must carry. */
export interface StageState {
  readonly state: PlanReserve['state'];
  readonly assembly: AssemblyState;
  readonly loads: readonly PartLoad[];
}

/**
 * The states of a stage that are judged: held before the first tack, let go with the securing tacks, complete; where an
 * earlier part is taken hold of, the newcomer standing by itself before that; where the newcomer is held on, complete
 * and still held; of two holds the one that is let go first.
 * `before` are the parts in place, in the order they joined; `laid` the tacks of earlier stages.
 */
export function stageStates(
  facts: Facts,
  draft: StageDraft,
  before: readonly number[],
  laid: readonly LaidTack[],
): readonly StageState[] {
  const { scene, settings } = facts;
  const { part, way, tacks } = draft;
  const { grip } = way;
  const inPlace = [...before, part];
  const of = (phase: StageTack['phase']): readonly StageTack[] =>
    tacks.filter((tack) => tack.phase === phase);
  const pushes = pushLoads(scene, part, settings);
  const state = (
    name: StageState['state'],
    assembly: Omit<AssemblyState, 'inPlace'>,
    own: readonly PartLoad[],
    touched: readonly StageTack[],
  ): StageState => {
    const joints = touched.map((tack) => ({ a: tack.a, b: tack.b, touch: touchOf(tack, tack.id) }));
    const whole = { ...assembly, inPlace };
    const touches = joints.flatMap(({ touch }) => torchLoads(part, touch, settings));
    const loads = [
      ...own,
      ...touches,
      ...looseLoads(scene, whole, part, draft.alsoHeld?.part, joints, settings),
    ];
    return { state: name, assembly: whole, loads };
  };
  const pull = letGoLoad(scene, part, grip, grip.gripper);
  const secured = { tacks: [...laid, ...of('securing')], held: [] };
  const letGo = state('let-go', secured, [...pushes, pull], of('completing'));
  const complete = state('complete', { tacks: [...laid, ...tacks], held: [] }, pushes, []);
  const other = draft.alsoHeld && heldBy(draft.alsoHeld);
  const otherPull = other ? [otherLetGoLoad(scene, other)] : [];
  if (other && !draft.held)
    return [
      state('standing', { tacks: laid, held: [] }, [...pushes, pull], []),
      state('held', { tacks: laid, held: [other] }, pushes, of('securing')),
      state('let-go', secured, [...pushes, ...otherPull], of('completing')),
      complete,
    ];
  if (!draft.held) return [letGo, complete];
  const holds = [heldBy({ part, grip }), ...(other ? [other] : [])];
  const held = state('held', { tacks: laid, held: holds }, pushes, of('securing'));
  if (draft.stands === 'held')
    return [held, state('complete', { tacks: [...laid, ...tacks], held: holds }, pushes, [])];
  const apart = state('let-go', secured, [...pushes, pull, ...otherPull], of('completing'));
  if (!other) return [held, apart, complete];
  const still = { tacks: secured.tacks, held: [heldBy({ part, grip })] };
  return [held, state('one-let-go', still, [...pushes, ...otherPull], []), apart, complete];
}

/** What gives way first, in words. */
function weakestText(
  facts: Facts,
  { system, parts }: Assembly,
  { held }: AssemblyState,
  element: Element | undefined,
): string {
  if (!element) return '';
  const name = (body: number): string => (body < 0 ? 'the table' : facts.scene.parts[parts[body]!]!.part.id);
  const pair = (list: System['bearings'] | System['links']): string => {
    const { a, b } = list[element.index]!;
    return `${name(a)} and ${name(b)}`;
  };
  switch (element.kind) {
    case 'bearing':
      return `contact of ${pair(system.bearings)}`;
    case 'link':
      return `tack between ${pair(system.links)}`;
    case 'pad':
      return `pad ${element.index + 1} on ${name(system.pads[element.index]!.body)}`;
    case 'hold':
      return held.length > 1
        ? `the arm of ${held[element.index]!.robot.id}`
        : 'the arm of the handling robot';
  }
}

/** The worst reserve of each family of loads in one state of the whole assembly, solved from nothing. */
export function judgeState(facts: Facts, { state, assembly, loads }: StageState): readonly PlanReserve[] {
  const made = assemblySystem(facts.scene, assembly, facts.settings, new Set());
  const disturbances = asDisturbances(loads, made);
  const judge = prepare(facts.programs, made.system, disturbances, { cold: true });
  try {
    const verdicts: Verdict[] = [judge.gravity(), ...disturbances.map((_, i) => judge.disturbance(i))];
    return LOAD_FAMILIES.flatMap((family) => {
      const own = verdicts.filter(({ name }) => familyOf(name) === family);
      if (own.length === 0) return [];
      const worst = own.reduce((least, next) => (next.reserve < least.reserve ? next : least));
      return [
        {
          state,
          case: worst.name,
          required: facts.settings.reserves[family === 'gravity' ? 'gravity' : 'disturbance'],
          reserve: rounded(worst.reserve, 4),
          weakest: weakestText(facts, made, assembly, worst.weakest),
        },
      ];
    });
  } finally {
    judge.dispose();
  }
}

/** Whether a state carries every load with the required reserve: warm solves, stopped at the first that fails. */
export function stateCarries(facts: Facts, { assembly, loads }: StageState): boolean {
  const made = assemblySystem(facts.scene, assembly, facts.settings, new Set());
  const disturbances = asDisturbances(loads, made);
  const judge = prepare(facts.programs, made.system, disturbances);
  const { gravity, disturbance } = facts.settings.reserves;
  try {
    if (judge.gravity().reserve < gravity + QUICK_MARGIN) return false;
    return firstShort(loads, disturbance + QUICK_MARGIN, (i) => judge.disturbance(i).reserve) === undefined;
  } finally {
    judge.dispose();
  }
}

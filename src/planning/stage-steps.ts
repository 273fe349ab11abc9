import { withMember, type PartSet } from '../base/part-set.js';
import { gripperAlone } from '../facts/arm-room.js';
import type { Facts } from '../facts/facts.js';
import type { GripMotion } from '../facts/grip-motion.js';
import type { Grip } from '../facts/grips.js';
import type { Route, Routes } from '../facts/routes.js';
import { releaseTime, type Welder } from '../model/cell.js';
import { armsOf } from './held-grip.js';
import { holdsOf, type ManualDraft, type RobotDraft, type StageTack } from './stage-draft.js';
import { StepWriter, type StepDraft } from './steps.js';

/** Steps of one stage, group by group, without signals. */
export interface StageSteps {
  /** Tool change, pick, regrips: all that the handling robot does outside the work zone before it brings the part. */
  readonly fetch: readonly StepDraft[];
  /** Into the work zone up to the part being still in place (or clamped and let go, for a part that nobody holds). */
  readonly place: readonly StepDraft[];
  /** From the let-go to the way out of the work zone; empty for a part that is held on. */
  readonly letGo: readonly StepDraft[];
  /** Taking hold of an earlier part once the newcomer is let go, unless it is still held; letting go of it. */
  readonly takeOther: readonly StepDraft[];
  readonly letGoOther: readonly StepDraft[];
  /** Of each welding robot, in the order of the cell; empty where it lays none. */
  readonly securing: readonly (readonly StepDraft[])[];
  readonly completing: readonly (readonly StepDraft[])[];
}

function fetchSteps(
  facts: Facts,
  draft: RobotDraft,
  stage: number,
  gripper: string | undefined,
): readonly StepDraft[] {
  const { cell, weldment } = facts.scene;
  const part = weldment.parts[draft.part]!.id;
  const { chain, grip, take } = draft.way;
  const stroke = facts.settings.motion['approach-distance'];
  const { robot } = grip;
  const shared = cell.handlers.length > 1;
  const writer = new StepWriter(robot, stage);
  let inside = false;
  const enter = (): void => {
    if (shared && !inside) writer.enter('stations');
    inside = true;
  };
  const first = (chain.transfers[0]?.grip ?? grip).gripper;
  let mounted = cell.grippers.find(({ id }) => id === gripper) ?? first;
  const change = (to: Grip): void => {
    if (to.gripper !== mounted)
      writer
        .with(gripperAlone(mounted))
        .changeGripper(to.gripper, facts.change(robot, mounted, to.gripper)!, cell.times.toolChange);
    mounted = to.gripper;
  };
  for (const transfer of chain.transfers) {
    change(transfer.grip);
    enter();
    const located = draft.fitUp.remedies.includes('locate') && transfer === chain.transfers.at(-1);
    const load = facts.load(draft.part, transfer.grip);
    writer
      .with(load.gripper)
      .in(transfer.from.station)
      .along(transfer.take.out, `above ${transfer.from.station}`)
      .sense(part, transfer.from.station, cell.times.partPresent)
      .straight(transfer.take.joints, transfer.from.station, stroke)
      .grip(part, transfer.grip, cell.times.grip)
      .with(load.both)
      .straight(transfer.take.leave, `lifted from ${transfer.from.station}`, stroke)
      .along(transfer.take.back, 'home')
      .in(transfer.to.station)
      .along(transfer.setDown.out, `above ${transfer.to.station}`)
      .straight(transfer.setDown.joints, transfer.to.station, stroke);
    if (located) writer.act('locate', part, cell.times.locate);
    writer
      .act('set-down', part, releaseTime(cell, transfer.grip.gripper))
      .with(load.gripper)
      .straight(transfer.setDown.leave, `clear of ${transfer.to.station}`, stroke)
      .along(transfer.setDown.back, 'home');
  }
  change(grip);
  enter();
  const load = facts.load(draft.part, grip);
  writer
    .with(load.gripper)
    .in(chain.spot.station)
    .along(take.out, `above ${chain.spot.station}`)
    .sense(part, chain.spot.station, cell.times.partPresent)
    .straight(take.joints, chain.spot.station, stroke)
    .grip(part, grip, cell.times.grip)
    .with(load.both)
    .straight(take.leave, `lifted from ${chain.spot.station}`, stroke)
    .along(take.back, 'home');
  return shared ? writer.leave('stations').steps : writer.steps;
}

function placeSteps(facts: Facts, draft: RobotDraft, part: string, stage: number): readonly StepDraft[] {
  const { cell } = facts.scene;
  const { place, approach, come, grip } = draft.way;
  const writer = new StepWriter(grip.robot, stage)
    .with(facts.load(draft.part, grip).both)
    .enter()
    .along(come, `before the place of ${part}`)
    .straight(place.joints, `place of ${part}`, approach.distance);
  if (draft.fitUp.remedies.includes('seat')) writer.seat(part, draft.way.grip.robot.seating);
  if (draft.stands === 'clamped') writer.clamp(part, cell.table.clamp.name, cell.times.clamp);
  else if (stage > 1) writer.act('hold', part, cell.times.settle);
  return writer.steps;
}

/** Whether there is anything to cool before what is held is let go. */
const isTacked = ({ tacks }: RobotDraft): boolean => tacks.some(({ phase }) => phase === 'securing');

function otherSteps(
  facts: Facts,
  draft: RobotDraft,
  stage: number,
): Pick<StageSteps, 'takeOther' | 'letGoOther'> {
  const { alsoHeld, held, proofPull } = draft;
  if (!alsoHeld) return { takeOther: [], letGoOther: [] };
  const { cell, weldment } = facts.scene;
  const { motion, grip, kept, come, go } = alsoHeld;
  const part = weldment.parts[alsoHeld.part]!.id;
  const stroke = facts.settings.motion['approach-distance'];
  const take = (): readonly StepDraft[] =>
    new StepWriter(grip.robot, stage)
      .with(facts.load(alsoHeld.part, grip).gripper)
      .enter()
      .along(come, `before ${part} in its place`)
      .straight(motion.joints, `place of ${part}`, stroke)
      .grip(part, grip, cell.times.grip)
      .act('hold', part, cell.times.settle).steps;
  return {
    takeOther: kept ? [] : take(),
    letGoOther: leaving(facts, alsoHeld.part, grip, stage, motion, go, {
      cool: isTacked(draft),
      proof: held ? undefined : proofPull,
    }),
  };
}

/** Holding on while tacks cool and a pull that proves them, where they are asked for; letting go of a part in its place, and out of the work zone. */
function leaving(
  facts: Facts,
  part: number,
  grip: Grip,
  stage: number,
  { joints, leave }: GripMotion,
  go: Route,
  { cool, proof }: { readonly cool: boolean; readonly proof: number | undefined },
): readonly StepDraft[] {
  const { cell, weldment } = facts.scene;
  const { robot, gripper } = grip;
  const { id } = weldment.parts[part]!;
  const writer = new StepWriter(robot, stage, joints).with(facts.load(part, grip).gripper);
  if (cool && cell.process.coolingSeconds > 0) writer.act('cool', id, cell.process.coolingSeconds);
  if (proof !== undefined) writer.proofPull(id, proof, cell.times.proofPull);
  return writer
    .act('let-go', id, releaseTime(cell, gripper))
    .straight(leave, `clear of ${id}`, facts.settings.motion['approach-distance'])
    .along(go, 'home')
    .leave().steps;
}

function tackSteps(
  facts: Facts,
  draft: RobotDraft,
  inPlace: PartSet,
  stage: number,
  phase: 'securing' | 'completing',
): readonly (readonly StepDraft[])[] {
  return facts.scene.cell.welders.map((welder) => {
    const own = draft.tacks.filter(({ motion }) => motion.robot === welder.id);
    return stepsOf(facts, draft, inPlace, stage, welder, { own, phase });
  });
}

/** What one welding robot does in a phase of a stage, of its `own` tacks in it; it finds the seams for itself. */
function stepsOf(
  facts: Facts,
  draft: RobotDraft,
  inPlace: PartSet,
  stage: number,
  welder: Welder,
  { own, phase }: { readonly own: readonly StageTack[]; readonly phase: StageTack['phase'] },
): readonly StepDraft[] {
  const { cell } = facts.scene;
  const tacks = own.filter((tack) => tack.phase === phase);
  if (tacks.length === 0) return [];
  const writer = new StepWriter(welder, stage).enter();
  const stroke = facts.settings.motion['torch-stroke'];
  const searching = draft.fitUp.remedies.includes('seam-search');
  const routes = tackRoutes(facts, draft, inPlace, tacks);
  for (const [i, tack] of tacks.entries()) {
    const { id } = tack.site.joint;
    const search = searching && tack === own.find(({ site }) => site.joint.id === id) ? id : undefined;
    writer
      .along(routes[i]!, `before ${tack.id}`)
      .tack(tack.id, tack.motion, tack.length, stroke, cell, search)
      .accept(tack.id, cell.times.accept);
  }
  return writer.along(routes.at(-1)!, 'home').leave().steps;
}

/**
 * Ways of the torch from home to the first tack, from each to the next, and from the last home, clear of the parts and
 * of the arms that hold meanwhile. Each tack was chosen so that there is a way from home and back, which serves between
 * tacks too where no shorter one is found.
 */
function tackRoutes(
  facts: Facts,
  draft: RobotDraft,
  inPlace: PartSet,
  tacks: readonly StageTack[],
): readonly Route[] {
  const present = withMember(inPlace, draft.part);
  const arms = tacks[0]!.phase === 'securing' ? armsOf(facts, holdsOf(draft)) : [];
  const clear = (routes: Routes): Route | undefined => routes.first(present, arms);
  const motions = tacks.map(({ motion }) => motion);
  const between = motions.slice(1).map((to, i) => {
    const from = motions[i]!;
    return clear(facts.betweenTacks(from, to)) ?? clear(from.go)!.then(clear(to.come)!);
  });
  return [clear(motions[0]!.come)!, ...between, clear(motions.at(-1)!.go)!];
}

/** The steps of a stage with the parts in place before it; `gripper` is the one on the arm before it, undefined when any may be mounted beforehand. */
export function stageSteps(
  facts: Facts,
  draft: RobotDraft,
  inPlace: PartSet,
  stage: number,
  gripper: string | undefined,
): StageSteps {
  const { weldment } = facts.scene;
  const part = weldment.parts[draft.part]!.id;
  const { place, grip, go } = draft.way;
  const last = {
    cool: draft.held && !draft.alsoHeld && isTacked(draft),
    proof: draft.held ? draft.proofPull : undefined,
  };
  return {
    fetch: fetchSteps(facts, draft, stage, gripper),
    place: placeSteps(facts, draft, part, stage),
    letGo: draft.stands === 'held' ? [] : leaving(facts, draft.part, grip, stage, place, go, last),
    ...otherSteps(facts, draft, stage),
    securing: tackSteps(facts, draft, inPlace, stage, 'securing'),
    completing: tackSteps(facts, draft, inPlace, stage, 'completing'),
  };
}

/** The step in which a person sets the part of a stage, in the program of the first handling robot. */
export function manualStep(facts: Facts, draft: ManualDraft, stage: number): StepDraft {
  const { cell, weldment } = facts.scene;
  const { part, manual, tacks, stands } = draft;
  return new StepWriter(cell.handlers[0]!, stage).byHand(
    weldment.parts[part]!.id,
    manual.seconds,
    stands === 'clamped' ? cell.table.clamp.name : undefined,
    tacks.map(({ id }) => id),
  ).steps[0]!;
}

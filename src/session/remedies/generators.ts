import { addedContact } from './added-contact.js';
import { setByHand } from './by-hand.js';
import { jointSides } from './joint-sides.js';
import { firstDropped, relationsOfOrder } from './order/relations.js';
import { wishesSoftened } from './order/wishes.js';
import { gripDensity } from './plan/grip-density.js';
import { gripsFreed } from './plan/grips-freed.js';
import { restFace } from './plan/rest-face.js';
import { closerTacks, finerSites, longerTacks } from './plan/tacks.js';
import { moves } from './position/moves.js';
import { nearerArc } from './relaxed/arc-distance.js';
import { tighterInsertion, widerAccuracy, widerGap } from './relaxed/fit-up.js';
import { lowerLoad } from './relaxed/loads.js';
import { shorterPowerLoss } from './relaxed/power-loss.js';
import { lowerReserve } from './relaxed/reserves.js';
import { nearerEnds, widerPitch } from './relaxed/tack-rules.js';
import { morePositions, widerTorch } from './relaxed/torch.js';
import type { CostClass } from '../../model/tried-remedy.js';
import type { Ladder } from './ladder.js';
import { betterStops } from './tooling/accuracy.js';
import { cleanerRelease } from './tooling/cleaner-release.js';
import { firstPartClamp } from './tooling/first-part-clamp.js';
import { largerPads, smallerPads } from './tooling/larger-pads.js';
import { longerGripper } from './tooling/longer-gripper.js';
import { storedHold } from './tooling/stored-hold.js';
import { strongerArm } from './tooling/stronger-arm.js';
import { strongerGripper } from './tooling/stronger-gripper.js';
import { turningTable } from './tooling/turntable.js';
import { twoSidedStand } from './tooling/two-sided-stand.js';
import { vacuumGripper } from './tooling/vacuum-gripper.js';
import { tackedApart } from './sub-assembly.js';
import type { AbstractTrouble, Trouble } from './trouble.js';

type Make = (trouble: Trouble) => readonly Ladder[];

type MakeAny = (trouble: Trouble | AbstractTrouble) => readonly Ladder[];

const OF_ORDER: readonly MakeAny[] = [...[wishesSoftened, firstDropped, relationsOfOrder]];

/** Who makes changes of each cost class; within a class what most often helps comes first. */
const GENERATORS: Readonly<Record<CostClass, readonly Make[]>> = {
  plan: [gripsFreed, restFace, finerSites, closerTacks, longerTacks, gripDensity],
  order: OF_ORDER,
  'sub-assembly': [tackedApart],
  position: [moves],
  tooling: [
    ...[strongerArm, strongerGripper, largerPads, smallerPads, longerGripper, vacuumGripper],
    ...[betterStops, cleanerRelease, storedHold, firstPartClamp, twoSidedStand, turningTable],
  ],
  'by-hand': [setByHand],
  joint: [jointSides],
  'relaxed-rule': [
    ...[lowerReserve, lowerLoad, widerGap, tighterInsertion, widerAccuracy, widerTorch],
    ...[morePositions, nearerArc, nearerEnds, widerPitch, shorterPowerLoss],
  ],
};

/** Of a weldment without shapes only relations can be changed. */
const WITHOUT_SHAPES: Readonly<Partial<Record<CostClass, readonly MakeAny[]>>> = {
  order: OF_ORDER,
  joint: [addedContact],
};

/** Changes of one cost class that may help, made as they are asked for. */
export function* laddersOf(trouble: Trouble | AbstractTrouble, cost: CostClass): Generator<Ladder> {
  if (trouble.kind === 'geometric') for (const make of GENERATORS[cost]) yield* make(trouble);
  else for (const make of WITHOUT_SHAPES[cost] ?? []) yield* make(trouble);
}

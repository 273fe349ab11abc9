import type { Finding } from '../model/finding.js';
import { accuracyMet } from './accuracy-met.js';
import { approachFree } from './approach-free.js';
import { approachLongEnough } from './approach-long-enough.js';
import { armsClear } from './arms-clear.js';
import { distortionTrue } from './distortion-true.js';
import { eachPartOnce } from './each-part-once.js';
import { faultsEndSafe } from './faults-end-safe.js';
import { firstPartStands } from './first-part-stands.js';
import { gapsStayClosed } from './gaps-stay-closed.js';
import { gripCarries } from './grip-carries.js';
import { gripFits } from './grip-fits.js';
import { gripperClear } from './gripper-clear.js';
import { handlingContinuous } from './handling-continuous.js';
import { handOverLast } from './hand-over-last.js';
import { handshakesSafe } from './handshakes-safe.js';
import { handshakesTrue } from './handshakes-true.js';
import { joinedToWeldment } from './joined-to-weldment.js';
import { jointsTrue } from './joints-true.js';
import { magnetDistance } from './magnet-distance.js';
import { manualStages } from './manual-stages.js';
import { objectiveTrue } from './objective-true.js';
import { orderRelations } from './order-relations.js';
import { powerLoss } from './power-loss.js';
import { proofPull } from './proof-pull.js';
import { programsTrue } from './programs-true.js';
import { proofTrue } from './proof-true.js';
import { reach } from './reach.js';
import { reservesHold } from './reserves-hold.js';
import { reservesTrue } from './reserves-true.js';
import { reworkTrue } from './rework-true.js';
import { restsStable } from './rests-stable.js';
import type { Rule, RuleContext } from './rule.js';
import { stepsComplete } from './steps-complete.js';
import { tableTurns } from './table-turns.js';
import { tackOrderTrue } from './tack-order-true.js';
import { tackRules } from './tack-rules.js';
import { tackSides } from './tack-sides.js';
import { timelineTrue } from './timeline-true.js';
import { torchAccess } from './torch-access.js';
import { weldTrue } from './weld-true.js';
import { wholeTrue } from './whole-true.js';
import { wishesTrue } from './wishes-true.js';
import { weldingPositionTrue } from './welding-position.js';

/** What makes a plan with shapes legal, from the order of the parts to the claims about the plan itself. */
export const RULES: readonly Rule[] = [
  eachPartOnce,
  orderRelations,
  wishesTrue,
  firstPartStands,
  joinedToWeldment,
  manualStages,
  jointsTrue,
  tableTurns,
  approachFree,
  approachLongEnough,
  gripFits,
  gripCarries,
  restsStable,
  handlingContinuous,
  gripperClear,
  accuracyMet,
  reach,
  tackRules,
  tackSides,
  torchAccess,
  weldingPositionTrue,
  magnetDistance,
  powerLoss,
  proofPull,
  reservesHold,
  reservesTrue,
  gapsStayClosed,
  distortionTrue,
  tackOrderTrue,
  weldTrue,
  programsTrue,
  reworkTrue,
  stepsComplete,
  timelineTrue,
  handshakesSafe,
  handshakesTrue,
  faultsEndSafe,
  handOverLast,
  armsClear,
  objectiveTrue,
  wholeTrue,
  proofTrue,
];

/** Judges a plan from scratch, whoever made it: every breach of every rule, rule by rule. Never throws. */
export const checkGeometric = (context: RuleContext): Finding[] =>
  RULES.flatMap((rule) => rule.judge(context));

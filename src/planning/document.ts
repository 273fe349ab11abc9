import { MOST_REGRIPS } from '../facts/facts.js';
import type { SearchReport } from '../algorithms/problem.js';
import type { Cell } from '../model/cell.js';
import type { GeometricPlan, Proof, Stage } from '../model/plan.js';
import { PLAN_FORMAT, PLAN_VERSION } from '../model/plan.js';
import type { ObjectiveTerm } from '../model/settings.js';
import { excessTenths } from '../rules/distortion-excess.js';
import { wishStages } from '../rules/wishes-true.js';
import { activitiesOf } from './activities.js';
import type { CompleteOrder } from './complete.js';
import { unpredicted, withDistortion } from './distortion.js';
import { statedJoint, statedStages, statedTimeline } from './emit.js';
import { synchronised } from './handshakes.js';
import { planObjective } from './objective.js';
import type { PlanningReport } from './plan.js';
import { reworkOf } from './rework.js';
import { hasManyWishes, MANY_WISHES } from './stage-wishes.js';
import { statedWishes } from './stated-wishes.js';

/** Cautions of design section 11, carried by every plan. */
export const CAUTIONS: readonly string[] = [
  'Held parts fall when power, air or magnetism is lost; nobody may be under or beside a held part.',
  'Arcs burn, blind and give off fumes; robots crush. Guarding, stop functions and risk assessment follow ISO 10218 and local rules.',
  'The signals in this plan are ordinary signals; they are no safety function.',
  'Drop zones are estimates, and what the programs do after a fault replaces no guard and no stop function.',
  'Weld procedures and personnel are qualified under the code that applies; this plan does not replace that.',
  'Strength, reserve and time figures are estimates for planning, those of distortion a screening estimate: measure the first weldments. Try the plan slowly, without arc, before production.',
];

/** How this version plans: a proof speaks of plans made this way. */
export const POLICIES: readonly string[] = [
  'one part joins at a time: the first stands on the work table, a later one is joined to a part in place or stands by itself until a part that it is joined to comes',
  'every seam to the parts in place is tacked in the stage in which the later part joins, with the fewest tacks that the rules allow; among equal numbers those that can be laid while the part is held, then those that leave the length of a tack between them, then those to which the tacks on the other side of the joint lie as `tacks.sides` says, then those near the ends',
  'a newcomer that stands by itself is let go before it is tacked, and an earlier part that a torch would push over is held by the same gripper meanwhile; one that does not stand, or that the assembly would not carry so, is held',
  'a held part is let go after the fewest tacks that carry it with any one of them missing, at least the stated number where so many can be laid; where none do, after the fewest that carry it and a pull that proves them; after all that can be laid meanwhile only where the assembly would fall otherwise',
  'orders of parts are compared with the tacks of each part in the order that leaves it nearest to its place by itself among fixed others, or ends first and in turn from seam to seam where none is better by `distortion.order-gain`; those of the best order of parts are then put in the order that leaves the part nearest to its place after all that was done before, where the whole carries that and it worsens neither distortion nor a term of the objective that counts before it',
  'of the torch angles, turns about the wire and branches of the arm that are tried for a tack, the one with the largest margin to joint limits and a stretched wrist is taken',
  `a part is regripped at most ${MOST_REGRIPS} times`,
  'a part is located, seated or has its seams searched only where its errors add up to more than a limit, the parts in place counted as if each had been regripped as often as it may; no regrip is added for less',
  'the handling arm returns home between stations; between home and the far end of a straight stroke an arm takes the direct joint move, or else the quickest of a few ways through points above it, farther along its stroke or nearer to the arm, or with axis 1 turned first',
  'links, gripper, torch and carried part keep their clearance in every move; at a grip each branch of the arm is tried in the order of its margin, and while a part is held only torch poses count whose arm keeps clear of the arm that holds; of those that do, the best few of a site are tried for a way there past it',
  "where arms would meet because two robots move at once, one waits, where it is in nobody's way, until the other has passed: whoever goes first, so that the work ends soonest; a passing is taken as a whole, from the first step in which the arms could meet to the last",
  'a tack that is reported bad is repeated at the nearest other site of its seam to which the torch finds a way, and back, past all that may be there; no site is used twice, and for want of one the robots stop and keep holding',
  'regrips and tool changes are compared over all candidates; distortion and time over orders and grippers, each part with its best-ranked legal grip and approach, and the chain of regrips that is quickest among the best few grips on each face',
];

/** Where the cell has several handling robots. */
const SEVERAL_HANDLERS: readonly string[] = [
  'a gripper that one handling robot uses is not used by another; the robots fetch one after another, in the order that ends soonest',
  'a part that cannot be secured alone is held on by the robot that brought it while another brings and holds the next one, which is joined to it; all its own tacks are laid before, and both are let go in that stage',
];

/** Where the cell has several welding robots. */
const SEVERAL_WELDERS: readonly string[] = [
  'a seam goes to one welding robot that can lay all its tacks of a phase of the stage, so that two sides which two robots reach are tacked at once, or else tack by tack to those that can: what fewest can lay first, each to the robot with the fewest tacks so far, of equals to the one that stands farther out on the open side of the seam, then to the one with the larger margin, then to the first of the cell',
  'each welding robot lays its tacks of a stage in the order of the stage, and searches each joint before its own first tack there',
  'how far the wire may miss a seam is counted for the welding robot that may miss it by most',
];

/** Where the work table turns. */
const TURNTABLE: readonly string[] = [
  'the first part is tried at every index angle of the work table; the table turns before a later one only where that joins in no way at the angle there is, or where no order was found so',
  'at infeed, regrip table, stands and tool stands the arms keep clear of all the room in which the table, and every part on it once it is there, may turn',
];

/** Where a person sets a part. */
const BY_HAND: readonly string[] = [
  'a part that the weldment file leaves to a person is set, clamped and tacked by one while all robots are at home, stopped, outside the work zone and hold nothing; every seam to the parts in place is tacked then, by the same rules, wherever the seam lies, and no straight way into place is asked for: what stands in the way of a person, `blocking` and `needs` of the file say',
  'the table does not turn for a person; the planned seconds of such a stage begin when the last robot has come home',
];

/** The policies, with those of several robots of a duty or a turntable, and one more where whole orders were refused. */
const policiesOf = (
  { counters }: SearchReport<unknown, unknown>,
  { handlers, welders, table }: Cell,
  byHand: boolean,
  fewestFound: readonly string[],
  manyWishes: boolean,
): readonly string[] => [
  ...POLICIES,
  ...(handlers.length > 1 ? SEVERAL_HANDLERS : []),
  ...(welders.length > 1 ? SEVERAL_WELDERS : []),
  ...(table.turntable ? TURNTABLE : []),
  ...(byHand ? BY_HAND : []),
  ...(manyWishes ? [MANY_WISHES] : []),
  ...(fewestFound.length === 0
    ? []
    : [
        `the tacks after which ${fewestFound.join(', ')} ${fewestFound.length === 1 ? 'is' : 'are'} let go are the fewest found, not the fewest: too many sets of tacks to try them all`,
      ]),
  ...(counters.refused === 0
    ? []
    : [
        `${counters.refused} orders that fell, or in which a seam opened too far, when the whole assembly was judged were not tried again with other grips`,
      ]),
];

/** What no proof of this version covers. */
export const NOT_CHECKED: readonly string[] = [
  'an arm against itself and against what it carries; parts that lie at a station, and grippers at their stands; anything in the cell that the cell file does not have',
  'how an arm really gets from one stated posture to the next: joint moves are taken as all joints turning evenly together, straight moves as straight',
  'how a carried part hangs between the stated poses and the home of the arm',
  'the push of a gripper that takes hold of a standing part',
  'distortion beyond its screening estimate: heat and the stress it leaves, bending and buckling of plates, what the full welds do',
  'accuracy beyond the stated figures of cell and weldment: wear, bent parts, thickness of rolled faces, heat; how hard parts press on one another where errors bring them too near',
  'a completing tack that fails though it was reported good, and two securing tacks that fail at once; where a tack is laid instead of a bad one, the bad one counts as missing until the let-go of its stage, or the pull before it proves the others; in later stages it counts as good and where it is',
];

/** Where the cell has several welding robots. */
const TORCHES_NOT_CHECKED: readonly string[] = [
  'two torches that touch the weldment, or stick to it, at the same moment',
];
/** What the table of faults leaves out, and what it takes for granted. */
const FAULTS_NOT_COVERED =
  'two faults at once, so also a fault in a rework; safety functions: signals and waits are ordinary ones; a robot that moves ' +
  'though it stopped, an arm whose brakes slip, an arc that burns although its robot stopped; a gripper or clamp that fails ' +
  'while it has power, and a clamp that needs it; a table that stops while it turns; a tack that is bad though reported good; ' +
  'what a person does who was called';

/** Where the work table turns. */
const TURNING_NOT_CHECKED: readonly string[] = [
  'how exactly the work table stops at an index angle; what lies at infeed or regrip table while it turns',
];

/** Where sub-assemblies are parts. */
const GROUPS_NOT_CHECKED: readonly string[] = [
  'that a sub-assembly keeps its shape: reserves are worked out with each of its parts as a body on its own tacks, but accuracy and distortion with all of it as one rigid body; how far its parts may be off in it (`within`) counts as its cut does, in gaps and for its own place as it comes, not in tilts, not for the place of later parts along it and not in what tolerance features are off by: measure it before it is laid at the infeed',
];

/** Where a person sets a part. */
const BY_HAND_NOT_CHECKED: readonly string[] = [
  'whether a person gets to the seams, and how: hand, torch and what the person clamps with; where a part set by hand comes to lie: no chain of errors is worked out for it, and later parts count with what the weldment file says that it is within',
  'how a part stands while a person sets and tacks it: no reserve is claimed for it until all its tacks are laid, and none for the parts in place under what the person does to them',
  'how far seams stand open when a person tacks them: the person closes them by hand or clamp; the prediction of distortion lays such tacks over the gap, as if nobody held the part',
];

const BY_HAND_CAUTION =
  'A person works in the cell while robots wait: stop and lock them out by the safety functions of the cell, not by the signals of this plan, as local rules ask; hold nothing over hands; let the person confirm from outside only.';

/** The model works in milliseconds; a plan states time in tenths of a second, rounded up. */
export const stated = (term: ObjectiveTerm, value: number): number =>
  term === 'time' ? Math.max(0, Math.ceil(value / 100 - 1e-9)) : value;

/** The terms of an objective with values and bounds, and the leading ones whose bound was met. */
function termsOf(
  terms: readonly ObjectiveTerm[],
  { best, bound, provedTerms }: SearchReport<unknown, unknown>,
): Pick<GeometricPlan, 'objective'> & Pick<Proof, 'provedTerms'> {
  return {
    objective: terms.map((term, i) => ({
      term,
      value: stated(term, best!.cost[i]!),
      bound: stated(term, Math.min(bound[i]!, i <= provedTerms ? Infinity : 0)),
    })),
    provedTerms: terms.slice(0, provedTerms),
  };
}

/** What the search came to before tacks were ordered anew, where that changed the objective as the plan states it. */
function statedBefore(
  terms: readonly ObjectiveTerm[],
  { search, before }: PlanningReport,
): Pick<Proof, 'beforeReordering'> {
  if (before === undefined) return {};
  const then = termsOf(terms, before.search);
  const now = termsOf(terms, search);
  const same = now.objective.every(({ value }, i) => value === then.objective[i]!.value);
  return same ? {} : { beforeReordering: { stages: before.stages, ...then } };
}

/** The objective with its bounds, and what the search proved, in the plan's words. */
export function provenObjective(
  terms: readonly ObjectiveTerm[],
  report: SearchReport<unknown, unknown>,
  scope: Proof['scope'],
  policies: readonly string[],
  notChecked: readonly string[],
): Pick<GeometricPlan, 'objective' | 'proof'> {
  const { counters } = report;
  const { objective, provedTerms } = termsOf(terms, report);
  return {
    objective,
    proof: {
      outcome: report.outcome === 'optimal' ? 'optimal' : 'feasible',
      scope,
      policies: [...policies],
      provedTerms,
      bestOf: Math.max(1, counters.completed),
      states: counters.expanded,
      notChecked: [...notChecked],
    },
  };
}

/** What a plan document needs beside the planning report. */
export interface DocumentInputs {
  readonly weldment: { readonly name: string; readonly digest: string };
  readonly cell: { readonly name: string; readonly digest: string };
  readonly warnings: readonly string[];
}

/**
 * The plan document of the best order of a report, which must have one. `safety` is left empty: the rules explore the
 * programs and fill it in.
 */
export function planDocument(report: PlanningReport, inputs: DocumentInputs): GeometricPlan {
  const { facts, search, reserves, tackOrders } = report;
  const { cell } = facts.scene;
  const order: CompleteOrder = search.best!.result;
  const fewestFound = order.stages.flatMap((draft) =>
    !draft.manual && draft.fewestFound === true ? [facts.scene.parts[draft.part]!.part.id] : [],
  );
  const timed = synchronised(order.raw);
  const byHand = order.stages.some(({ manual }) => manual !== undefined);
  const rework = reworkOf(facts, order, timed.schedule);
  const stages = statedStages(facts, order, reserves, rework).map((stage, i): Stage => {
    const tackOrder = tackOrders[i];
    return tackOrder ? { ...stage, tackOrder } : stage;
  });
  const { handshakes, handshakeSet, frames, programs } = statedTimeline(facts, timed, stages, rework);
  const joints = facts.joints.map((joint) => statedJoint(facts, joint));
  const { critical, makespan } = timed.schedule;
  const terms = planObjective(facts);
  const policies = policiesOf(search, cell, byHand, fewestFound, hasManyWishes(facts));
  const proven = provenObjective(terms, search, facts.scope, policies, [
    ...NOT_CHECKED,
    ...(cell.welders.length > 1 ? TORCHES_NOT_CHECKED : []),
    ...(cell.table.turntable ? TURNING_NOT_CHECKED : []),
    ...(byHand ? BY_HAND_NOT_CHECKED : []),
    ...(facts.scene.parts.some(({ part }) => part.shape.kind === 'group') ? GROUPS_NOT_CHECKED : []),
  ]);
  const plan: GeometricPlan = {
    format: PLAN_FORMAT,
    version: PLAN_VERSION,
    kind: 'geometric',
    weldment: inputs.weldment,
    cell: inputs.cell,
    settings: facts.settings,
    objective: proven.objective,
    proof: { ...proven.proof, ...statedBefore(terms, report) },
    ...statedWishes(facts.scene.weldment, facts.settings, wishStages({ joints, stages })),
    rulesNotApplied: [],
    joints,
    stages,
    frames,
    handshakes,
    handshakeSet,
    programs,
    timeline: {
      makespan: makespan / 1000,
      bound: order.raw.bound / 1000,
      choices: order.raw.choices,
      activities: programs.flatMap(({ robot, duty, steps }, i) =>
        activitiesOf(robot, duty, steps, critical[i]!),
      ),
    },
    distortion: unpredicted(facts.settings),
    safety: {
      properties: [],
      witness: { robots: programs.length, states: 0, complete: false, reduction: 'none' },
      faults: [],
      faultRows: 0,
      dropZones: [],
      notCovered: FAULTS_NOT_COVERED,
    },
    warnings: [...inputs.warnings],
    cautions: [...CAUTIONS, ...(byHand ? [BY_HAND_CAUTION] : [])],
  };
  return countedAgain(withDistortion(plan, { scene: facts.scene, cell, settings: facts.settings }));
}

/**
 * A plan states rounded places, so that its replay may rarely count a tenth of distortion more or less than the search
 * did. What the plan says counts, and then nothing is proved from there on: bounds of later terms spoke of orders with the
 * distortion that the search had counted, and a bound of it that the plan itself is below was none.
 */
export function countedAgain(plan: GeometricPlan): GeometricPlan {
  const value = excessTenths(plan.distortion.features);
  const place = plan.objective.findIndex(({ term }) => term === 'distortion');
  if (place < 0 || plan.objective[place]!.value === value) return plan;
  const objective = plan.objective.map((entry, i) => {
    if (i < place) return entry;
    return i > place
      ? { ...entry, bound: 0 }
      : { ...entry, value, bound: entry.bound > value ? 0 : entry.bound };
  });
  const provedTerms = plan.proof.provedTerms.slice(0, place);
  return { ...plan, objective, proof: { ...plan.proof, outcome: 'feasible', provedTerms } };
}

const STATED = 'State the numbers that the finding gives, or let `tackwright plan` make the plan again.';
const PLAN_AGAIN =
  'Let `tackwright plan` make the plan again; after a change by hand, change all that follows from it.';
const ELSEWHERE = 'Choose another grip, rest or way for the part, or plan again.';

/** What to do about a finding, by the id of its rule. What the rule forbids and why, the rule itself says. */
export const FINDING_REMEDIES: Readonly<Record<string, string>> = {
  'inputs-true': 'Give the files that the plan was made for, or plan again for those given.',
  'sub-assemblies-true':
    'State the sub-assemblies that the weldment file asks for, each with a plan for it, or plan again.',
  'sub-assembly-lifts':
    'Take the sub-assembly by another part of it, give it more or longer tacks, or leave a part out of it.',
  'each-part-once': 'Let every part of the weldment have one stage, numbered from 1.',
  'order-relations': 'Move the stage, or change `needs`, `blocking` or `first` and plan again.',
  'first-part-stands': 'Begin with a part that stands on the table, clamped and untacked.',
  'joined-to-weldment': 'Move the stage to after a part that it is joined to, or give it tacks.',
  'manual-stages': 'Let people set the parts marked `manual`, and no others, with all robots at home.',
  'joints-true': PLAN_AGAIN,
  'table-turns': 'Use an index angle of the table, and turn it while nothing is held or in its way.',
  'approach-free': 'Bring the part another way, or before what is in its way.',
  'approach-long-enough': 'Begin the stroke farther away, `motion.approach-distance` at least.',
  'grip-fits': ELSEWHERE,
  'grip-carries': ELSEWHERE,
  'rests-stable': 'Let the part lie on a stable face.',
  'handling-continuous': 'Take each part where and as it lies after the step before.',
  'gripper-clear': ELSEWHERE,
  'accuracy-met': 'Locate, seat or search as `inspect` says, or allow more.',
  reach: 'State joints that lead to the pose within the limits, or move the place.',
  'tack-rules': 'Place, number and rate the tacks as the settings ask.',
  'tack-sides': 'Pair or stagger the tacks, or let the plan say why not.',
  'torch-access': 'Move the tack or turn the torch, within its angles and clear of all.',
  'welding-position': 'State the true position, and move tacks out of one that is not allowed.',
  'magnet-distance': 'Move the tack away from the pad, or hold elsewhere.',
  'power-loss': 'Hold by a gripper that keeps its pull, or state the zone in which the part may fall.',
  'proof-pull': 'Pull as hard as the settings ask, and not harder than the gripper holds.',
  'reserves-hold': 'Lay more or longer tacks, hold longer or elsewhere, or change the order.',
  'reserves-true': STATED,
  'gaps-stay-closed': 'Tack that seam earlier, or raise `fit-up.gap` if such a gap can be tacked.',
  'distortion-true': STATED,
  'tack-order-true': STATED,
  'weld-true': STATED,
  'programs-true': PLAN_AGAIN,
  'rework-true': 'Say for each tack how it is repeated, by steps that lead there and back.',
  'steps-complete': PLAN_AGAIN,
  'timeline-true': STATED,
  'handshakes-safe': 'Add the signal and the wait that the trace shows to be missing.',
  'handshakes-true': STATED,
  'faults-end-safe': 'Let every fault end held, standing, at a station or over a guarded zone.',
  'hand-over-last': 'Let the hand-over wait for every other robot.',
  'arms-clear': 'Lead the arm round by via points, or let it wait until the other is away.',
  'objective-true': STATED,
  'whole-true': STATED,
  'proof-true': 'Claim as proved only leading terms whose bound is met.',
  'ways-exist': 'Use one of the ways that the file gives for the part.',
  'wishes-true':
    'State under `wishes` every wish of the files and whether the plan keeps it; keep those that are not soft.',
};

import type { CodeTable } from './code-words.js';

const STRONGER =
  'Use larger or more tacks, a stronger grip or clamp, or an order in which it is held better.';

/** Why a part or the assembly does not stay where it is. Numbers are reserves: how often the load may come. */
export const HOLD_REFUSALS: CodeTable = {
  'sub-assembly-gives-way': {
    title: 'does not carry itself by this grip',
    measure: 'reserve',
    meaning:
      'A sub-assembly that hangs on the pads by one of its parts would give way under its weight or in an emergency stop: at its tacks, at the pads or at the arm.',
    remedy:
      'Give its joints more or larger tacks, let another gripper or face be used, or group other parts.',
  },
  'first-part-falls': {
    title: 'does not stand as the first part',
    measure: 'reserve',
    meaning: 'Alone on the table, with its clamp, the part does not carry its load cases.',
    remedy: 'Begin with another part, or give the table a stronger clamp.',
  },
  'set-by-hand-falls': {
    title: 'does not stand once the person who sets it has left',
    measure: 'reserve',
    meaning: 'By its own tacks and footing a part that was set by hand does not carry its load cases.',
    remedy: STRONGER,
  },
  'does-not-stand': {
    title: 'does not stand by itself, and nothing in place is joined to it',
    measure: 'reserve',
    meaning: 'The part would have to wait untacked for another one, and falls meanwhile.',
    remedy: 'Let a part that it is joined to come before it.',
  },
  'torch-topples': {
    title: 'stands by itself, but not while a torch touches it',
    measure: 'reserve',
    meaning: 'A torch placed a little off would push the loose part over.',
    remedy: 'Let it be held while it is tacked, or lower `loads.torch-touch` if that is known.',
  },
  'falls-unheld': {
    title: 'does not stand while nobody holds it',
    measure: 'reserve',
    meaning: 'It is wished that the part is not held, and untacked it does not carry its load cases.',
    remedy: 'Drop the wish, or let a part that it stands against come before it.',
  },
  'cannot-be-held-in-place': {
    title: 'no grip with this gripper takes hold of it in its place',
    measure: '',
    meaning: 'An earlier part must be held, and the gripper on the arm gets at none of its faces.',
    remedy: 'Use a gripper that suits both parts, or a second handling robot.',
  },
  'tack-left-over': {
    title: 'not every tack can be laid while it is held on',
    measure: '',
    meaning: 'The part is held on for the next one, and a tack of it is in the way of the gripper.',
    remedy: 'Hold by another grip, or tack the joint from another side.',
  },
  'nothing-to-tack': {
    title: 'nothing in place is joined to it',
    measure: '',
    meaning: 'The part would be held and there is no joint to tack it by.',
    remedy: 'Let a part that it is joined to come before it, or add the joint.',
  },
  'hold-gives-way': {
    title: 'hold gives way',
    measure: 'reserve',
    meaning: 'While it is held the part does not carry its load cases.',
    remedy: STRONGER,
  },
  'two-holds-unproved': {
    title: 'two arms would let go, and the tacks do not survive the loss of any one',
    measure: '',
    meaning: 'Two parts that hold each other must be secured even where one tack is bad.',
    remedy: 'Lay more tacks between them, or secure one of them before the other comes.',
  },
  'kept-too-briefly': {
    title: 'the gripper does not keep the part long enough without power',
    measure: 'it keeps it',
    meaning: 'When power fails the gripper lets go before anyone can act.',
    remedy: 'Use a gripper that keeps its pull, or raise what it stores.',
  },
  'falls-without-power': {
    title: 'the part falls when the gripper loses its power',
    measure: 'reserve',
    meaning: 'The gripper relies on the part standing by itself before its first tack, and it does not.',
    remedy: 'Use a gripper that keeps its pull, or an exclusion zone (`on-power-loss`).',
  },
  'cannot-be-proved': {
    title: 'a proof pull would tear it off',
    measure: 'reserve',
    meaning: 'The pull that is to prove the tacks is more than sound tacks carry here.',
    remedy: 'Lay more tacks, or lower `loads.proof-pull`.',
  },
  'cannot-be-secured': {
    title: 'not secured by all tacks that can be laid',
    measure: 'reserve',
    meaning: 'Even with every tack laid that can be laid now the part would not be safe to let go.',
    remedy: 'Lay longer or more tacks, free more of the seam, or let a part that supports it come before.',
  },
  'gap-opens': {
    title: 'earlier tacks are predicted to open a seam too far before it is tacked',
    measure: 'open by',
    meaning: 'An estimate: shrinkage of the tacks before it pulls the parts apart at this seam.',
    remedy: 'Tack it earlier, clamp stiffer, or raise `fit-up.gap` if such a gap can be tacked.',
  },
  'assembly-gives-way': {
    title: 'the parts in place give way',
    measure: 'reserve',
    meaning: 'Judged as a whole, the parts in place do not carry a load case.',
    remedy: STRONGER,
  },
  wish: {
    title: 'a wish that is not soft forbids it',
    measure: 'the nearest is off by',
    meaning: 'What the candidate would do breaks a hard wish of the weldment file or the settings.',
    remedy: 'Drop the wish, or make it `soft`.',
  },
};

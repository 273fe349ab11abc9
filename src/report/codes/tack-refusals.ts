import type { CodeTable } from './code-words.js';

const ACCURACY =
  'Let the part visit the datum, seat it or search the seam, improve the accuracy of cut, robots or stations, or allow more.';

/** Why a seam cannot be tacked, or a part not be put accurately enough to be. */
export const TACK_REFUSALS: CodeTable = {
  'torch-blocked': {
    title: 'torch blocked by the two parts, the table or a keep-out',
    measure: '',
    meaning: 'At no angle that the process allows does the nozzle get to the seam.',
    remedy: 'Open the joint, tack from another side, use a slimmer torch, or allow wider torch angles.',
  },
  'position-not-allowed': {
    title: 'the process allows no tacks in this welding position',
    measure: '',
    meaning: 'The seam runs in a welding position that the cell does not list.',
    remedy: 'Turn the weldment on the table, tack another seam, or allow the position if it is qualified.',
  },
  'torch-neck': {
    title: 'neck of the torch hits a part, the table or a keep-out',
    measure: '',
    meaning: 'The nozzle gets to the seam, and the neck or body behind it does not.',
    remedy: 'Use a torch with another neck, or tack from another side.',
  },
  'seam-not-coverable': {
    title: 'seam cannot be tacked by the rules',
    measure: 'sites open',
    meaning: 'The sites that the torch gets at are too few or too far apart for the tack rules.',
    remedy: 'Free the seam, relax the tack rules, or strike the side that cannot be reached.',
  },
  'gap-too-wide': {
    title: 'root gap takes the whole leg of the tack',
    measure: 'gap',
    meaning:
      'The gap between the parts is as wide as the leg of the tack, of which nothing is left to carry.',
    remedy: 'Close the gap or give a larger `leg`.',
  },
  'gap-not-held': {
    title: 'gap not held',
    measure: 'errors square to the contact add up to',
    meaning: 'By what its errors add up to the part may miss the other by more than the gap allows.',
    remedy: ACCURACY,
  },
  'place-not-held': {
    title: 'place not held',
    measure: 'errors along the contact add up to',
    meaning: 'By what its errors add up to the part may sit farther off its place than is tolerated.',
    remedy: ACCURACY,
  },
  'tilt-not-held': {
    title: 'tilt not held',
    measure: 'errors at the far end of the contact add up to',
    meaning: 'By what its errors add up to the part may stand so askew that the gap opens at its far end.',
    remedy: ACCURACY,
  },
  'seam-not-met': {
    title: 'torch misses the seam',
    measure: 'errors across the seam add up to',
    meaning: 'By what the errors of parts and robot add up to the wire may miss the seam.',
    remedy: ACCURACY,
  },
  'pad-too-near': {
    title: 'every tack is too near to a holding pad',
    measure: 'the farthest is',
    meaning: 'An arc nearer to a pad than its distance is blown aside by the magnet or burns it.',
    remedy: 'Hold farther from the seam, or by a gripper that keeps arcs less far away.',
  },
  'torch-meets-gripper': {
    title: 'the holding gripper is in the way of every tack that is far enough from its pads',
    measure: '',
    meaning: 'Where arcs are far enough from the pads the torch does not get past the gripper.',
    remedy: 'Hold by another face, or with a slimmer or longer gripper.',
  },
};

import type { CodeTable } from './code-words.js';

/** Why a gripper does not take a part by a face, before any arm is asked. */
export const GRIP_REFUSALS: CodeTable = {
  payload: {
    title: 'payload',
    measure: 'gripper and part',
    meaning: 'Part and gripper together are heavier than the arm may carry.',
    remedy: 'Use a lighter gripper or a stronger robot, or split the part; check `mass`.',
  },
  'not-magnetic': {
    title: 'not magnetic',
    measure: 'share of the pull',
    meaning: 'Magnets do not hold the material of the part.',
    remedy: 'Give the cell a vacuum or jaw gripper for it.',
  },
  footprint: {
    title: 'pads do not fit',
    measure: 'room at the edge of the face',
    meaning: 'A pad would hang over the edge of the face or over a hole.',
    remedy: 'Grip nearer to the middle, use a larger face or smaller pads, or a group of fewer pads.',
  },
  'magnet-too-hot': {
    title: 'magnet too hot for its grade',
    measure: 'temperature',
    meaning: 'The magnet works hotter than its grade stands without losing pull for good.',
    remedy: 'Use a grade for higher temperatures, or correct `temperature`.',
  },
  'jaw-no-face': {
    title: 'no two opposed flat faces under the fingers',
    measure: '',
    meaning: 'A jaw closes on two flat faces that oppose each other, and there are none here.',
    remedy: 'Grip at another place or with another gripper.',
  },
  'jaw-stroke': {
    title: 'jaw does not open or close so far',
    measure: 'opening',
    meaning: 'What the jaw closes on is wider or narrower than its stroke allows.',
    remedy: 'Grip across another pair of faces, or use a jaw with that stroke.',
  },
  'jaw-off-centre': {
    title: 'jaw is not in the middle of what it closes on',
    measure: 'off by',
    meaning: 'Both fingers move alike, so that an uneven grip would push the part aside.',
    remedy: 'Move the grip to the middle between the two faces.',
  },
  'finger-meets-part': {
    title: 'a finger of the jaw meets the part beside its pad',
    measure: '',
    meaning: 'A finger would run into another piece of the part it is to hold.',
    remedy: 'Grip elsewhere, or with slimmer or longer fingers.',
  },
  'gripper-in-part': {
    title: 'gripper meets the part it holds',
    measure: '',
    meaning: 'The body of the gripper would be where the part itself is.',
    remedy: 'Grip elsewhere or at another turn, or with a slimmer or longer gripper.',
  },
  dominated: {
    title: 'beaten in every respect by a grip close by',
    measure: '',
    meaning: 'The grip is left out because a neighbour is at least as good in every respect.',
    remedy: 'Nothing; give the grip under `grips` to have it considered all the same.',
  },
  'wrist-moment': {
    title: 'wrist moment',
    measure: 'moment about the wrist',
    meaning: 'The weight of part and gripper, so far from the wrist, is more than the arm may hold.',
    remedy: 'Grip nearer to the centre of mass, or use a shorter or lighter gripper.',
  },
  'wrist-inertia': {
    title: 'wrist inertia',
    measure: 'inertia about the axis',
    meaning: 'Part and gripper have more inertia about a wrist axis than the arm may turn.',
    remedy: 'Grip nearer to the centre of mass, or use a stronger robot.',
  },
  'grip-slips': {
    title: 'grip does not carry the weight',
    measure: 'reserve',
    meaning: 'Under its own weight the part would slip or peel off the pads, with the reserve asked for.',
    remedy: 'Grip nearer to the centre of mass, or use larger, more or stronger pads.',
  },
  'grip-gives-way': {
    title: 'grip does not carry a sudden stop',
    measure: 'reserve',
    meaning: 'An emergency stop of the robot would tear the part off the pads.',
    remedy: 'Use stronger pads, grip nearer to the centre of mass, or let the robot stop more gently.',
  },
};

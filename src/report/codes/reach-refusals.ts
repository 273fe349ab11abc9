import type { CodeTable } from './code-words.js';

const REACH =
  'Move the robot, the station or the weldment; `inspect --reach` tells which shift would cure it.';
const POSTURE = `Use another grip or turn, or another approach. ${REACH}`;

/** Why an arm does not get to where it should, or not with room. */
export const REACH_REFUSALS: CodeTable = {
  'reach-too-far': {
    title: 'out of reach',
    measure: 'too far by',
    meaning: 'The stretched arm ends before the place it should get to.',
    remedy: REACH,
  },
  'reach-too-close': {
    title: 'out of reach',
    measure: 'too close by',
    meaning: 'The place is nearer than the folded arm can come.',
    remedy: REACH,
  },
  'elbow-limit': {
    title: 'elbow beyond its limit',
    measure: 'angle of the forearm to the upper arm',
    meaning: 'Joints 2 and 3 together would bend the elbow farther than it may.',
    remedy: POSTURE,
  },
  'joint-N-limit': {
    title: 'joint N beyond its limit',
    measure: 'angle',
    meaning: 'No posture of the arm for this place keeps the joint within its limits.',
    remedy: POSTURE,
  },
  'joint-N-jump': {
    title: 'joint N jumps on a straight stroke',
    measure: 'by',
    meaning: 'On a straight stroke the arm would have to change its posture, and the joint with it.',
    remedy: POSTURE,
  },
  'wrist-stretched': {
    title: 'wrist stretched',
    measure: 'bend',
    meaning: 'Axes 4 and 6 would be nearly in line, where small moves need large turns of the wrist.',
    remedy: POSTURE,
  },
  'stand-out-of-reach': {
    title: 'the arm does not get to the stand of the gripper',
    measure: '',
    meaning: 'The robot cannot fetch the gripper where it is put.',
    remedy: 'Move the stand of the gripper.',
  },
  'gripper-below-station': {
    title: 'gripper in the station',
    measure: 'it would go below the top by',
    meaning: 'The gripper beside or below the part would go into the station on which the part lies.',
    remedy: 'Use a grip from above, another rest, or a longer gripper.',
  },
  'arm-blocked': {
    title: 'the arm meets something',
    measure: '',
    meaning: 'On every way to the place a link of the arm meets a part, a fixed thing or another arm.',
    remedy: 'Move what is in the way, use a longer gripper or torch, or another grip.',
  },
  'arms-meet': {
    title: 'two arms meet, and no wait keeps them apart',
    measure: '',
    meaning: 'Two robots would be at one place at a time when neither can wait.',
    remedy: 'Move the robots apart, use a longer gripper or torch, or another order.',
  },
  'station-blocked': {
    title: 'a keep-out or the work table is in the way at the station',
    measure: '',
    meaning: 'The gripper cannot take or set the part at the station without meeting something fixed.',
    remedy: 'Move the station or the keep-out, or use another rest or grip.',
  },
  'turn-blocked': {
    title: 'the table cannot turn: something is in its way',
    measure: '',
    meaning: 'While the table turns, it or a part on it would meet something fixed.',
    remedy: 'Move what is in the way, or let the table turn before that part comes.',
  },
  'gripper-hits-fixed': {
    title: 'gripper hits the table or a keep-out',
    measure: '',
    meaning: 'Where the part is brought into place the gripper would meet the table or a keep-out.',
    remedy: 'Use a grip from above or a longer gripper, or a smaller table.',
  },
  'rest-tips': {
    title: 'rest tips',
    measure: 'centre of mass inside the edge by',
    meaning:
      'A part that lies on this face would tip over. Also an issue, where the file asks for that rest.',
    remedy: 'Let it lie on another face, lower `rests.margin`, or use a stand.',
  },
  'rest-rolls': {
    title: 'rest rolls',
    measure: '',
    meaning:
      'A part that lies on this round face would roll. Also an issue, where the file asks for that rest.',
    remedy: 'Let it lie on another face, or use a stand.',
  },
  'way-blocked': {
    title: 'in the way',
    measure: 'overlaps by',
    meaning: 'A part in place stands in a straight way of the newcomer into its place.',
    remedy: 'Let it come later, give another `approach`, or make room.',
  },
  'no-room-to-slide': {
    title: 'too little room to slide between',
    measure: 'room of both sides together',
    meaning: 'Two parts in place leave less than twice `fit-up.insertion` for the newcomer between them.',
    remedy: 'Cut it shorter, lower `fit-up.insertion`, or let one of the two come later.',
  },
  'gripper-meets': {
    title: 'gripper runs into it',
    measure: 'overlaps by',
    meaning: 'The gripper, as it brings the newcomer, overlaps a part in place.',
    remedy: 'Grip elsewhere, use a slimmer gripper, or let that part come later.',
  },
};

import type { CodeTable } from './code-words.js';

/** Issues of a cell file. */
export const CELL_ISSUES: CodeTable = {
  robots: {
    title: 'robots missing',
    meaning: 'A cell needs at least one robot that handles and one that welds.',
    remedy: 'Add a robot with the `duty` named.',
  },
  'no-grippers': {
    title: 'no grippers',
    meaning: 'The cell has no gripper, so that no part can be taken.',
    remedy: 'Give at least one under `grippers`.',
  },
  'unknown-pad': {
    title: 'pad is not there',
    meaning: 'A group of pads names the number of a pad that the gripper does not have.',
    remedy: 'Give numbers from 1 to the number of pads.',
  },
  'pads-overlap': {
    title: 'pads overlap',
    meaning: 'Two pads of a gripper lie nearer to each other than they are wide.',
    remedy: 'Keep them at least a diameter apart.',
  },
  'unknown-torch': {
    title: 'torch is not known',
    meaning: 'A welding robot names a torch that the cell does not have.',
    remedy: 'Correct the name as proposed, or add the torch under `torches`.',
  },
  'outside-limits': {
    title: 'posture outside the limits of the arm',
    meaning: 'A joint angle of `home` or of a posture is outside the limits of the joint.',
    remedy: 'Give an angle within the limits, or correct them.',
  },
  'index-angle-twice': {
    title: 'index angle given twice',
    meaning: 'The turntable lists one angle twice; full turns apart is the same angle.',
    remedy: 'Strike one of them.',
  },
  'index-angle-zero': {
    title: 'index angle 0 missing',
    meaning: 'The file describes the table as it stands at index angle 0, and the list does not have it.',
    remedy: 'Add 0 to `angles`.',
  },
  'axis-off-table': {
    title: 'axis beside the table',
    meaning: 'The axis about which the table turns does not stand in the table top.',
    remedy: 'Give a point of the table top.',
  },
  'unknown-robot': {
    title: 'robot is not known',
    meaning: 'The cell, or a wish, names a robot that the cell does not have.',
    remedy: 'Correct the name as proposed.',
  },
  urdf: {
    title: 'arm cannot be read from its URDF',
    meaning: 'The URDF file is missing or malformed, or its arm is not one of six axes that is understood.',
    remedy: 'Do what the issue says, or give the seven lengths of the arm instead.',
  },
  'cleaner-not-reached': {
    title: 'torch cleaner is not reached',
    meaning: 'A welding robot does not get to the cleaner from its home without meeting something.',
    remedy: 'Give another posture or `home`, or leave out `cleaning`.',
  },
  'cell-missing': {
    title: 'cell missing',
    meaning: 'Parts with shapes are planned in a cell, and none is given.',
    remedy: 'Give one with `--cell`.',
  },
};

import type { CodeTable } from './code-words.js';

/** Warnings: what can be planned as it is, and is likely to be a mistake. */
export const WARNINGS: CodeTable = {
  'sub-assemblies-apart': {
    title: 'programs of sub-assemblies are apart',
    meaning:
      'What is exported has the programs of the weldment, and the plan has others for its sub-assemblies.',
    remedy: 'Save each `plan` under `subAssemblies` as a file of its own, and export that too.',
  },
  'looks-like-metres': {
    title: 'sizes look like metres',
    meaning: 'No size of any part reaches 5 mm, or one is thinner than any sheet that is tacked.',
    remedy: 'If these are metres, multiply every length by 1000.',
  },
  'looks-like-inches': {
    title: 'sizes look like inches',
    meaning:
      'Every size is a small multiple of a sixteenth, as of a drawing in inches, or every size is one of a sixteenth of an inch in mm and the places are not.',
    remedy: 'Multiply every length by 25.4, in `at` and `outline` as well; if the sizes are right, nothing.',
  },
  'mass-unlike-shape': {
    title: 'mass does not match the shape',
    meaning: 'The mass given is more than twice, or less than half, what shape and material come to.',
    remedy: 'Give kg, not g, t or lb; correct a size or the material; or leave `mass` out.',
  },
  'thickness-over-width': {
    title: 'plate thicker than wide',
    meaning: 'The thickness of a plate is larger than its width or length, as if sizes were swapped.',
    remedy: 'Correct the sizes, or use `block`.',
  },
  'parts-overlap-slightly': {
    title: 'parts overlap slightly',
    meaning: 'Two parts share room by less than counts as an overlap; they are taken to touch.',
    remedy: 'Round `at` and sizes so that they just touch.',
  },
  'gap-slightly-over': {
    title: 'gap slightly over what may be tacked',
    meaning:
      'Two parts face each other across a gap of once to twice `fit-up.gap`, so that they do not meet.',
    remedy: 'Close the gap, or raise `fit-up.gap` if such a gap can be tacked; if it is meant, nothing.',
  },
  'part-far-away': {
    title: 'part far from all others',
    meaning: 'A part is farther from every other one than these are large together.',
    remedy: 'Look for a wrong sign, unit or axis in its `at`.',
  },
  'weldment-in-pieces': {
    title: 'joints leave several pieces',
    meaning:
      'No chain of joints leads from one part to another, so that the weldment would come out in pieces.',
    remedy: 'Add the joint that is missing, or plan each piece by itself.',
  },
  'tolerance-unrelated': {
    title: 'tolerance between parts that nothing joins',
    meaning:
      'No chain of joints leads from one end of a tolerance to the other, so that no tack can keep it.',
    remedy: 'Name parts of one piece, or add the joint that is missing.',
  },
  'grip-off-face': {
    title: 'grip beside its face',
    meaning: 'The position of a grip lies beyond the edge of the face it names.',
    remedy: 'Give the position from the middle of the face, along its axes, mm.',
  },
  'payload-near-limit': {
    title: 'payload nearly used up',
    meaning: 'A part with the lightest gripper that may take it needs more than nine tenths of the payload.',
    remedy:
      'Check the mass, and the payload at the centre of mass of part and gripper; or use a lighter gripper.',
  },
  'station-out-of-reach': {
    title: 'station beyond every arm',
    meaning: 'The middle of a station is farther from every robot that needs it than its arm is long.',
    remedy: 'Move the station or a robot; `inspect --reach` says where each robot gets to.',
  },
};

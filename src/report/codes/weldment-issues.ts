import type { CodeTable } from './code-words.js';

/** Issues of a weldment file: errors, which stop it from being planned. */
export const WELDMENT_ISSUES: CodeTable = {
  'no-parts': {
    title: 'no parts',
    meaning: 'The weldment has no part.',
    remedy: 'Give at least one under `parts`.',
  },
  'unknown-part': {
    title: 'part is not known',
    meaning:
      'A joint, contact, tolerance, sub-assembly or order relation names a part that `parts` does not have.',
    remedy: 'Correct the name as proposed, or add the part.',
  },
  'unknown-material': {
    title: 'material is not known',
    meaning: 'Density, pull of magnets and strength of tacks are known for a few materials only.',
    remedy: 'Use one of the materials listed.',
  },
  'unknown-face': {
    title: 'face is not known',
    meaning: 'The shape of the part has no face or rest of this name.',
    remedy: 'Use one of the names listed; README, Shapes, says which faces a shape has.',
  },
  'curved-face': {
    title: 'face is round',
    meaning: 'A grip names a round face, and pads need a flat one.',
    remedy: 'Name an end or another flat face.',
  },
  'duplicate-joint': {
    title: 'joint given twice',
    meaning: 'Two joints name the same pair of parts.',
    remedy: 'Keep one; `sides: all` takes every seam of a pair.',
  },
  'self-reference': {
    title: 'part refers to itself',
    meaning: 'A part is said to block, need or be measured from itself.',
    remedy: 'Name another part.',
  },
  cycle: {
    title: 'needs form a circle',
    meaning: 'Each of some parts is to come after the next, so that none can come first.',
    remedy: 'Drop one of the `needs` named.',
  },
  'manual-and-handled': {
    title: 'set by hand and by robot',
    meaning: 'A part that a person sets gives a rest, grips or an approach, which only a robot uses.',
    remedy: 'Strike them, or strike `manual`.',
  },
  'sub-assembly-name-taken': {
    title: 'name of a sub-assembly is taken',
    meaning: 'A part or another sub-assembly has the same name, and stages could not be told apart.',
    remedy: 'Give it a name of its own.',
  },
  'part-in-two-sub-assemblies': {
    title: 'part in two sub-assemblies',
    meaning: 'A part is named twice under `sub-assemblies`, and it is tacked once.',
    remedy: 'Name each part once.',
  },
  'sub-assembly-of-all-parts': {
    title: 'sub-assembly of all parts',
    meaning: 'A sub-assembly has every part of the weldment, so that there is nothing it could be joined to.',
    remedy: 'Leave one part out at least, or strike the sub-assembly.',
  },
  'manual-in-sub-assembly': {
    title: 'part set by hand in a sub-assembly',
    meaning: 'A sub-assembly names a part that a person sets, and robots tack sub-assemblies.',
    remedy: 'Leave it out of the sub-assembly, or strike `manual`.',
  },
  'unlike-materials-in-sub-assembly': {
    title: 'sub-assembly of unlike materials',
    meaning:
      'Magnets hold the materials of a sub-assembly unlike well, so that their pull on it could not be said.',
    remedy: 'Group parts that magnets hold alike.',
  },
  'sub-assembly-not-joined': {
    title: 'sub-assembly is not joined in itself',
    meaning: 'The joints between the parts of a sub-assembly do not make one piece of them.',
    remedy: 'Add the part between them, or leave out what is not joined.',
  },
  'sub-assembly-lies-nowhere': {
    title: 'sub-assembly does not lie',
    meaning:
      'On every flat face the sub-assembly would tip over or roll away, and nothing is built on such a one.',
    remedy: 'Group other parts.',
  },
  'parts-overlap': {
    title: 'parts overlap',
    meaning: 'In their final place two parts share room, by more than a rounding of their sizes.',
    remedy: 'Correct a size, `at` or `turn` so that they touch or leave a gap.',
  },
  'joint-without-contact': {
    title: 'joint of parts that do not meet',
    meaning: 'Two parts are to be joined and have no faces opposed to one another.',
    remedy: 'Correct `at`, `turn` or a size so that faces meet, or strike the joint.',
  },
  'joint-gap-too-wide': {
    title: 'gap of a joint too wide',
    meaning: 'Faces of two parts that are to be joined stand farther apart than `fit-up.gap`.',
    remedy: 'Move them together, raise `fit-up.gap` if that gap can be tacked, or strike the joint.',
  },
  'joint-without-seam': {
    title: 'joint without a seam',
    meaning: 'Two parts meet, but where they do there is no seam of the type and side asked for.',
    remedy: 'See the seams that `inspect` lists; change `type`, `sides` or `open`.',
  },
  'contact-not-found': {
    title: 'contact is not there',
    meaning: 'The file gives a contact, and the shapes have no faces opposed, or none within `fit-up.gap`.',
    remedy: 'Move the parts together, raise `fit-up.gap`, or strike the contact.',
  },
  'part-below-table': {
    title: 'part below the table',
    meaning: 'A part reaches below the top of the work table.',
    remedy: 'Raise the weldment, or set `table.weldment-at` of the cell.',
  },
  'nothing-on-table': {
    title: 'nothing stands on the table',
    meaning: 'No flat face of any part lies on the work table, so that no part can be the first.',
    remedy: 'Lower the weldment, or set `table.weldment-at` of the cell.',
  },
  'unknown-gripper': {
    title: 'gripper is not known',
    meaning: 'A grip names a gripper that the cell does not have.',
    remedy: 'Write one of the grippers listed.',
  },
  'unknown-pad-group': {
    title: 'group of pads is not known',
    meaning: 'A grip names a group of pads that its gripper does not have.',
    remedy: 'Write one of the groups listed, or leave `group` out.',
  },
  'pads-larger-than-face': {
    title: 'pads larger than the face',
    meaning: 'A grip names a face on which a pad of its gripper has no room.',
    remedy: 'Name another face or a gripper with smaller pads.',
  },
  'tack-strength-unknown': {
    title: 'strength of tacks is not known',
    meaning: 'A part that is to be joined is of a material for which no strength of tacks is known.',
    remedy: 'Use S235, S275 or S355, or strike the joints of this part.',
  },
  'part-joined-to-nothing': {
    title: 'part joined to nothing',
    meaning: 'A part has no joint with any other, so that no tack would hold it.',
    remedy: 'Add a joint, move the part to where it touches, or take it out of the weldment.',
  },
  'wish-without-shapes': {
    title: 'wish that needs shapes',
    meaning: 'A wish about a face, a place, a hold or a tack is given for a weldment without shapes.',
    remedy: 'Wish for order, first part, gripper or regrips, or give shapes.',
  },
  'wish-for-manual': {
    title: 'wish about a part set by hand',
    meaning: 'A wish asks how a robot takes or holds a part that a person sets.',
    remedy: 'Drop the wish, or let robots bring the part.',
  },
  'empty-wish': {
    title: 'wish that names nothing',
    meaning: 'A wish about a grip names neither gripper, face, position nor robot.',
    remedy: 'Name at least one of them, or drop the wish.',
  },
  'position-without-face': {
    title: 'position without a face',
    meaning: 'A wish gives the position of a grip and not the face that it is on.',
    remedy: 'Name the `face` too.',
  },
  'unknown-joint': {
    title: 'no such joint',
    meaning: 'A wish for a tack names two parts that no joint joins.',
    remedy: 'Name two parts that are joined, or add the joint.',
  },
};

import type { CodeTable } from './code-words.js';

/** Why a variant of a family is not built by a pattern, beside what stands against a plan of it anyway. */
export const PATTERN_REFUSALS: CodeTable = {
  'role-without-face': {
    title: 'no such face or gripper for the grip of the pattern',
    meaning:
      'The part has another shape in this variant, without the flat face on which the pattern grips it, or the cell lacks the gripper.',
    remedy: 'None for this pattern; another may fit.',
  },
  'role-without-grip': {
    title: 'no such grip given for the part',
    meaning:
      'The pattern takes the part by one of the grips that its file gives it, which this variant does not have in that place of the list.',
    remedy: 'Give the same grips in the same order in every variant.',
  },
  'part-not-in-pattern': {
    title: 'part that the pattern does not build',
    meaning: 'The pattern was taken from a variant without this part, so that it has no stage for it.',
    remedy: 'None for this pattern: one taken from a variant with the part may fit.',
  },
  'pattern-by-robot': {
    title: 'set by a person, by a robot in the pattern',
    meaning: 'The part is `manual` in this variant; in the pattern a robot brings it.',
    remedy: 'Say `manual` of the part in every variant or in none, or use another pattern.',
  },
  'pattern-by-hand': {
    title: 'brought by a robot, set by a person in the pattern',
    meaning: 'In the pattern a person sets the part; in this variant it is not `manual`.',
    remedy: 'Say `manual` of the part in every variant or in none, or use another pattern.',
  },
  'other-pattern': {
    title: 'built otherwise than the pattern says',
    meaning:
      'There is a plan under the order, grips, regrips and holds of the pattern, but something that cannot be wished for differs, as a regrip, the angle of the work table or a signal.',
    remedy: 'None for this pattern; another may fit.',
  },
  'budget-ended': {
    title: 'budget ended before a plan was found',
    meaning: 'No plan was found, and nothing was proved.',
    remedy: 'Give more with `--steps` or `--seconds`.',
  },
  'family-without-shapes': {
    title: 'family of parts without shapes',
    meaning: 'A pattern says how grips sit on the parts, which therefore need shapes.',
    remedy: 'Give the parts of the base shapes.',
  },
};

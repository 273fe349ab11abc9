import type { CodeTable } from './code-words.js';

/** Issues of plans, measurements and studies. */
export const OTHER_ISSUES: CodeTable = {
  'plan-abstract': {
    title: 'plan without robot programs',
    meaning: 'The plan is of a weldment without shapes, for which there are no robot programs.',
    remedy: 'Give the plan of a weldment with shapes.',
  },
  'other-plan': {
    title: 'answers about another plan',
    meaning:
      'An answer that is to be shown beside a plan is about something that this plan has otherwise or not at all.',
    remedy: 'Ask about this plan with `why --json`, and give what that printed.',
  },
  'other-files': {
    title: 'trade for other files',
    meaning: 'A plan of the trade was made for another weldment or cell than the plan that is shown.',
    remedy: 'Trade with the same files with `plan --trade --json`, and give what that printed.',
  },
  'no-shapes': {
    title: 'parts without shapes',
    meaning: 'Something is asked for that only parts with shapes have, as distortion.',
    remedy: 'Ask for what such a weldment has, or give shapes.',
  },
  'in-one-piece-only': {
    title: 'for weldments in one piece only',
    meaning:
      'A family, a trade, an order for the full welds or an earlier plan to start from is asked for, and the weldment file asks for sub-assemblies.',
    remedy: 'Write `sub-assemblies: off`, or leave that out.',
  },
  measurement: {
    title: 'measurement cannot be used',
    meaning: 'A row of the measurements names an unknown step, part or direction, or has no number.',
    remedy: 'Write `step,part,direction,millimetres` with the ids of the plan.',
  },
  calibration: {
    title: 'nothing to calibrate',
    meaning: 'The plan breaks a rule or has no tacks, or the points measured tell no factor.',
    remedy: 'Measure several points that tacks move, by a plan that passes `check`.',
  },
  frame: {
    title: 'frame of bars with a fault',
    meaning: 'A bar names a missing node, is doubled or too short, or is joined to no grounded node.',
    remedy: 'Correct the node or bar as the issue says.',
  },
  'no-instance': {
    title: 'not an instance of a study',
    meaning: 'The name of the file does not say what kind of instance it is.',
    remedy: 'End it in .sop, .sop.gz, .weldment.yaml, .weldment.json or .frame.json.',
  },
  sop: {
    title: 'sequential ordering cannot be read',
    meaning: 'The file breaks the format of published sequential orderings.',
    remedy: 'Correct the line as the issue says.',
  },
  'best-known': {
    title: 'table of best known values cannot be read',
    meaning: 'A row has no instance or no number, or an instance is there twice.',
    remedy: 'Write a CSV with `instance` and `best_known`.',
  },
  results: {
    title: 'results of a study cannot be read',
    meaning: 'A row is not one that `study` writes, or contradicts another.',
    remedy: 'Restore the row, or strike it; `study` makes it again.',
  },
  'other-limits': {
    title: 'results with other limits',
    meaning: 'The file of results has rows made with other limits, which cannot be compared.',
    remedy: 'Give the limits of the file, or another file with `--out`.',
  },
  'plan-of-other-kind': {
    title: 'plan of another kind of weldment',
    meaning:
      'The plan to start from is of a weldment with shapes and this one has none, or the other way round.',
    remedy: 'Start from a plan of this weldment.',
  },
  'plan-of-other-weldment': {
    title: 'plan of another weldment',
    meaning: 'The plan to start from names another weldment; parts of equal names are taken up.',
    remedy: 'Check that this is meant.',
  },
  'unknown-tack': {
    title: 'no such tack',
    meaning: 'A question names a tack that the plan does not have.',
    remedy: 'Use an id of the plan.',
  },
  'unknown-stage': {
    title: 'no such stage',
    meaning: 'A question names a stage that the plan does not have.',
    remedy: 'Use one of its numbers.',
  },
};

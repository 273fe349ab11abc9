import type { CodeTable } from './code-words.js';

/** Issues of a family file, of its base and of its table of variants. */
export const FAMILY_ISSUES: CodeTable = {
  'expression-syntax': {
    title: 'expression cannot be read',
    meaning:
      'A text that begins with `=`, or stands in braces, is no complete expression, or is too long or nested too deep.',
    remedy:
      'Mend it as the issue says; a comma or a colon in a list needs quotes round the whole expression.',
  },
  'expression-not-allowed': {
    title: 'not allowed in an expression',
    meaning:
      'Expressions are arithmetic, comparisons, choices and a few functions. Nothing else is ever carried out.',
    remedy: 'Write it with what is allowed, or put the number itself.',
  },
  'expression-kind': {
    title: 'value of another kind in an expression',
    meaning: 'A number is needed where the expression has a text or yes and no, or the other way round.',
    remedy: 'Compare to get true or false; choose between numbers with `a ? b : c`.',
  },
  'division-by-zero': {
    title: 'division by zero',
    meaning: 'For the values of this variant an expression divides by 0.',
    remedy:
      'Guard it with `a ? b : c`, of which only the side that is chosen is worked out, or change the values.',
  },
  'not-finite': {
    title: 'expression without a finite value',
    meaning:
      'For the values of this variant an expression has no value, as a root of a negative number, or one too large.',
    remedy: 'Change the expression or the values.',
  },
  'unknown-name': {
    title: 'name stands for nothing',
    meaning:
      'An expression uses a name that is no parameter and not in `let`; `i` exists only in what is repeated.',
    remedy: 'Correct it as proposed, or add a parameter or an entry of `let`.',
  },
  'let-loop': {
    title: 'derived numbers need one another',
    meaning: 'Numbers of `let` go round in a circle, so that none of them can be worked out.',
    remedy: 'Give one of them without the others.',
  },
  'name-taken': {
    title: 'name given twice',
    meaning: 'An entry of `let` is called as a parameter, or a part as a copy of a repeated part.',
    remedy: 'Give one of the two another name.',
  },
  'abstract-base': {
    title: 'base without shapes',
    meaning:
      'The base of the family has no part with a shape, so that there is nothing that a parameter could change.',
    remedy: 'Give every part of the base a shape and a place.',
  },
  copies: {
    title: 'no count of copies',
    meaning: 'For the values of this variant `repeat` is not a whole number, is negative or is too large.',
    remedy: 'Give a whole number; `round`, `floor` and `ceil` make one.',
  },
  'condition-kind': {
    title: 'condition is neither true nor false',
    meaning: 'For the values of this variant `when` comes to a number or a text.',
    remedy: 'Write a comparison.',
  },
  'weldment-too-large': {
    title: 'weldment too large',
    meaning: 'With everything that is repeated the weldment of a variant has more values than are read.',
    remedy: 'Repeat less.',
  },
  'value-kind': {
    title: 'parameter of the wrong kind',
    meaning: 'A variant, or a default, gives a parameter a value of another kind than it has.',
    remedy: 'Give a number, true or false, or a text, as the issue says.',
  },
  'value-out-of-range': {
    title: 'parameter out of its range',
    meaning: 'A variant, or a default, gives a parameter a number that its `range` does not hold.',
    remedy: 'Give a number within the range, or widen it.',
  },
  'value-missing': {
    title: 'parameter without a value',
    meaning: 'A variant does not give a parameter, and the parameter has no default.',
    remedy: 'Give it, or a default.',
  },
  'unknown-parameter': {
    title: 'no such parameter',
    meaning: 'A variant gives something that is no parameter of the family.',
    remedy: 'Correct it as proposed, or strike it.',
  },
  'duplicate-variant': {
    title: 'variant named twice',
    meaning: 'Two variants have one name, by which everything about them is called.',
    remedy: 'Give each a name of its own.',
  },
  'missing-column': {
    title: 'column missing',
    meaning: 'The table of variants has no column of names, or none of a parameter without a default.',
    remedy: 'Add the column, or give the parameter a default.',
  },
  'unknown-column': {
    title: 'column is no parameter',
    meaning: 'The table of variants has a column that nothing reads, misspelt most often.',
    remedy: 'Correct the name as proposed, or strike the column.',
  },
  'column-unit': {
    title: 'column in another unit',
    meaning:
      'The table of variants gives a parameter in another unit than the family file; nothing is converted.',
    remedy: 'Give the column in the unit of the parameter.',
  },
};

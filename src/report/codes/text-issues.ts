import type { CodeTable } from './code-words.js';

/** Issues of any file: whether it can be read, and whether it is what its schema asks for. */
export const TEXT_ISSUES: CodeTable = {
  file: {
    title: 'file cannot be used',
    meaning: 'The file is not there, is a folder, is not UTF-8 text, or cannot be read or written.',
    remedy: 'Check the path and the permissions; save text as UTF-8.',
  },
  'file-there': {
    title: 'file is there already',
    meaning: 'A command that never replaces a file was to write one that exists. Nothing was written.',
    remedy: 'Give another name or folder, or move the file away.',
  },
  text: {
    title: 'text too large or too deep',
    meaning: 'The text is longer, or its maps and lists are nested deeper, than is read.',
    remedy: 'Split the file, or nest less.',
  },
  table: {
    title: 'table cannot be read',
    meaning:
      'A CSV or XLSX file is none, is too large, or has a row, a column name or a cell that cannot be told apart.',
    remedy: 'Mend the row or column as the issue says: names in the first row, one thing a row below.',
  },
  'table-column': {
    title: 'column is not right',
    meaning:
      'A table of parts or joints has a column that nothing reads, has one twice, or lacks one that is needed.',
    remedy: 'Correct the name as proposed, strike the column, or add the one that is missing.',
  },
  'table-unit': {
    title: 'unit is not right',
    meaning:
      'The row of units is missing, or has another unit than the one that a weldment file has for such numbers.',
    remedy: 'Convert the column as the issue says; a file has one unit system, so nothing is converted.',
  },
  'table-cell': {
    title: 'cell cannot be used',
    meaning:
      'A cell of a table of parts or joints is empty where it must not be, or holds something else than it should.',
    remedy: 'Write what the issue says.',
  },
  syntax: {
    title: 'not valid YAML or JSON',
    meaning: 'The text breaks the grammar at this line, so that the rest of it cannot be understood.',
    remedy: 'Mend the line as the issue says: a bracket, an indentation, a quote or a tab, most often.',
  },
  anchor: {
    title: 'repeated value cannot be resolved',
    meaning: 'A `*name` has no `&name` above it, contains itself, or repeats too much.',
    remedy: 'Write the value itself.',
  },
  key: {
    title: 'key is not a word',
    meaning: 'A map has a list, a map or nothing where a key belongs.',
    remedy: 'Use a plain word as the key.',
  },
  'reserved-key': {
    title: 'key is reserved',
    meaning: 'The key `__proto__` cannot be a name.',
    remedy: 'Use another name.',
  },
  'duplicate-key': {
    title: 'key given twice',
    meaning: 'A map gives one key twice, so that one of the two values would be lost.',
    remedy: 'Keep one of them.',
  },
  'unknown-key': {
    title: 'key is not known',
    meaning: 'The file gives something that nothing reads, a misspelt key most often.',
    remedy: 'Correct it as proposed, or strike it; the schemas in `shared/` list all keys.',
  },
  missing: {
    title: 'value missing',
    meaning: 'Something that has no default is not given.',
    remedy: 'Add it as the issue says.',
  },
  kind: {
    title: 'value of the wrong kind',
    meaning: 'A text stands where a number belongs, a single value where a list does, or the like.',
    remedy: 'Write the kind of value that is asked for; numbers without units.',
  },
  choice: {
    title: 'value not among the choices',
    meaning: 'Only a few words are allowed here, and this is none of them.',
    remedy: 'Write one of the words listed.',
  },
  name: {
    title: 'name cannot be used',
    meaning: 'A name is empty, too long, or has characters that cannot be shown on one line.',
    remedy: 'Give 1 to 80 printable characters.',
  },
  length: {
    title: 'list too short or too long',
    meaning: 'A list has fewer or more values than it may have.',
    remedy: 'Give as many as the issue says.',
  },
  range: {
    title: 'number out of range',
    meaning: 'A number is below the least or above the most that makes sense here.',
    remedy: 'Give a number within the limit, in mm, kg, N, s or degrees.',
  },
  rule: {
    title: 'values do not go together',
    meaning: 'Each value is allowed by itself, and together they contradict each other.',
    remedy: 'Change one of them as the issue says.',
  },
  'wrong-kind': {
    title: 'file of another kind',
    meaning: 'A cell file stands where a weldment belongs, or the like.',
    remedy: 'Give the files in the order that the command asks for.',
  },
  'total-too-large': {
    title: 'sums too large to count',
    meaning: 'Times or counts add up to more than can be counted exactly.',
    remedy: 'Give true values; one of them is many times too large.',
  },
};

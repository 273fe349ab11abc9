import { slug } from '../../base/identifier.js';
import { starterAbstract } from './starter-abstract.js';
import { starterCell } from './starter-cell.js';
import { starterWeldment } from './starter-weldment.js';

/** A file to begin from: its name, without a folder, and its text. */
export interface StarterFile {
  readonly file: string;
  readonly text: string;
}

const ABOUT =
  'Made by `tackwright new`: our own invention, to be changed. README has every field; the schemas in `shared/` have its default.';

/**
 * The files of a new weldment by its name, which must have passed `nameSchema`: a weldment and a cell, or one weldment
 * without shapes. File names have lower-case letters, digits and dashes only, so that no name leads out of a folder.
 */
export function starterFiles(name: string, abstract: boolean): readonly StarterFile[] {
  const file = slug(name, 'weldment');
  const quoted = quotedName(name);
  if (abstract) return [{ file: `${file}.weldment.yaml`, text: starterAbstract(quoted, ABOUT) }];
  return [
    { file: `${file}.weldment.yaml`, text: starterWeldment(quoted, ABOUT) },
    { file: `${file}.cell.yaml`, text: starterCell(quoted, ABOUT) },
  ];
}

/** A name as YAML writes it: in quotes unless it is a plain word, and then not one that YAML reads as something else. */
const quotedName = (name: string): string =>
  /^[a-z][a-z0-9-]*$/.test(name) && !OTHER_THAN_TEXT.has(name) ? name : JSON.stringify(name);

const OTHER_THAN_TEXT: ReadonlySet<string> = new Set([
  'true',
  'false',
  'null',
  'y',
  'n',
  'yes',
  'no',
  'on',
  'off',
]);

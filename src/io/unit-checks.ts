import type { Issue } from '../model/issue.js';
import { SHAPE_KEYS } from '../model/shape.js';
import type { SourceDocument } from './document.js';
import { issueAt } from './issue-at.js';
import { membersAt, numberAt } from './raw-view.js';
import type { Path } from './show.js';

/** A weldment of which no size reaches this many mm was probably measured in metres. */
const LEAST_LIKELY_SIZE = 5;

/** Nothing thinner than this is tacked, mm. */
const THINNEST_LIKELY = 0.5;

/** Drawings in inches go by sixteenths. */
const SIXTEENTH = 1 / 16;
const INCH = 25.4;

/** A weldment larger than this many inches, 4 ft, would be taken for millimetres (our choice). */
const MOST_INCHES = 48;

/** Fewer sizes than this, that all fall on sixteenths of an inch, may do so by chance (our choice). */
const LEAST_SIZES = 3;

interface Size {
  readonly size: number;
  readonly path: Path;
}

/** Sizes that no weldment in mm has: all of one in metres or inches, or one part of it. */
export function looksLikeOtherUnits(document: SourceDocument): readonly Issue[] {
  const sizes = sizesIn(document);
  if (sizes.length === 0) return [];
  return inInches(document, sizes) ?? inMetres(document, sizes);
}

function sizesIn({ value }: SourceDocument): readonly Size[] {
  return membersAt(value, ['parts']).flatMap(({ path }) =>
    SHAPE_KEYS.flatMap((shape) =>
      membersAt(value, [...path, shape]).flatMap((member) => {
        const size = numberAt(value, member.path);
        return size === undefined ? [] : [{ size, path: member.path }];
      }),
    ),
  );
}

function inMetres(document: SourceDocument, sizes: readonly Size[]): readonly Issue[] {
  const largest = sizes.reduce((most, { size }) => Math.max(most, size), -Infinity);
  const remedy = 'if these are metres, multiply every length by 1000';
  const warning = (path: Path, problem: string): Issue =>
    issueAt(document, path, { code: 'looks-like-metres', severity: 'warning', problem, remedy });
  if (largest < LEAST_LIKELY_SIZE)
    return [warning(['parts'], `the largest size of any part is ${largest} mm`)];
  return sizes
    .filter(({ size }) => size > 0 && size < THINNEST_LIKELY)
    .map(({ size, path }) => warning(path, `${size} mm is thinner than any sheet that is tacked`));
}

const multiple = (value: number, of: number): boolean => Math.abs(value / of - Math.round(value / of)) < 1e-6;

/** The warning of a weldment in inches, or of one whose sizes were converted and whose places were not. */
function inInches(document: SourceDocument, sizes: readonly Size[]): readonly Issue[] | undefined {
  if (sizes.length < LEAST_SIZES) return undefined;
  const warning = (problem: string, remedy: string): readonly Issue[] => [
    issueAt(document, ['parts'], { code: 'looks-like-inches', severity: 'warning', problem, remedy }),
  ];
  const inches = sizes.every(({ size }) => size <= MOST_INCHES && multiple(size, SIXTEENTH));
  const odd = sizes.find(({ size }) => !multiple(size, 0.5) && !multiple(size, 0.2));
  if (inches && odd !== undefined)
    return warning(
      `every size is a small multiple of a sixteenth, as ${odd.size}, and none is larger than ${MOST_INCHES} mm`,
      `if these are inches, multiply every length by ${INCH}, in \`at\` and outlines as well`,
    );
  const converted = sizes.every(({ size }) => multiple(size, INCH * SIXTEENTH));
  const left = placesIn(document).find((place) => !multiple(place, (INCH * SIXTEENTH) / 2));
  if (!converted || left === undefined || sizes.every(({ size }) => multiple(size, 1))) return undefined;
  return warning(
    `every size is a multiple of a sixteenth of an inch, and places such as ${left} mm are not`,
    `if places are still in inches, multiply them by ${INCH}; if they are right, nothing`,
  );
}

/** Every coordinate of every `at`. */
const placesIn = ({ value }: SourceDocument): readonly number[] =>
  membersAt(value, ['parts']).flatMap(({ path }) =>
    [0, 1, 2].flatMap((axis) => numberAt(value, [...path, 'at', axis]) ?? []),
  );

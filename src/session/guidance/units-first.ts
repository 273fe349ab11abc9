import type { Issue } from '../../model/issue.js';
import { counted } from '../../report/numbers.js';

const UNITS = ['looks-like-metres', 'looks-like-inches'];

/**
 * What is told of a weldment whose sizes as a whole look like other units and whose geometry contradicts its file: the units as
 * the one cause, with how many errors it would explain and the first of them, for whoever meant the sizes as they are.
 * Undefined where units are not in doubt.
 */
export function unitsFirst(
  warnings: readonly Issue[],
  contradicted: readonly Issue[],
): readonly Issue[] | undefined {
  const doubt = warnings.find(({ code, path }) => UNITS.includes(code) && path === 'parts');
  const [first] = contradicted;
  if (doubt === undefined || first === undefined) return undefined;
  const follow = `${counted(contradicted.length, 'error')} that this would explain, the first at ${first.path}: ${first.problem}`;
  return [
    ...warnings.filter((one) => one !== doubt),
    {
      ...{ ...doubt, severity: 'error', problem: `${doubt.problem}, with ${follow}` },
      remedy: `${doubt.remedy}; all else is checked once this is mended`,
    },
  ];
}

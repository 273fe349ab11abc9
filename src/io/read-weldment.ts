import { SHAPE_KEYS } from '../model/shape.js';
import type { AnyWeldment } from '../model/weldment.js';
import { abstractFileSchema, weldmentFileSchema } from '../model/weldment.js';
import { membersAt } from './raw-view.js';
import type { Judge, Reading } from './reading.js';
import { judgeBy, readBy } from './reading.js';
import { resolveAbstract, resolveWeldment } from './resolve-weldment.js';
import { weldmentIssues } from './weldment-checks.js';

const judgeGeometric = judgeBy(weldmentFileSchema, weldmentIssues, resolveWeldment);
const judgeAbstract = judgeBy(abstractFileSchema, weldmentIssues, resolveAbstract);

/** Judges a raw weldment document, geometric or abstract; `readWeldment` of what is parsed already. */
export const judgeWeldment: Judge<AnyWeldment> = (document) =>
  isAbstract(document.value) ? judgeAbstract(document) : judgeGeometric(document);

/** What only a part with a shape can have; any of it makes the file geometric. */
const GEOMETRIC_KEYS: readonly string[] = [...SHAPE_KEYS, 'at', 'turn'];

/** Whether a raw weldment document is the abstract kind: no part has a shape, or a place where one would be. */
export const isAbstract = (value: unknown): boolean =>
  membersAt(value, ['parts']).every(({ path }) =>
    membersAt(value, path).every((member) => !GEOMETRIC_KEYS.includes(String(member.path.at(-1)))),
  );

/**
 * Reads a weldment file (YAML or JSON), geometric or abstract. All issues are told in one run; a value comes only
 * without errors, perhaps with warnings. Parts are in the order of their names.
 */
export const readWeldment = (text: string, file: string): Reading<AnyWeldment> =>
  readBy(text, file, judgeWeldment, 'weldment');

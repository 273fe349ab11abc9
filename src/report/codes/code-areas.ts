import { ABSTRACT_RULES } from '../../rules/check-abstract.js';
import { RULES } from '../../rules/check.js';
import { SUB_ASSEMBLY_RULES } from '../../rules/sub-assemblies/check-whole.js';
import { INPUTS_TRUE } from '../../rules/inputs-true.js';
import { CELL_ISSUES } from './cell-issues.js';
import type { CodeTable } from './code-words.js';
import { FAMILY_ISSUES } from './family-issues.js';
import { FINDING_REMEDIES } from './finding-remedies.js';
import { OTHER_ISSUES } from './other-issues.js';
import { REASONS } from './reasons.js';
import { REFUSALS } from './refusals.js';
import { STEP_ISSUES } from './step-issues.js';
import { TEXT_ISSUES } from './text-issues.js';
import { WARNINGS } from './warnings.js';
import { WELDMENT_ISSUES } from './weldment-issues.js';

/** What a code stands on: an `issue` of a file, a `refusal` of a candidate, a `reason` of impossibility, a `finding` of check. */
export type CodeKind = 'issue' | 'warning' | 'refusal' | 'reason' | 'finding';

/** Codes of one kind and area, in the order in which they are shown. */
export interface CodeArea {
  readonly title: string;
  readonly kind: CodeKind;
  readonly codes: CodeTable;
}

/** A finding is called by the id of its rule, and its words are those of the rule; of two rules of one id the first. */
function findings(): CodeTable {
  const rules = [...ABSTRACT_RULES, ...RULES, ...SUB_ASSEMBLY_RULES, INPUTS_TRUE].map(
    ({ id, forbids, why }) => {
      const words = { title: forbids, meaning: sentence(why), remedy: FINDING_REMEDIES[id] ?? '' };
      return [id, words] as const;
    },
  );
  return Object.fromEntries(rules.toReversed());
}

const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;

/** Every code that Tackwright gives, once. */
export const CODE_AREAS: readonly CodeArea[] = [
  { title: 'Issues of any file', kind: 'issue', codes: TEXT_ISSUES },
  { title: 'Issues of a weldment', kind: 'issue', codes: WELDMENT_ISSUES },
  { title: 'Issues of a family', kind: 'issue', codes: FAMILY_ISSUES },
  { title: 'Warnings of likely mistakes', kind: 'warning', codes: WARNINGS },
  { title: 'Issues of a cell', kind: 'issue', codes: CELL_ISSUES },
  { title: 'Issues of plans, measurements and studies', kind: 'issue', codes: OTHER_ISSUES },
  { title: 'Issues of STEP files', kind: 'issue', codes: STEP_ISSUES },
  { title: 'Refusals: why a candidate will not do', kind: 'refusal', codes: REFUSALS },
  { title: 'Reasons: what together rules every plan out', kind: 'reason', codes: REASONS },
  { title: 'Findings: rules that a plan breaks', kind: 'finding', codes: findings() },
];

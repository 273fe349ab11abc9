import { ABSTRACT_RULES } from '../rules/check-abstract.js';
import { RULES } from '../rules/check.js';
import { SUB_ASSEMBLY_RULES } from '../rules/sub-assemblies/check-whole.js';
import { INPUTS_TRUE } from '../rules/inputs-true.js';
import type { RuleWords } from '../rules/rule.js';

/**
 * Every rule that `check` judges by, as Markdown, from the rules themselves: its id as findings name it, what it
 * forbids, and why. Those of a plan with shapes come first, in the order in which they are judged.
 */
export const ruleCatalogue = (): string =>
  [
    '# Rules of a legal plan',
    '`tackwright check` judges a plan by all of these rules, from the plan and its inputs alone, and tells each breach by the id of its',
    'rule. A rule judges its own subject and trusts the others for theirs.',
    '',
    '## Every plan',
    ...table([INPUTS_TRUE]),
    '## Plans of weldments with shapes',
    ...table(RULES),
    '## Plans with sub-assemblies',
    '',
    'The plan of each sub-assembly is judged as that of a weldment of its own, and the plan of the weldment with them as parts, each by',
    'the rules for weldments with shapes; and beside them:',
    ...table(SUB_ASSEMBLY_RULES),
    '## Plans of abstract weldments',
    ...table(ABSTRACT_RULES),
  ]
    .join('\n')
    .trimEnd()
    .concat('\n');

const table = (rules: readonly RuleWords[]): readonly string[] => [
  '',
  '| id | forbids | because |',
  '|---|---|---|',
  ...rules.map(({ id, forbids, why }) => `| \`${id}\` | ${cell(forbids)} | ${cell(why)} |`),
  '',
];

/** A text that stays within its cell of the table. */
const cell = (text: string): string => text.replaceAll('|', '\\|').replaceAll('\n', ' ');

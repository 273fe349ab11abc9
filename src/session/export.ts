import { canonicalText } from '../io/canonical.js';
import { readPlan } from '../io/read-plan.js';
import type { Issue } from '../model/issue.js';
import type { GeometricPlan } from '../model/plan.js';
import { checklistText } from '../report/checklist-text.js';
import { dryRun } from '../report/dry-run.js';
import { programsPnml } from '../report/pnml.js';
import type { Source } from './inputs.js';

/** What can be made of the robot programs of a plan, by the name of its option (`dryRun` for `--dry-run`). */
const FORMS = {
  pnml: programsPnml,
  dryRun: (plan) => canonicalText(dryRun(plan)),
  checklist: checklistText,
} as const satisfies Readonly<Record<string, (plan: GeometricPlan) => string>>;

export type ExportForm = keyof typeof FORMS;
export const EXPORT_FORMS = Object.keys(FORMS) as readonly ExportForm[];

export type ExportOutcome =
  | { readonly kind: 'exported'; readonly text: string; readonly warnings: readonly Issue[] }
  | { readonly kind: 'bad-input'; readonly issues: readonly Issue[] };

/** The programs of a plan in another form. The plan is taken as it is: whether it is legal is for `check` to say. */
export function exportPlan(source: Source, form: ExportForm): ExportOutcome {
  const { value: plan, issues } = readPlan(source.text, source.name);
  if (plan === undefined) return { kind: 'bad-input', issues };
  if (plan.kind === 'abstract') return { kind: 'bad-input', issues: [...issues, noPrograms(source.name)] };
  return { kind: 'exported', text: FORMS[form](plan), warnings: [...issues, ...apart(plan, source.name)] };
}

/** What is exported is of the stages of the plan itself. */
const apart = ({ subAssemblies = [] }: GeometricPlan, file: string): readonly Issue[] =>
  subAssemblies.length === 0
    ? []
    : [
        {
          ...{ code: 'sub-assemblies-apart', severity: 'warning', file, line: 0, path: 'subAssemblies' },
          problem: `the programs of ${subAssemblies.map(({ name }) => name).join(', ')} are not in it`,
          remedy: 'export each `plan` under `subAssemblies`, saved as a file of its own, too',
        },
      ];

const noPrograms = (file: string): Issue => ({
  code: 'plan-abstract',
  severity: 'error',
  file,
  line: 0,
  path: 'kind',
  problem: 'the plan of an abstract weldment has no robot programs',
  remedy: 'export the plan of a weldment with shapes',
});

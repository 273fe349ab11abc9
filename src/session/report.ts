import type { LinearPrograms } from '../algorithms/linear-program.js';
import type { Answer } from '../explain/why/answer.js';
import { readAnswers } from '../io/read-answers.js';
import { readPlan } from '../io/read-plan.js';
import { readTrade } from '../io/read-trade.js';
import type { Finding } from '../model/finding.js';
import type { Issue } from '../model/issue.js';
import type { Plan } from '../model/plan.js';
import { buildScene } from '../model/scene.js';
import type { PageContext, PageHead } from '../report/page/page-context.js';
import { pageHtml, type PageAssets } from '../report/page/page-html.js';
import type { PictureFile } from '../report/pictures.js';
import { planTables, type TableFile } from '../report/plan-tables.js';
import { reportPictures } from '../report/report-pictures.js';
import type { TradedPlans } from '../report/trade-text.js';
import { findingsOf, inputFindings } from './check.js';
import { readInputs, type Inputs, type Source, type Sources } from './inputs.js';
import { allAnswers, strangeAnswers } from './given-answers.js';
import { mainInputs } from './sub-assemblies/main-inputs.js';
import { quickAnswers } from './quick-why.js';

export interface ReportOptions {
  readonly programs: LinearPrograms;
  /** Where a page is wanted. */
  readonly assets: PageAssets | undefined;
  /** Whether single pictures and tables are wanted too. */
  readonly pictures?: boolean;
  readonly tables?: boolean;
  /** Whether every rule is asked again, which the page then says; without, only whether the plan is for these files. */
  readonly judge: boolean;
  /** Whether what needs no planning to be explained is explained beside it. */
  readonly why: boolean;
}

/** What a page is made from: a plan is for a weldment and a cell; answers to questions about it may be given. */
export interface ReportSources extends Omit<Sources, 'settings'> {
  /** As `tackwright why --json` prints them. */
  readonly answers?: Source | undefined;
  /** As `tackwright plan --trade --json` prints it. */
  readonly trade?: Source | undefined;
}

export type ReportOutcome =
  | {
      readonly kind: 'reported';
      /** Those that were wanted. */
      readonly page: string | undefined;
      readonly pictures: readonly PictureFile[];
      readonly tables: readonly TableFile[];
      readonly findings: readonly Finding[];
      readonly warnings: readonly Issue[];
    }
  | { readonly kind: 'bad-input'; readonly issues: readonly Issue[] }
  /** The plan is for other files: what would be shown is not what was planned. */
  | { readonly kind: 'ill-founded'; readonly findings: readonly Finding[] };

/** The page of a plan, its pictures and tables. A plan that breaks a rule is shown too, and says so first. */
export function reportPlan(source: Source, sources: ReportSources, options: ReportOptions): ReportOutcome {
  const read = readAll(source, sources);
  if (read.kind === 'bad-input') return read;
  const { plan, inputs, answers, trade } = read;
  const { programs } = options;
  const mismatch = inputFindings(plan, inputs);
  if (mismatch.length > 0) return { kind: 'ill-founded', findings: mismatch };
  const findings = options.judge ? findingsOf(plan, inputs, programs) : undefined;
  // What is forced is said of plans that are legal, or that nobody asked about.
  const main = mainInputs(plan, inputs);
  const quick = options.why && (findings ?? []).length === 0 ? quickAnswers(plan, main, programs) : [];
  const context = contextOf(plan, main, { findings, why: allAnswers(answers, quick), trade });
  if (context === undefined) return { kind: 'ill-founded', findings: findingsOf(plan, inputs, programs) };
  return {
    kind: 'reported',
    page: options.assets && pageHtml(context, options.assets),
    pictures: options.pictures === true ? reportPictures(context) : [],
    tables: options.tables === true ? planTables(plan) : [],
    findings: findings ?? [],
    warnings: read.warnings,
  };
}

/** A trade whose plans are for other files than the plan that is shown says nothing about it. */
function otherFiles({ plans }: TradedPlans, shown: Plan, file: string): Issue[] {
  const of = (plan: Plan): string =>
    [plan.weldment.digest, ...(plan.kind === 'geometric' ? [plan.cell.digest] : [])].join();
  const other = plans.findIndex((plan) => of(plan) !== of(shown));
  if (other < 0) return [];
  const base = { code: 'other-files', severity: 'error', file, line: 0 } as const;
  return [
    {
      ...{ ...base, path: `trade.plans[${other}]` },
      problem: 'this plan was made for another weldment or cell than the plan that is shown',
      remedy: 'trade with the same files, and give what that printed',
    },
  ];
}

interface ReadReport {
  readonly kind: 'read';
  readonly plan: Plan;
  readonly inputs: Inputs;
  readonly answers: readonly Answer[];
  readonly trade: TradedPlans | undefined;
  readonly warnings: readonly Issue[];
}

/** Everything that a report is made from, or every issue of all of it. */
function readAll(
  source: Source,
  { answers, trade, ...sources }: ReportSources,
): ReadReport | Extract<ReportOutcome, { kind: 'bad-input' }> {
  const { value: plan, issues } = readPlan(source.text, source.name);
  const read = readInputs(sources);
  const asked = answers && readAnswers(answers.text, answers.name);
  const traded = trade && readTrade(trade.text, trade.name);
  const apart = [
    ...(plan && asked?.value ? strangeAnswers(plan, asked.value, answers!.name) : []),
    ...(plan && traded?.value ? otherFiles(traded.value, plan, trade!.name) : []),
  ];
  const all = [...issues, ...read.issues, ...(asked?.issues ?? []), ...(traded?.issues ?? []), ...apart];
  const unread = [asked, traded].some((one) => one !== undefined && one.value === undefined);
  if (plan === undefined || read.inputs === undefined || unread || apart.length > 0)
    return { kind: 'bad-input', issues: all };
  const given = { answers: asked?.value ?? [], trade: traded?.value };
  return { kind: 'read', plan, inputs: read.inputs, ...given, warnings: all };
}

/** Undefined where plan and weldment are of different kinds. */
function contextOf(plan: Plan, { weldment, cell }: Inputs, head: PageHead): PageContext | undefined {
  if (plan.kind === 'abstract' && weldment.kind === 'abstract') return { ...head, plan, weldment };
  if (plan.kind === 'geometric' && weldment.kind === 'geometric' && cell)
    return { ...head, plan, cell, scene: buildScene(weldment, cell, plan.settings) };
  return undefined;
}

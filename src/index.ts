/**
 * Tackwright as a library. Texts in, values out: nothing here reads a file, a clock or a random source. Load the
 * linear-program engine once with `loadLinearPrograms` and hand it in.
 */
export { loadLinearPrograms, type LinearPrograms } from './algorithms/linear-program.js';
export { planSession as plan, type PlanOutcome, type PlanSessionOptions } from './session/plan.js';
export { planOrRemedies, type RemedyOptions } from './session/remedies/plan-or-remedies.js';
export { checkPlan as check, type CheckOutcome } from './session/check.js';
export { comparePlans as compare, type CompareOutcome } from './session/compare.js';
export { whySession as why, type WhyOptions, type WhyOutcome } from './session/why.js';
export { inspect, type Inspection } from './session/inspect.js';
export { calibrate, type CalibrationOutcome, type CalibrationSources } from './session/calibrate.js';
export { exportPlan, type ExportForm, type ExportOutcome } from './session/export.js';
export {
  familySession as family,
  type FamilyHereOptions as FamilyOptions,
  type FamilySources,
} from './family/session.js';
export { familyText } from './report/family-text.js';
export { filesBesideFamily, readFamily } from './io/family/read-family.js';
export { readCsvTable } from './io/tables/csv-table.js';
export { readXlsxTable } from './io/tables/xlsx-table.js';
export type { Source, Sources } from './session/inputs.js';
export { readWeldment } from './io/read-weldment.js';
export { filesBesideCell, readCell } from './io/read-cell.js';
export { readSettings } from './io/read-settings.js';
export { readPlan } from './io/read-plan.js';
export { canonicalText } from './io/canonical.js';
export { jsonSchemas } from './io/schemas.js';
export { ruleCatalogue } from './report/rule-catalogue.js';
export { codeEntries, codeEntry, type CodeEntry } from './report/codes/code-entries.js';
export { calibratedSettings, calibrationText } from './report/calibration-text.js';
export { compareText } from './report/compare-text.js';
export { answersText } from './report/why-text.js';
export { planText } from './report/plan-text.js';
export { dryRun, type DryRunOptions } from './report/dry-run.js';
export { checklistText } from './report/checklist-text.js';
export { issueLine, type Issue } from './model/issue.js';
export type { DryRun, DryStep } from './model/dry-run.js';
export type { Calibration } from './model/calibration.js';
export type { Edit, RemedySearch, TriedRemedy } from './model/tried-remedy.js';
export { remediesText } from './report/remedies-text.js';
export type { Finding } from './model/finding.js';
export type { Refusal } from './model/verdict.js';
export type { AnyWeldment, AbstractWeldment, Weldment } from './model/weldment.js';
export type { Cell } from './model/cell.js';
export type { BuildPattern } from './model/build-pattern.js';
export type { FamilyResult } from './model/family-result.js';
export type { Settings } from './model/settings.js';
export type {
  AbstractPlan,
  GeometricPlan,
  Handshake,
  HandshakeSet,
  Plan,
  PlanFrames,
  PlanPose,
  Stage,
  Step,
} from './model/plan.js';
export type { Heuristic, HeuristicMove, HeuristicProblem, HeuristicTools } from './study/heuristic.js';

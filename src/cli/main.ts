#!/usr/bin/env node
import { Command, CommanderError, InvalidArgumentError } from 'commander';
import type { CalibrateFlags } from './calibrate-command.js';
import type { CheckFlags } from './check-command.js';
import type { CodesFlags } from './codes-command.js';
import type { CompareFlags } from './compare-command.js';
import { EXIT } from './exit-codes.js';
import type { ExportFlags } from './export-command.js';
import type { FamilyFlags } from './family-command.js';
import type { GenerateFlags } from './generate-command.js';
import type { ImportFlags } from './import-flags.js';
import type { InspectFlags } from './inspect-command.js';
import type { NewFlags } from './new-command.js';
import type { PlanFlags } from './plan-command.js';
import type { PlanReportFlags } from './report-command.js';
import type { ReportFlags } from './results-report.js';
import type { StudyFlags } from './study-command.js';
import type { WhyFlags } from './why-command.js';

// Each command is loaded when it is called: help and usage errors need none of them.

const wholeFrom =
  (least: number) =>
  (text: string): number => {
    const value = Number(text);
    if (!/^\d+$/.test(text) || !Number.isSafeInteger(value) || value < least)
      throw new InvalidArgumentError(`write a whole number, ${least} or more.`);
    return value;
  };
const wholeNumber = wholeFrom(0);
const atLeastOne = wholeFrom(1);

function positiveNumber(text: string): number {
  const value = Number(text);
  if (text.trim() === '' || !Number.isFinite(value) || value <= 0)
    throw new InvalidArgumentError('write a number above 0.');
  return value;
}

function measureName(text: string): string {
  if (!['proof', 'steps', 'first'].includes(text))
    throw new InvalidArgumentError('write proof, steps or first.');
  return text;
}

function finiteNumber(text: string): number {
  const value = Number(text);
  if (text.trim() === '' || !Number.isFinite(value)) throw new InvalidArgumentError('write a number.');
  return value;
}

const EXIT_HELP = `
Exit codes: 0 done; 2 usage; 10 bad input; 20 proved impossible; 21 none found in the budget;
            22 every run of a study failed; 30 a plan breaks a rule; 70 a defect of Tackwright; 130 interrupted (best plan so far saved, if any).`;

const EXAMPLES = `
Examples:
  tackwright inspect examples/roller-stand/roller-stand.weldment.yaml
      what the parts imply: contacts, joints, seams, what blocks what
  tackwright plan examples/roller-stand/roller-stand.weldment.yaml --cell examples/cells/twin-bench.cell.yaml --out stand.plan.json
      order, holds, regrips, tacks, timeline and handshakes, with the proof
  tackwright check stand.plan.json --weldment examples/roller-stand/roller-stand.weldment.yaml --cell examples/cells/twin-bench.cell.yaml
      judges any plan from scratch, also one edited by hand`;

const program = new Command('tackwright')
  .description('Plans the fixtureless tack-up of a steel weldment by handling and welding robots.')
  .addHelpText('after', `${EXAMPLES}\n${EXIT_HELP}`)
  .showHelpAfterError('(tackwright --help shows examples)')
  // Options after `study merge` are those of merge, not those of study.
  .enablePositionalOptions()
  .exitOverride();

program
  .command('new')
  .description(
    'write a commented weldment and cell to begin from, which can be planned at once; nothing is overwritten',
  )
  .argument('<name>', 'of the weldment; file names are made of it')
  .option('--out <folder>', 'into this folder', '.')
  .option('--abstract', 'a weldment without shapes, which needs no cell')
  .action(async (name: string, flags: NewFlags) => {
    const { newCommand } = await import('./new-command.js');
    process.exitCode = newCommand(name, flags);
  });

program
  .command('plan')
  .description('plan a weldment: order, holds, regrips, tacks, timeline, handshakes')
  .argument('<weldment>', 'weldment file, YAML or JSON')
  .option('--cell <file>', 'cell file; needed unless the weldment is abstract')
  .option('--settings <file>', 'settings file: objective, reserves, loads, tack rules, budget')
  .option('--out <file>', 'write the plan document (JSON) here')
  .option(
    '--from <plan>',
    'start from an earlier plan: taken up as far as it is still legal, and never worse',
  )
  .option('--seed <n>', 'seed of everything random', wholeNumber)
  .option('--steps <n>', 'search steps at most; the same steps give the same plan', atLeastOne)
  .option('--seconds <s>', 'wall-clock limit; not repeatable', positiveNumber)
  .option(
    '--trade <terms>',
    'list the plans between two terms too, as regrips,distortion: those that no other completed one beats in both',
  )
  .option('--no-remedies', 'where there is no plan, do not try what would help')
  .option('--weld', 'add an order for the full welds after tacking, a screening estimate')
  .option('--json', 'print the outcome as JSON instead of text')
  .action(async (weldment: string, flags: PlanFlags) => {
    const { planCommand } = await import('./plan-command.js');
    process.exitCode = await planCommand(weldment, flags);
  });

program
  .command('check')
  .description('judge a plan from scratch: one line for each breach of a rule')
  .argument('<plan>', 'plan document')
  .requiredOption('--weldment <file>', 'the weldment the plan is for')
  .option('--cell <file>', 'the cell the plan is for')
  .option('--json', 'print the findings as JSON instead of text')
  .action(async (plan: string, flags: CheckFlags) => {
    const { checkCommand } = await import('./check-command.js');
    process.exitCode = await checkCommand(plan, flags);
  });

program
  .command('compare')
  .description(
    'tell how one plan differs from another: objective, order, grips, holds, tacks, timeline, settings',
  )
  .argument('<a>', 'plan document A')
  .argument('<b>', 'plan document B')
  .option('--json', 'print the differences as JSON instead of text')
  .action(async (a: string, b: string, flags: CompareFlags) => {
    const { compareCommand } = await import('./compare-command.js');
    process.exitCode = compareCommand(a, b, flags);
  });

program
  .command('why')
  .description('tell why a plan is as it is: forced by which facts, or a choice that saves how much')
  .argument('<plan>', 'plan document')
  .requiredOption('--weldment <file>', 'the weldment the plan is for')
  .option('--cell <file>', 'the cell the plan is for')
  .option('--before <parts...>', 'two parts: why the first joins before the second')
  .option('--grip <part...>', 'why the part has its last grip')
  .option('--regrip <part...>', 'why the part is regripped')
  .option('--tack <id...>', 'why the tack is where it is')
  .option('--hold <stage...>', 'why the part of the stage, given by its number or its part, is held')
  .option('--not-first <part...>', 'why the part is not the first')
  .option('--steps <n>', 'search steps at most, instead of those of the plan', atLeastOne)
  .option('--seconds <s>', 'wall-clock limit of each question; not repeatable', positiveNumber)
  .option('--json', 'print the answers as JSON instead of text')
  .action(async (plan: string, flags: WhyFlags) => {
    const { whyCommand } = await import('./why-command.js');
    process.exitCode = await whyCommand(plan, flags);
  });

program
  .command('inspect')
  .description('show what the files imply: parts, contacts, joints, seams, blocking, grips, tack sites')
  .argument('<weldment>', 'weldment file, YAML or JSON')
  .option('--cell <file>', 'cell file: adds rests, grips and tack sites')
  .option(
    '--svg <folder>',
    'draw the contact graph, the whole and each part with its neighbours into this folder',
  )
  .option(
    '--reach',
    'add what each robot gets to at each station, by what margin, and which shift or turn would cure a miss',
  )
  .option('--json', 'print as JSON instead of text')
  .action(async (weldment: string, flags: InspectFlags) => {
    const { inspectCommand } = await import('./inspect-command.js');
    process.exitCode = await inspectCommand(weldment, flags);
  });

program
  .command('export')
  .description('write the robot programs of a plan in another form; the plan is not judged, see check')
  .argument('<plan>', 'plan document')
  .option('--pnml', 'as a place/transition net (ISO/IEC 15909-2), durations as data of the tool')
  .option('--dry-run', 'as a document (JSON) of programs for a first try: slowly, without arc')
  .option('--checklist', 'as a list to go through step by step, with what to watch')
  .option('--out <file>', 'write here instead of printing')
  .action(async (plan: string, flags: ExportFlags) => {
    const { exportCommand } = await import('./export-command.js');
    process.exitCode = exportCommand(plan, flags);
  });

program
  .command('report')
  .description(
    'show a plan as one HTML file: the stages in 3D, the clock, sheets to print, and what is proved',
  )
  .argument('<plan>', 'plan document')
  .requiredOption('--weldment <file>', 'the weldment the plan is for')
  .option('--cell <file>', 'the cell the plan is for')
  .option('--out <file>', 'write the page here')
  .option(
    '--svg <folder>',
    'write single pictures here: stages, contact graph, timeline, reserves, distortion',
  )
  .option(
    '--csv <folder>',
    'write tables for spreadsheets here; an apostrophe stands before texts that would begin a formula',
  )
  .option('--trade <file>', 'what `plan --trade --json` printed: the trade is shown too')
  .option('--no-check', 'do not judge the plan by every rule again; the page says so')
  .option('--why <file>', 'show these answers beside the stages, as `why --json` prints them')
  .option('--no-forced', 'do not look for what of the plan is forced by the files or by one fact')
  .action(async (plan: string, flags: PlanReportFlags) => {
    const { reportCommand } = await import('./report-command.js');
    process.exitCode = await reportCommand(plan, flags);
  });

program
  .command('calibrate')
  .description('fit the shrinkage factors of the settings to measured deviations, with confidence intervals')
  .argument('<measurements>', 'CSV: step,part,direction,millimetres and, if wanted, at_x,at_y,at_z')
  .requiredOption('--plan <file>', 'the plan by which it was tacked')
  .requiredOption('--weldment <file>', 'the weldment the plan is for')
  .requiredOption('--cell <file>', 'the cell the plan is for')
  .option('--out <file>', 'write the fitted settings (YAML) here')
  .option('--json', 'print the outcome as JSON instead of text')
  .action(async (measurements: string, flags: CalibrateFlags) => {
    const { calibrateCommand } = await import('./calibrate-command.js');
    process.exitCode = calibrateCommand(measurements, flags);
  });

const study = program
  .command('study')
  .enablePositionalOptions()
  .description(
    'run instances x solvers x seeds, row by row into a CSV that a later call takes up, and sum it up',
  )
  .argument(
    '<instances...>',
    'abstract weldments, .sop files, frames, weldments with --cell; or folders of them',
  )
  .option('--solvers <names>', 'solvers of ours, as beam,best-first; a wrong name lists them')
  .option(
    '--heuristic <module...>',
    'modules (.mjs) of your own, after the instances; run as code with your rights, see docs/heuristics.md',
  )
  .option('--seeds <list>', 'as 1-10 or 1,2,7-9; solvers without random choices run once', '1')
  .option('--seconds <s>', 'wall-clock limit of each run; 10 unless --steps is given', positiveNumber)
  .option('--steps <n>', 'states that each run may look at; repeatable', atLeastOne)
  .option('--memory <MB>', 'for the states that a run keeps', positiveNumber, 1024)
  .option(
    '--threads <n>',
    'runs at a time; times are comparable only where each has a core of its own',
    atLeastOne,
    1,
  )
  .option('--grace <s>', 'seconds after its limit before a heuristic is ended', positiveNumber, 5)
  .option(
    '--shard <i/n>',
    'only the i-th of n parts of the rows, for a job on many machines; then study merge',
  )
  .option('--cell <file>', 'cell of the weldments with shapes')
  .option('--settings <file>', 'settings of all weldments; the budget and seed in it are not used')
  .option('--best-known <table>', 'CSV with instance and best_known (or best_1, best_2, ...), for gaps')
  .option('--profile <file>', 'draw the performance profile (SVG) here')
  .option('--measure <what>', 'of the profile: proof (seconds), steps or first (seconds)', measureName)
  .option('--out <file>', 'results (CSV), needed; rows that are there are kept and not made again')
  .action(async (instances: string[], flags: StudyFlags) => {
    const { studyCommand } = await import('./study-command.js');
    process.exitCode = await studyCommand(instances, flags);
  });

study
  .command('merge')
  .description('put results of several calls or shards together; duplicates are dropped, contradictions told')
  .argument('<results...>', 'results of study')
  .requiredOption('--out <file>', 'all rows (CSV)')
  .action(async (results: string[], flags: { out: string }) => {
    const { studyMergeCommand } = await import('./study-merge-command.js');
    process.exitCode = studyMergeCommand(results, flags);
  });

study
  .command('summary')
  .description('what results come to: a table and the performance profile')
  .argument('<results>', 'results of study')
  .option('--best-known <table>', 'CSV with instance and best_known (or best_1, best_2, ...), for gaps')
  .option('--profile <file>', 'draw the performance profile (SVG) here')
  .option('--measure <what>', 'of the profile: proof (seconds), steps or first (seconds)', measureName)
  .action(async (results: string, flags: ReportFlags) => {
    const { studySummaryCommand } = await import('./study-summary-command.js');
    process.exitCode = studySummaryCommand(results, flags);
  });

program
  .command('generate')
  .description('make an instance of a family of weldments from a seed, for benchmarks: docs/instances.md')
  .argument('<family>', 'ribbed-base, nested-box, hollow-section-frame or stiffened-panel')
  .requiredOption('--parts <n>', 'how many parts, 6 to 200', wholeNumber)
  .requiredOption('--out <file>', 'write the weldment here: JSON where the name ends with .json, else YAML')
  .option('--force', 'also over files that are there')
  .option(
    '--form <form>',
    'abstract: contacts, joints, blocking and ways; geometric: shapes in place',
    'abstract',
  )
  .option('--seed <n>', 'of sizes, places and all that is drawn', wholeNumber)
  .option('--blocking <share>', 'of the blocking that makes sense; with shapes: of tight fits', finiteNumber)
  .option('--grippers <n>', 'different grippers, 1 to 12', wholeNumber)
  .option('--single <share>', 'of the parts that only one gripper can take', finiteNumber)
  .option('--regrips <share>', 'of the parts for which some gripper needs a regrip', finiteNumber)
  .option('--cell <file>', 'write a cell for a weldment with shapes here too')
  .action(async (family: string, flags: GenerateFlags) => {
    const { generateCommand } = await import('./generate-command.js');
    process.exitCode = generateCommand(family, flags);
  });

program
  .command('family')
  .description('plan every variant of a family, with as few ways of building as cover them all')
  .argument('<family>', 'family file, YAML or JSON')
  .option('--cell <file>', 'cell file')
  .option('--settings <file>', 'settings file: objective, reserves, loads, tack rules, budget')
  .option(
    '--out <folder>',
    'write plans, tables and the page into this folder; a later call takes up what is there',
  )
  .option('--threads <n>', 'variants at a time', atLeastOne)
  .option('--samples <n>', 'places between the ends of the ranges at which patterns are tried', wholeNumber)
  .option('--seed <n>', 'of the places that are drawn', wholeNumber)
  .option('--steps <n>', 'search steps at most, of each plan', atLeastOne)
  .option('--quick', 'a plan is enough where nothing but its time could be better')
  .option('--json', 'print the result as JSON instead of text')
  .action(async (family: string, flags: FamilyFlags) => {
    const { familyCommand } = await import('./family-command.js');
    process.exitCode = await familyCommand(family, flags);
  });

program
  .command('import')
  .description('make a weldment file, to be looked through, of tables of parts and joints or of a STEP file')
  .argument('<file>', 'parts as .csv or .xlsx, or solids as .step or .stp')
  .option('--joints <file>', 'joints as .csv or .xlsx; proposed from the contacts when left out')
  .option('--name <name>', 'of the weldment; that of the file when left out')
  .option('--out <file>', 'write the weldment file here instead of printing it')
  .option('--force', 'also over a file that is there')
  .action(async (file: string, flags: ImportFlags) => {
    const { importCommand } = await import('./import-command.js');
    process.exitCode = await importCommand(file, flags);
  });

program
  .command('rules')
  .description('list every rule that check judges by: id, what it forbids, why')
  .option('--out <file>', 'write here instead of printing')
  .action(async ({ out }: { out?: string }) => {
    const { rulesCommand } = await import('./rules-command.js');
    process.exitCode = rulesCommand(out);
  });

program
  .command('codes')
  .description(
    'what the code of an issue, refusal, reason or finding means and what to do; without one, every code',
  )
  .argument('[code]', 'as parts-overlap or joint-5-limit')
  .option('--out <file>', 'write here instead of printing')
  .option('--json', 'print as JSON instead of text')
  .action(async (code: string | undefined, flags: CodesFlags) => {
    const { codesCommand } = await import('./codes-command.js');
    process.exitCode = codesCommand(code, flags);
  });

program
  .command('schemas')
  .description('write the JSON Schemas of all files')
  .requiredOption('--out <folder>', 'where to')
  .action(async ({ out }: { out: string }) => {
    const { schemasCommand } = await import('./schemas-command.js');
    process.exitCode = schemasCommand(out);
  });

// A reader that closes early (`| head`) is no error; where it read the messages only, the work goes on.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(EXIT.done);
  throw error;
});
process.stderr.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

try {
  await program.parseAsync();
} catch (error) {
  if (error instanceof CommanderError) process.exitCode = error.exitCode === 0 ? EXIT.done : EXIT.usage;
  else {
    process.stderr.write(
      `A defect of Tackwright, please report it: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`,
    );
    process.exitCode = EXIT.defect;
  }
}

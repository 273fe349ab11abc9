import type { GeometricPlan, Step } from '../model/plan.js';
import { dryRun } from './dry-run.js';
import { amount } from './numbers.js';
import { plain } from './plain.js';
import { stepWords } from './step-words.js';
import { paragraph, textTable, type Column } from './text-table.js';

interface Listed {
  readonly robot: string;
  readonly step: Step;
}

const COLUMNS: readonly Column[] = [
  { title: '   ', most: 3 },
  { title: 'robot', most: 14 },
  { title: 'step', most: 4, side: 'right' },
  { title: 'what', most: 48 },
  { title: 'watch', most: 30 },
];

const BEFORE: readonly string[] = [
  'Single step, reduced speed, one person at the enabling switch, nobody else inside the guards.',
  'First without parts, then with parts and without arc, then with the arc; each time from the first step.',
  'Wire drawn in and welding power off while there shall be no arc.',
  'Every protective stop tried before the first move.',
];

/** Steps after the last stage have no number. */
const stageOf = ({ stage }: Step): number => (stage === 0 ? Infinity : stage);

const sooner = (a: Step, b: Step): boolean =>
  stageOf(a) === stageOf(b) ? a.end < b.end : stageOf(a) < stageOf(b);

/**
 * The steps of all programs in one order in which they can be done one at a time: stage by stage where signals allow,
 * then by the ends that the plan states, and no wait before its signal. Steps that could never be done come last.
 */
function inTime({ programs }: GeometricPlan): readonly Listed[] {
  const next = programs.map(() => 0);
  const given = new Set<string>();
  const listed: Listed[] = [];
  const take = (p: number): void => {
    const { robot, steps } = programs[p]!;
    const step = steps[next[p]!]!;
    if (step.do === 'signal') given.add(step.handshake);
    next[p]! += 1;
    listed.push({ robot, step });
  };
  const count = programs.reduce((sum, { steps }) => sum + steps.length, 0);
  while (listed.length < count) {
    const left = programs.flatMap(({ steps }, p) => {
      const step = steps[next[p]!];
      return step ? [{ p, step }] : [];
    });
    const free = left.filter(({ step }) => step.do !== 'await' || given.has(step.handshake));
    const among = free.length > 0 ? free : left;
    take(among.reduce((first, one) => (sooner(one.step, first.step) ? one : first)).p);
  }
  return listed;
}

/** Lines of one stage after another, where the order of time goes from one to the next and comes back. */
function runs(listed: readonly Listed[]): readonly (readonly Listed[])[] {
  const found: Listed[][] = [];
  for (const one of listed) {
    const last = found.at(-1);
    if (last && last[0]!.step.stage === one.step.stage) last.push(one);
    else found.push([one]);
  }
  return found;
}

/** A line for each tack that a person lays in a stage. */
const handTacks = ({ stages }: GeometricPlan, stage: number): readonly string[][] =>
  (stages.find(({ number }) => number === stage)?.manual?.tacks ?? []).map(({ seam, start, length, leg }) => [
    ...['[ ]', '', ''],
    `tack ${plain(seam)}, from ${amount(start, 1)} to ${amount(start + length, 1)} mm, leg ${amount(leg, 1)}`,
    'sound, and where it is stated',
  ]);

/**
 * A checklist for the first try of a plan in single steps: every step of every robot, stage by stage, with a box to
 * tick and what to watch; where to stop as long as nothing is tacked; and the cautions of the plan.
 */
export function checklistText(plan: GeometricPlan): string {
  const stops = new Map(dryRun(plan).stops.map(({ robot, step, why }) => [`${robot} ${step}`, why] as const));
  const partOf = new Map(plan.stages.map(({ number, part }) => [number, part] as const));
  const begun = new Set<number>();
  const sections = runs(inTime(plan)).flatMap((run) => {
    const { stage } = run[0]!.step;
    const part = partOf.get(stage);
    const again = begun.has(stage) ? ', continued' : '';
    begun.add(stage);
    const title = part === undefined ? 'At the end' : `Stage ${stage}, ${plain(part)}${again}`;
    const rows = run.flatMap(({ robot, step }) => {
      const { what, watch } = stepWords(step, plan.handshakes);
      const stop = stops.get(`${robot} ${step.n}`);
      const warned = stop === undefined ? watch : `STOP without tacks: ${plain(stop)}; ${watch}`;
      const row = ['[ ]', plain(robot), String(step.n), what, warned];
      return step.do === 'manual' ? [row, ...handTacks(plan, step.stage)] : [row];
    });
    return ['', `${title}:`, ...textTable(COLUMNS, rows, '  ')];
  });
  return `${[
    ...paragraph('', `First try of ${plain(plan.weldment.name)} on ${plain(plan.cell.name)}, step by step`),
    '',
    'Before the first step:',
    ...BEFORE.flatMap((text) => paragraph('  [ ] ', text)),
    '',
    'Cautions:',
    ...plan.cautions.flatMap((text) => paragraph('  - ', plain(text))),
    ...sections,
  ].join('\n')}\n`;
}

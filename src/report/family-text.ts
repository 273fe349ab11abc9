import type { BuildPattern, GripRole, PatternStage } from '../model/build-pattern.js';
import type { FamilyEnvelope, FamilyResult, MatrixField, VariantResult } from '../model/family-result.js';
import {
  coveringText,
  extraText,
  limitsText,
  someNames,
  unsearchedTexts,
  valuesText,
} from './family-claim-text.js';
import { amount, counted, duration, listed, tenthsOf } from './numbers.js';
import { plain } from './plain.js';
import { paragraph, textTable, type Column } from './text-table.js';
import { againstText } from './weakest-point.js';

/** A family result for the terminal: what builds what, at what cost, and what nothing builds and why. */
export function familyText(result: FamilyResult): string {
  const lines = [
    ...paragraph('', headText(result)),
    ...paragraph('', coveringText(result.covering)),
    ...unsearchedTexts(result.variants).flatMap((told) => paragraph('', told)),
    '',
    ...variantTable(result),
    ...unbuiltLines(result),
    ...chosenPatterns(result).flatMap((pattern) => patternLines(pattern, result)),
    ...(result.envelope === null ? [] : envelopeLines(result.envelope)),
    ...section('Warnings', result.warnings),
    ...section('Cautions', result.cautions),
  ];
  return `${lines.join('\n')}\n`;
}

function headText({ family, cell, variants, patterns }: FamilyResult): string {
  const ordered = variants.filter(({ source }) => source === 'variant').length;
  const made = variants.length - ordered;
  const places = made === 0 ? '' : `, ${counted(made, 'place')} at the ends and in the middle of the ranges`;
  return `${plain(family.name)} on ${plain(cell.name)}: ${counted(ordered, 'variant')}${places}, ${counted(patterns.length, 'pattern')}`;
}

const chosenPatterns = ({ patterns, covering }: FamilyResult): readonly BuildPattern[] =>
  patterns.filter(({ id }) => covering.chosen.some(({ pattern }) => pattern === id));

const HEADS: readonly Column[] = [
  { title: 'variant', most: 20 },
  { title: 'parts', most: 5, side: 'right' },
  { title: 'built by', most: 8 },
  { title: 'regrips', most: 7, side: 'right' },
  { title: 'time', most: 13, side: 'right' },
  { title: 'beyond its own best', most: 22 },
  { title: 'least reserve', most: 24 },
];

/** One row a variant: by which chosen pattern it is built, and what that comes to. */
function variantTable({ variants, covering, matrix }: FamilyResult): string[] {
  const builtBy = new Map(
    covering.chosen.flatMap((one) => one.variants.map((name) => [name, one.pattern] as const)),
  );
  const asked = variants.filter(({ name }) => builtBy.has(name) || covering.uncovered.includes(name));
  const rows = asked.map((variant) => {
    const pattern = builtBy.get(variant.name);
    const field = matrix.find((one) => one.variant === variant.name && one.pattern === pattern);
    return [plain(variant.name), amount(variant.parts), ...builtCells(field)];
  });
  return textTable(HEADS, rows);
}

function builtCells(field: MatrixField | undefined): string[] {
  const figures = field?.figures;
  if (field === undefined || !figures) return ['-', '-', '-', '-', '-'];
  const { regrips, seconds, leastReserve: least } = figures;
  const reserve =
    least === null ? 'not judged' : `${againstText(least.reserve, least.required)} ${plain(least.case)}`;
  return [field.pattern, amount(regrips), duration(tenthsOf(seconds)), extraText(field.extra), reserve];
}

const WHY_NOT: Readonly<Record<VariantResult['outcome'], string>> = {
  planned: 'no pattern builds it',
  impossible: 'no plan exists',
  'none-found': 'no plan was found in the budget',
  'bad-input': 'its weldment has errors',
};

/** Why what is built by nothing is not. */
function unbuiltLines({ variants, covering, matrix }: FamilyResult): string[] {
  const unbuilt = variants.filter(({ name }) => covering.uncovered.includes(name));
  return section(
    'Not built',
    unbuilt.map(({ name, outcome, reasons }) => {
      const own =
        reasons.length > 0 ? reasons : matrix.flatMap((one) => (one.variant === name ? one.reasons : []));
      return `${name}: ${WHY_NOT[outcome]}: ${limitsText(own)}`;
    }),
  );
}

const STAGE_HEADS: readonly Column[] = [
  { title: 'stage', most: 5, side: 'right' },
  { title: 'joins', most: 18 },
  { title: 'taken by', most: 34 },
  { title: 'held while tacking', most: 22 },
  { title: 'signals', most: 7, side: 'right' },
];

/** A chosen pattern stage by stage, and which variants it does not build. */
function patternLines(pattern: BuildPattern, { covering, matrix }: FamilyResult): string[] {
  const { variants } = covering.chosen.find((one) => one.pattern === pattern.id)!;
  const head = `${pattern.id}, from the plan of ${plain(pattern.from)}, builds ${someNames(variants)}:`;
  const rows = pattern.stages.map((stage, i) => [
    ...[String(i + 1), plain(stage.part), takenText(stage), heldText(stage)],
    amount(stage.handshakes.length),
  ]);
  const misses = matrix.filter(
    (field) => field.pattern === pattern.id && !field.fits && !covering.uncovered.includes(field.variant),
  );
  return [
    '',
    ...paragraph('', head),
    ...textTable(STAGE_HEADS, rows, '  '),
    ...misses.flatMap(({ variant, reasons }) =>
      paragraph('  - ', `does not build ${plain(variant)}: ${limitsText(reasons)}`),
    ),
  ];
}

const gripText = ({ gripper, face }: GripRole): string => `${plain(gripper)}, ${face}`;

function takenText({ grip, regrips, turn }: PatternStage): string {
  if (grip === null) return 'a person';
  const first = regrips[0];
  const before =
    first === undefined ? '' : `, after ${counted(regrips.length, 'regrip')} (first ${gripText(first.grip)})`;
  return `${gripText(grip)}${before}${turn === 0 ? '' : `, table at ${amount(turn, 1)} deg`}`;
}

function heldText({ held, robot, alsoHeld }: PatternStage): string {
  const own = held ? [robot === null ? 'held' : `by ${plain(robot)}`] : [];
  const other = alsoHeld === null ? [] : [`${plain(alsoHeld)} too`];
  return own.length + other.length === 0 ? 'nothing' : [...own, ...other].join(', ');
}

/** What there is where a pattern ends. */
const ALONE: Readonly<Record<FamilyEnvelope['boundaries'][number]['alone'], string>> = {
  planned: 'which has a plan of its own',
  impossible: 'which has no plan of its own either',
  'none-found': 'for which no plan of its own was found',
  'bad-input': 'which gives no weldment',
};

/** How the chosen patterns do in the ranges, and where and why they end. */
function envelopeLines({ samples, boundaries, resolution, others, seed }: FamilyEnvelope): string[] {
  const ids = [...new Set(samples.flatMap(({ patterns }) => patterns.map(({ pattern }) => pattern)))];
  const share = (id: string, sources: readonly string[], where: string): string[] => {
    const tried = samples.flatMap(({ source, patterns }) =>
      sources.includes(source) ? patterns.filter(({ pattern }) => pattern === id) : [],
    );
    const fitting = tried.filter(({ fits }) => fits).length;
    return tried.length === 0 ? [] : [`${amount(fitting)} of ${amount(tried.length)} ${where}`];
  };
  const shares = ids.map((id) => {
    const ends = share(id, ['corner', 'middle'], 'corners and the middle');
    const drawn = share(id, ['sample'], `places drawn between them (seed ${seed})`);
    return `${id} builds ${listed([...ends, ...drawn])}`;
  });
  const ranged = (values: FamilyEnvelope['others']): string =>
    valuesText(Object.fromEntries(Object.entries(values).filter(([name]) => !(name in others))));
  const ends = boundaries.map(
    ({ pattern, works, fails, alone, reasons }) =>
      `${pattern} builds ${ranged(works)} but not ${ranged(fails)} (${ALONE[alone]}): ${limitsText(reasons)}`,
  );
  const held = Object.keys(others).length === 0 ? '' : `, with ${valuesText(others)}`;
  return section(`In the ranges${held} (ends are found to ${valuesText(resolution)})`, [...shares, ...ends]);
}

/** A title and one wrapped entry a line with a mark before it; nothing when there is no entry. */
function section(title: string, entries: readonly string[]): string[] {
  if (entries.length === 0) return [];
  return ['', `${title}:`, ...entries.flatMap((entry) => paragraph('  - ', plain(entry)))];
}

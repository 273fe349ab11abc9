import { amount, counted, listed } from './numbers.js';
import { plain } from './plain.js';
import type { ChangeView, MissedTarget, ReachPlace, ReachRow, ReachView, Share } from './reach-view.js';
import { refusalNumber, refusalTitle } from './refusal-text.js';
import { paragraph, textTable } from './text-table.js';

const PLACES: Readonly<Record<ReachPlace, string>> = {
  infeed: 'infeed',
  regrip: 'regrip table',
  'two-sided': 'two-sided stand',
  table: 'work table',
  stand: 'gripper stands',
};

const WAYS: Readonly<Record<ReachRow['what'], string>> = { parts: 'grips', seams: 'sites', grippers: '' };

/** Targets named at most for one robot and place. */
const MOST_MISSED = 12;

const share = ({ reached, of }: Share, what: string): string =>
  `${amount(reached)} of ${amount(of)} ${what}`.trimEnd();

function worstText({ worst }: ReachRow): string {
  if (worst === null) return '-';
  return `${amount(worst.degrees, 1)} deg at joint ${worst.joint}, ${plain(worst.target)}`;
}

function tableLines(rows: readonly ReachRow[]): string[] {
  const cells = rows.map((row) => [
    plain(row.robot),
    PLACES[row.place],
    share(row.targets, row.what),
    row.what === 'grippers' ? '' : share(row.ways, WAYS[row.what]),
    worstText(row),
  ]);
  const heads = [
    { title: 'robot', most: 16 },
    { title: 'at', most: 16 },
    { title: 'gets to', most: 22 },
    { title: 'by', most: 24 },
    { title: 'least margin to a limit', most: 30 },
  ];
  return textTable(heads, cells, '  ');
}

function missedLine({ robot, place, what }: ReachRow, missed: MissedTarget): string[] {
  const { target, needed, ways, nearest } = missed;
  const number = nearest ? refusalNumber(nearest) : '';
  const miss =
    nearest === null
      ? what === 'seams'
        ? 'no site that the torch can get at'
        : 'no grip or rest to try'
      : `nearest miss: ${refusalTitle(nearest.code)}${number === '' ? '' : `, ${number}`}`;
  const some = what === 'grippers' || ways.reached === 0 ? '' : `${share(ways, WAYS[what])} only; `;
  const lead = `  ${needed ? '!' : '-'} ${plain(robot)} does not get to ${plain(target)} (${PLACES[place]}): `;
  return paragraph(lead, `${some}${miss}`);
}

function missedLines(row: ReachRow): string[] {
  const more = row.missed.length - MOST_MISSED;
  return [
    ...row.missed.slice(0, MOST_MISSED).flatMap((missed) => missedLine(row, missed)),
    ...(more > 0 ? [`    and ${amount(more)} more`] : []),
  ];
}

const MOVED: Readonly<Record<'table' | 'infeed', string>> = {
  table: 'the work table with the weldment on it',
  infeed: 'the infeed',
};

/** A change in words: `shift the work table with the weldment on it by +100 mm along x`. */
export function changeText({ moved, shift, turn }: ChangeView): string {
  const what = moved.what === 'robot' ? `the base of ${plain(moved.id)}` : MOVED[moved.what];
  const signed = (value: number): string => `${value > 0 ? '+' : ''}${amount(value, 1)}`;
  const shifts = shift.flatMap((mm, axis) => (mm === 0 ? [] : [`${signed(mm)} mm along ${'xyz'[axis]!}`]));
  const turned = `${signed(turn)} degrees about the vertical through its own origin`;
  if (shifts.length === 0) return `turn ${what} by ${turned}`;
  return `shift ${what} by ${listed(shifts)}${turn === 0 ? '' : ` and turn it by ${turned}`}`;
}

const writeLines = ({ write }: ChangeView): string[] =>
  write.map(
    ({ path, value }) =>
      `      ${plain(path)}: ${typeof value === 'number' ? String(value) : `[${value.join(', ')}]`}`,
  );

const LEAVES =
  'This speaks of reach only: collisions, grips and tacks are not judged here, and a plan in the changed cell shows whether all else fits.';

function adviceLines({ needed, advice }: ReachView): string[] {
  const { outcome, change, left, tried, of } = advice;
  if (outcome === 'none-needed') return ['  All that every plan needs is reached: no change is looked for.'];
  const missing = needed.of - needed.reached;
  const searched = `${amount(tried)} of ${counted(of, 'place')} of the grid tried, smallest change first`;
  if (change === null)
    return paragraph('  ', `No change that was tried brings more into reach (${searched}).`);
  const gain =
    outcome === 'cured'
      ? 'Smallest change found that brings all that every plan needs into reach and loses nothing'
      : `No change that was tried cures it; this one leaves the fewest out of reach, ${amount(left.length)} instead of ${amount(missing)}`;
  const names = left.map(({ place, target }) => `${plain(target)} (${PLACES[place]})`);
  return [
    ...paragraph('  ', `${gain} (${searched}):`),
    ...paragraph('    ', changeText(change)),
    '    in the cell file:',
    ...writeLines(change),
    ...(names.length > 0 ? paragraph('    then still out of reach: ', listed(names)) : []),
    '    what robots get to then:',
    ...tableLines(advice.rows).map((line) => `  ${line}`),
    ...paragraph('  ', LEAVES),
  ];
}

/** The lines on what each robot gets to, what it misses by how much, and which change of the cell would cure it. */
export function reachText(cell: string, view: ReachView): string[] {
  const { needed, rows } = view;
  return [
    '',
    `Reach in ${plain(cell)} (limits and straight strokes of each arm; parts and other arms are not in the way):`,
    ...tableLines(rows),
    ...rows.flatMap(missedLines),
    ...paragraph(
      '  ',
      `Of ${amount(needed.of)} parts at the infeed, final places and seams, which every plan needs, some robot gets to ${amount(needed.reached)}${needed.reached < needed.of ? '; "!" marks the others' : ''}.`,
    ),
    '',
    'Advice on the cell:',
    ...adviceLines(view),
  ];
}

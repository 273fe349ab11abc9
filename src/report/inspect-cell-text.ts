import type { Lifting } from '../facts/lifting.js';
import type { Rest } from '../facts/rests.js';
import type { SeamAccess } from '../facts/seam-access.js';
import { sideText } from './direction-text.js';
import type { CellView, PartInCell, SeamInCell, Tally } from './inspection.js';
import { amount, listed } from './numbers.js';
import { plain } from './plain.js';
import { accessText, refusalNumber, refusalTitle } from './refusal-text.js';
import { paragraph, textTable } from './text-table.js';

const ratio = ({ usable, considered }: Tally): string => `${amount(usable)} of ${amount(considered)}`;

/** The reasons against the refused candidates with the nearest miss of each, one a line. */
const refusedLines = (title: string, { refused }: Tally): string[] =>
  refused.flatMap(({ code, count, nearest }) => {
    const who = nearest.subjects.slice(1).map(plain).join(', ');
    const number = refusalNumber(nearest);
    const miss = number === '' ? '' : `; nearest (${who}): ${number}`;
    return paragraph(`      ${title}: `, `${amount(count)}: ${refusalTitle(code)}${miss}`);
  });

function restsText(rests: readonly Rest[], infeed: string | null): string {
  const stable = rests.filter(({ refusal }) => refusal === undefined).map(({ face }) => face);
  const lies = infeed === null ? 'lies nowhere at the infeed' : `lies on ${infeed} at the infeed`;
  return stable.length === 0 ? `no stable rest, ${lies}` : `rests on ${listed(stable)}, ${lies}`;
}

/** What the best grip pulls, less on thin sheet, beside what is asked of crane attachments. */
function liftingText({ gripper, face, pull, thicknessShare, thickness, factor, asked }: Lifting): string {
  const thin =
    thickness === undefined || thicknessShare >= 1
      ? ''
      : ` (${amount(thickness.part)} mm of steel under magnets rated for ${amount(thickness.rated)} mm leave ${amount(100 * thicknessShare)} %)`;
  return (
    `${plain(gripper)} on ${plain(face)} pulls ${amount(pull, 1)} N${thin}, ${amount(factor, 1)} times the weight; ` +
    `${amount(asked.factor, 1)} is asked of ${asked.of}`
  );
}

const liftingLines = (lifting: Lifting | null): string[] =>
  lifting === null
    ? []
    : paragraph('      lifting benchmark (crane attachments, not robots): ', liftingText(lifting));

const partLines = (part: PartInCell): string[] =>
  part.byHand ? [`  ${plain(part.id)}: set by a person; no robot takes it`] : handledLines(part);

const handledLines = ({ id, rests, infeed, grips, lifting, takes, places }: PartInCell): string[] => [
  ...paragraph(`  ${plain(id)}: `, restsText(rests, infeed)),
  `      grips: ${ratio(grips)} fit; at the infeed ${ratio(takes)}; in place, by approach, ${ratio(places)}`,
  ...refusedLines('fit', grips),
  ...liftingLines(lifting),
  ...refusedLines('infeed', takes),
  ...refusedLines('in place', places),
];

/** `5 of 9: 10 to 120 mm`; `all 9` and `none of 9` where nothing needs to be told apart. */
function reachedText({ sites, reached, stretches }: SeamAccess): string {
  if (sites === 0) return 'no room';
  if (reached === 0) return `none of ${amount(sites)}`;
  const pieces = stretches.map(([from, to]) => `${amount(from, 1)} to ${amount(to, 1)}`).join(', ');
  return `${reached === sites ? 'all' : `${amount(reached)} of`} ${amount(sites)}: ${pieces} mm`;
}

const againstText = ({ against }: SeamAccess): string =>
  against.map(({ count, nearest }) => `${amount(count)}: ${accessText(nearest)}`).join('; ');

/** Whether other parts change how much of a seam the torch gets at. */
const differs = ({ alone, beside }: SeamInCell): boolean =>
  reachedText(alone) !== reachedText(beside) || againstText(alone) !== againstText(beside);

function seamLines(seams: readonly SeamInCell[]): string[] {
  const rows = seams.flatMap((seam) => {
    const { id, between, open, alone, byRobot, beside } = seam;
    const own = [plain(id), between.map(plain).join(', '), sideText(open)];
    return [
      [...own, reachedText(alone), againstText(alone)],
      ...byRobot.map(({ robot, access }) => [
        '',
        `by ${plain(robot)} alone`,
        '',
        reachedText(access),
        againstText(access),
      ]),
      ...(differs(seam)
        ? [['', 'with all parts in place', '', reachedText(beside), againstText(beside)]]
        : []),
    ];
  });
  const heads = [
    { title: 'seam', most: 8 },
    { title: 'between', most: 26 },
    { title: 'open side', most: 14 },
    { title: 'sites reached', most: 24 },
    { title: 'against the others', most: 30 },
  ];
  return textTable(heads, rows, '  ');
}

/** The lines on what a cell makes of a weldment: rests, grips, reach and tack sites with the reasons against. */
export const inspectCellText = ({ name, parts, seams }: CellView): string[] => [
  '',
  `Handling in ${plain(name)} (each part alone, nothing else in place):`,
  ...parts.flatMap(partLines),
  '',
  'Tack sites (with only the two parts of the seam in place; with all parts where that differs):',
  ...(seams.length > 0 ? seamLines(seams) : ['  none']),
];

import type { Lifting } from '../facts/lifting.js';
import type { Rest } from '../facts/rests.js';
import type { CellView, PartInCell, SeamInCell, Tally } from './inspection.js';
import { amount, listed } from './numbers.js';
import { plain } from './plain.js';
import { refusalNumber, refusalText, refusalTitle } from './refusal-text.js';
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

const partLines = ({ id, rests, infeed, grips, lifting, takes, places }: PartInCell): string[] => [
  ...paragraph(`  ${plain(id)}: `, restsText(rests, infeed)),
  `      grips: ${ratio(grips)} fit; at the infeed ${ratio(takes)}; in place, by approach, ${ratio(places)}`,
  ...refusedLines('fit', grips),
  ...liftingLines(lifting),
  ...refusedLines('infeed', takes),
  ...refusedLines('in place', places),
];

function seamLines(seams: readonly SeamInCell[]): string[] {
  const rows = seams.map(({ id, between, sites }) => [
    plain(id),
    between.map(plain).join(', '),
    ratio(sites),
    sites.refused
      .map(({ count, nearest }) => `${amount(count)}: ${refusalText({ ...nearest, subjects: [] })}`)
      .join('; '),
  ]);
  const heads = [
    { title: 'seam', most: 8 },
    { title: 'between', most: 36 },
    { title: 'reachable', most: 12 },
    { title: 'refused', most: 30 },
  ];
  return textTable(heads, rows, '  ');
}

/** The lines on what a cell makes of a weldment: rests, grips, reach and tack sites with the reasons against. */
export const inspectCellText = ({ name, parts, seams }: CellView): string[] => [
  '',
  `Handling in ${plain(name)} (each part alone, nothing else in place):`,
  ...parts.flatMap(partLines),
  '',
  'Tack sites (with only the two parts of the seam in place):',
  ...(seams.length > 0 ? seamLines(seams) : ['  none']),
];

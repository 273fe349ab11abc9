import { settingsDifference } from '../../explain/difference/settings.js';
import type { Told } from '../../explain/difference/sides.js';
import { DEFAULT_SETTINGS } from '../../model/settings.js';
import { coveringText, extraText } from '../family-claim-text.js';
import { amount, counted } from '../numbers.js';
import { html, table, text } from '../page/html.js';
import { factList, textList } from '../page/pieces.js';
import { plain } from '../plain.js';
import type { FamilyView } from './family-view.js';

const BY: Readonly<Record<FamilyView['result']['covering']['proof']['by'], string>> = {
  'variants-apart': 'variants that share no pattern with one another need one each',
  exhausted: 'every smaller choice was ruled out',
  budget: 'not decided in the budget',
};

const MEANING: readonly string[] = [
  'A pattern is one way of building: the order of the parts, grips by their role, what is held, the table and the signals. Lengths, places in mm and numbers of tacks are what each variant puts in.',
  'Candidates are the patterns of the own best plans that were found. Least means: among these candidates.',
  'A variant is built by a pattern when planning it so gave a plan that every rule passed.',
  'Times, reserves, strength and distortion are estimates for planning; measure the first weldments of every pattern.',
];

const digest = (value: string): string => html('code', { class: 'digest' }, text(value));

const shown = (value: Told): string =>
  value === null ? 'none' : typeof value === 'object' ? plain(value.join(', ')) : plain(String(value));

function settings({ result }: FamilyView): string {
  const changed = settingsDifference(DEFAULT_SETTINGS, result.settings);
  if (changed.length === 0) return html('p', {}, text('All settings are the defaults.'));
  return table({
    caption: 'Settings that differ from the defaults',
    heads: ['Setting', 'Default', 'Here'],
    rows: changed.map(({ what, a, b }) => ({ cells: [plain(what), shown(a), shown(b)] })),
  });
}

/** What the words mean, how the covering is proved, settings and inputs with their digests. */
export function familySmallPrint(view: FamilyView): string {
  const { family, cell, covering, format, version } = view.result;
  const { proof, extra } = covering;
  const apart =
    proof.apart.length === 0 ? [] : [['Variants apart', text(proof.apart.map(plain).join(', '))] as const];
  return [
    html('h3', {}, text('What it means')),
    textList(MEANING),
    html('h3', {}, text('Proof of the covering')),
    factList([
      ['Said', text(coveringText(covering))],
      ['Candidates', text(counted(proof.patterns, 'pattern'))],
      ['At least needed', text(`${amount(proof.bound)}: ${BY[proof.by]}`)],
      ...apart,
      ['Looked at', text(counted(proof.examined, 'choice'))],
      [
        'Beyond the own best plans',
        text(`${extraText(extra)}${proof.costProved ? '; proved least for as few patterns' : ''}`),
      ],
    ]),
    html('h3', {}, text('Settings')),
    settings(view),
    html('h3', {}, text('Made for')),
    factList([
      ...(
        [
          ['Family', family],
          ['Cell', cell],
        ] as const
      ).map(
        ([what, { name, digest: value }]) =>
          [what, `${text(plain(name))}, SHA-256 of its canonical form ${digest(value)}`] as const,
      ),
      ['Document', text(`${plain(format)}, version ${version}; family.json beside this page`)],
    ]),
  ].join('');
}

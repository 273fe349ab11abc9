import { settingsDifference } from '../../../explain/difference/settings.js';
import type { Told } from '../../../explain/difference/sides.js';
import type { Plan } from '../../../model/plan.js';
import { DEFAULT_SETTINGS } from '../../../model/settings.js';
import { listed } from '../../numbers.js';
import { plain } from '../../plain.js';
import { html, table, text } from '../html.js';
import type { PageContext } from '../page-context.js';
import { factList, textList } from '../pieces.js';

const block = (title: string, entries: readonly string[]): string =>
  entries.length === 0 ? '' : html('h3', {}, text(title)) + textList(entries.map(plain));

const shown = (value: Told): string =>
  value === null ? 'none' : typeof value === 'object' ? plain(value.join(', ')) : plain(String(value));

/** Settings of the plan that are not the defaults. */
function settings(plan: Plan): string {
  const changed = settingsDifference(DEFAULT_SETTINGS, plan.settings);
  const title = html('h3', {}, text('Settings'));
  if (changed.length === 0) return title + html('p', {}, text('All settings are the defaults.'));
  return (
    title +
    table({
      caption: 'Settings that differ from the defaults; all others are the defaults',
      heads: ['Setting', 'Default', 'Here'],
      rows: changed.map(({ what, a, b }) => ({ cells: [plain(what), shown(a), shown(b)] })),
    })
  );
}

const digest = (value: string): string => html('code', { class: 'digest' }, text(value));

function inputs(plan: Plan): string {
  const cell = plan.kind === 'geometric' ? [['Cell', plan.cell] as const] : [];
  return (
    html('h3', {}, text('Made for')) +
    factList([
      ...[['Weldment', plan.weldment] as const, ...cell].map(
        ([what, { name, digest: value }]) =>
          [what, `${text(plain(name))}, SHA-256 of its canonical form ${digest(value)}`] as const,
      ),
      ['Document', text(`${plan.format}, version ${plan.version}, ${plan.kind}`)],
    ])
  );
}

/** What of a plan with shapes is an estimate, in our own words. */
const ESTIMATES: readonly string[] = [
  'Times: from speeds, accelerations and lengths of ways of the cell file; a controller adds its own.',
  'Reserves: of rigid parts, with friction and pull reduced as the settings say.',
  'Strength of tacks and how hot they are: a model of cooling and of temporary strength, no strength by any code where not said.',
  'Distortion: a screening estimate with rigid parts; measure the first weldments.',
  'Zones where parts may fall: how far they topple or slide is an estimate.',
];

/** Rules that do not apply for one reason, in one line. */
function unapplied(rules: Plan['rulesNotApplied']): readonly string[] {
  const reasons = [...new Set(rules.map(({ why }) => why))];
  return reasons.map((reason) => {
    const own = rules.filter(({ why }) => why === reason).map(({ rule }) => rule);
    return `${reason}: ${listed(own)}`;
  });
}

/** Policies, what is not checked, rules that do not apply, settings and inputs with their digests. */
export function smallPrint({ plan }: PageContext): string {
  const { proof, rulesNotApplied } = plan;
  return [
    block('How it was planned: what is proved is proved of plans made this way', proof.policies),
    block('Not checked', proof.notChecked),
    block('Rules that do not apply', unapplied(rulesNotApplied)),
    plan.kind === 'geometric' ? block('Estimates', ESTIMATES) : '',
    settings(plan),
    inputs(plan),
  ].join('');
}

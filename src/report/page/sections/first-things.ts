import type { Finding } from '../../../model/finding.js';
import { counted } from '../../numbers.js';
import { plain } from '../../plain.js';
import { powerLossRows, rangesText } from '../../power-loss-text.js';
import { html, text } from '../html.js';
import { isGeometric, type PageContext } from '../page-context.js';
import { textList } from '../pieces.js';

const block = (title: string, content: string): string =>
  content === '' ? '' : html('h3', {}, text(title)) + content;

/** A finding with what led to it. */
const findingItem = ({ rule, where, message, trace = [] }: Finding): string =>
  html(
    'li',
    {},
    html('strong', {}, text(plain(rule))),
    text(`: ${plain(where)}: ${plain(message)}`),
    textList(trace.map(plain), 'trace'),
  );

/** What the rules say of the plan; without them, that they were not asked. */
function verdict(findings: readonly Finding[] | undefined): string {
  if (findings === undefined)
    return html(
      'p',
      { class: 'verdict unjudged' },
      text(
        'Not judged for this page: no rule was asked again. What is shown is what the plan says of itself; `tackwright check` judges it.',
      ),
    );
  if (findings.length === 0)
    return html(
      'p',
      { class: 'verdict kept' },
      text('Judged again for this page by every rule: none is broken.'),
    );
  return (
    html(
      'p',
      { class: 'verdict broken' },
      text(
        `Do not use this plan. Judged again for this page by every rule: ${counted(findings.length, 'finding')}.`,
      ),
    ) + html('ul', { class: 'findings' }, ...findings.map(findingItem))
  );
}

/** Where nobody may be, for stages in which a part may fall when power or air is lost. */
function zones(context: PageContext): string {
  if (!isGeometric(context)) return '';
  const { plan } = context;
  const falls = powerLossRows(plan)
    .filter(({ kind }) => kind === 'exclusion-zone')
    .map(
      ({ stages, gripper, meaning }) =>
        `${stages.length === 1 ? 'Stage' : 'Stages'} ${rangesText(stages)}, held by ${plain(gripper)}: ${meaning}.`,
    );
  const drops = plan.safety.dropZones.length;
  const carried =
    drops === 0
      ? []
      : [
          `Under the ways of parts that are carried: ${counted(drops, 'drop zone')}, see Handshakes and faults.`,
        ];
  return textList([...falls, ...carried]);
}

/** What must be read before anything else: rules that the plan breaks, its warnings, where parts may fall, its cautions. */
export function firstThings(context: PageContext): string {
  const { plan, findings } = context;
  const none = html('p', {}, text('The planner gave no warning.'));
  return [
    verdict(findings),
    plan.warnings.length === 0 ? none : block('Warnings', textList(plan.warnings.map(plain), 'warnings')),
    block('Keep out: a part may fall when power or air is lost', zones(context)),
    block('Cautions', textList(plan.cautions.map(plain), 'cautions')),
  ].join('');
}

import type { Refusal } from '../model/verdict.js';
import { counted, listed } from './numbers.js';
import { plain } from './plain.js';
import { refusalText } from './refusal-text.js';

/** A reason that, with the others, rules every plan out, as a sentence. */
function reasonText(reason: Refusal): string {
  const [part = '', ...others] = reason.subjects.map(plain);
  switch (reason.code) {
    case 'no-approach': {
      const by = others.length > 0 ? `; ${listed(others)} can stand in its way` : '';
      return `${part} can only come along a straight way that nothing in place blocks (${reason.value} tried)${by}`;
    }
    case 'no-order':
      return `${part} keeps to the \`needs\`, \`blocking\` and \`first\` of the file`;
    case 'contact':
      return `${part} must touch a part in place, unless it is the first`;
    case 'no-contact':
      return `${part} must be joined to a part in place or stand on one or on the table; the first stands on the table`;
    case 'no-handling':
      return `${part} must be taken, regripped and brought by a grip that the handling arm reaches with a clear gripper`;
    case 'no-accuracy':
      return `${part} must meet the parts in place within gap, place and seam tolerance, by what its errors add up to`;
    case 'no-securing':
      return `${part} must be held while tacked, and carried by its tacks once let go`;
    case 'no-turning':
      return `the work table must turn before ${part} comes, and nothing may be in its way or in that of a part on it`;
    case 'first':
      return `${part} is wished as the first part`;
    case 'needs':
      return `${part} comes only after ${listed(others)} (\`needs\`)`;
    case 'blocking':
      return `${part} cannot come once ${listed(others)} is in place (\`blocking\`)`;
    case 'unexplained':
      return 'no order is left; which conditions rule it out was not found within the sets of parts looked at';
    default:
      return refusalText(reason);
  }
}

/** How far the grips of a part got, and what the gripper would meet. */
function countsText(counts: Readonly<Record<string, number>>, subjects: readonly string[]): string[] {
  const { fit, taken, brought, both } = counts;
  const [, lies = '', ...met] = subjects.map(plain);
  return [
    `     it lies on ${lies} at the infeed; of ${fit} grips that fit, ${taken} take it there, ${brought} bring it into place, ${both} do both`,
    ...(met.length > 0 ? [`     where they bring it, the gripper can meet ${listed(met)}`] : []),
  ];
}

/** The nearest miss, and where it has one of its own, how near that came: a seam, and the arm that misses it. */
const nearestText = (miss: Refusal): string =>
  miss.nearest
    ? `${refusalText(miss)}; ${refusalText({ ...miss.nearest, subjects: [] })}`
    : refusalText(miss);

/** The answer when planning proved that there is no plan: its scope, then one numbered reason a line. */
export function impossibleText(scope: 'any' | 'candidates', reasons: readonly Refusal[]): string {
  const head =
    scope === 'any'
      ? 'No plan exists (proved, whatever the candidates). What rules it out:'
      : 'No plan exists among the candidates considered, planned as Tackwright plans (proved). These facts together rule\nit out, and each is needed:';
  const lines = reasons.flatMap((reason, i) => [
    `  ${i + 1}  ${reasonText(reason)}`,
    ...(reason.code === 'no-handling' && reason.counts ? countsText(reason.counts, reason.subjects) : []),
    ...(reason.nearest ? [`     nearest miss: ${nearestText(reason.nearest)}`] : []),
  ]);
  return `${[head, ...lines].join('\n')}\n`;
}

/** Reasons shown at most: the most frequent come first. */
const MOST_REASONS = 5;

/** The answer when nothing was found and nothing was proved. */
export function noneFoundText(states: number, refused: number, reasons: readonly Refusal[]): string {
  const looked = `${counted(states, 'state')} looked at`;
  if (refused > 0)
    return [
      `No plan found (${looked}): ${counted(refused, 'whole order')} fell when the assembly was judged as a whole:`,
      ...reasons.slice(0, MOST_REASONS).map((reason) => `  ${refusalText(reason)}`),
      'This is no proof that none exists; a stronger clamp of the first part or other grips may help.',
      '',
    ].join('\n');
  return `No plan found within the budget (${looked}). This is no proof that none exists:\ngive more with --steps or --seconds.\n`;
}

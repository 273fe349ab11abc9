import type { Refusal } from '../model/verdict.js';
import { REFUSALS, wordsIn } from './codes/refusals.js';
import { amount, listed, reserveText } from './numbers.js';
import { plain } from './plain.js';

/** What a refusal code is called, without subject or number: `wrist stretched`; the code itself when it is new. */
export const refusalTitle = (code: string): string => wordingOf(code).title;

/** What a refusal is called, and what its number measures. */
function wordingOf(code: string): { readonly title: string; readonly measure: string } {
  const words = wordsIn(REFUSALS, code);
  return { title: words?.title ?? plain(code), measure: words?.measure ?? '' };
}

/** Units that the measure itself already says. */
const SAID: readonly string[] = ['reserve', 'sites open'];

function figure(value: number, unit: string | undefined): string {
  if (unit === 'reserve') return reserveText(value);
  const number = amount(value, Math.abs(value) < 10 ? 3 : 1);
  if (unit === undefined || SAID.includes(unit)) return number;
  return `${number} ${plain(unit)}`;
}

/** How far a candidate is from being allowed, in its own unit; undefined when its refusal has no two numbers. */
export const missBy = ({ value, limit }: Refusal): number | undefined =>
  value === undefined || limit === undefined ? undefined : Math.abs(value - limit);

/** The number of a refusal in words, `gripper and part 21.4 kg, limit 16 kg`; empty when it has none. */
export function refusalNumber({ code, value, limit, unit }: Refusal): string {
  if (value === undefined) return '';
  const number = [wordingOf(code).measure, figure(value, unit)].filter((text) => text !== '').join(' ');
  return limit === undefined ? number : `${number}, limit ${figure(limit, unit)}`;
}

/** Why a site of a seam cannot be tacked, without naming the seam: `torch meets cheek-left, web`. */
export function accessText({ code, subjects, ...numbers }: Refusal): string {
  const names = subjects.slice(2).map(plain);
  if (code === 'torch-blocked' && names.length > 0) return `torch meets ${listed(names)}`;
  if (code === 'position-not-allowed' && names.length > 0)
    return `welding position ${listed(names, 'or')} is not allowed`;
  return refusalText({ code, subjects: [], ...numbers });
}

/** Where a seam that cannot be covered can be tacked, and what is against the rest of it. */
function stretchText({ counts, nearest }: Refusal): string {
  const { sites, from, to } = counts ?? {};
  if (sites === undefined) return '';
  const where =
    from === undefined || to === undefined ? '' : `, from ${amount(from, 1)} to ${amount(to, 1)} mm`;
  return ` of ${amount(sites)}${where}${nearest ? `; against the others: ${accessText(nearest)}` : ''}`;
}

/** `lid, handler: payload: gripper and part 21.4 kg, limit 16 kg`: who, why, and by what number. */
export const refusalText = (refusal: Refusal): string =>
  [refusal.subjects.map(plain).join(', '), refusalTitle(refusal.code), refusalNumber(refusal)]
    .filter((text) => text !== '')
    .join(': ') + (refusal.code === 'seam-not-coverable' ? stretchText(refusal) : '');

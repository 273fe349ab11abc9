import { rounded } from '../base/order.js';

/** A number with at most `digits` decimals and commas between thousands. */
export function amount(value: number, digits = 0): string {
  const [whole, rest] = String(rounded(value, digits)).split('.') as [string, string | undefined];
  const grouped = /e|[a-z]/i.test(whole) ? whole : whole.replace(/\B(?=(\d{3})+$)/g, ',');
  return rest === undefined ? grouped : `${grouped}.${rest}`;
}

/** A count with its noun: `1 regrip`, `2 regrips`. */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${amount(count)} ${count === 1 ? one : many}`;

/** Tenths of a second as `5 min 13 s`; tenths that are there are shown. */
export function duration(tenths: number): string {
  const minutes = Math.floor(tenths / 600);
  const seconds = amount((tenths - minutes * 600) / 10, 1);
  return minutes === 0 ? `${seconds} s` : `${amount(minutes)} min ${seconds} s`;
}

/** Seconds of a plan, which are whole milliseconds, as tenths, rounded up as the objective is. */
export const tenthsOf = (seconds: number): number => Math.ceil(Math.round(seconds * 1000) / 100);

/** Seconds of a plan as tenths, to the nearest, as pictures and tables show single activities. */
export const nearestTenths = (seconds: number): number => Math.round(Math.round(seconds * 1000) / 100);

/** A reserve, cut and not rounded, so that none is ever shown larger than it is. */
export const reserveText = (reserve: number): string => String(Math.floor(reserve * 100 + 1e-6) / 100);

/** `a`, `a and b`, `a, b and c`. */
export const listed = (words: readonly string[], last = 'and'): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} ${last} ${words.at(-1)!}`;

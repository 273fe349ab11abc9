import type { Refusal } from '../model/verdict.js';
import { amount, listed, reserveText } from './numbers.js';
import { plain } from './plain.js';

/** What a refusal is called, and what its number measures. */
interface Wording {
  readonly title: string;
  readonly measure: string;
}

const WORDINGS: Readonly<Record<string, Wording>> = {
  payload: { title: 'payload', measure: 'gripper and part' },
  'not-magnetic': { title: 'not magnetic', measure: 'share of the pull' },
  footprint: { title: 'pads do not fit', measure: 'room at the edge of the face' },
  'magnet-too-hot': { title: 'magnet too hot for its grade', measure: 'temperature' },
  'jaw-no-face': { title: 'no two opposed flat faces under the fingers', measure: '' },
  'jaw-stroke': { title: 'jaw does not open or close so far', measure: 'opening' },
  'jaw-off-centre': { title: 'jaw is not in the middle of what it closes on', measure: 'off by' },
  'finger-meets-part': { title: 'a finger of the jaw meets the part beside its pad', measure: '' },
  'gripper-in-part': { title: 'gripper meets the part it holds', measure: '' },
  dominated: { title: 'beaten in every respect by a grip close by', measure: '' },
  'wrist-moment': { title: 'wrist moment', measure: 'moment about the wrist' },
  'wrist-inertia': { title: 'wrist inertia', measure: 'inertia about the axis' },
  'grip-slips': { title: 'grip does not carry the weight', measure: 'reserve' },
  'grip-gives-way': { title: 'grip does not carry a sudden stop', measure: 'reserve' },
  'gripper-below-station': { title: 'gripper in the station', measure: 'it would go below the top by' },
  'arm-blocked': { title: 'the arm meets something', measure: '' },
  'arms-meet': { title: 'two arms meet, and no wait keeps them apart', measure: '' },
  'station-blocked': { title: 'a keep-out or the work table is in the way at the station', measure: '' },
  'turn-blocked': { title: 'the table cannot turn: something is in its way', measure: '' },
  'rest-tips': { title: 'rest tips', measure: 'centre of mass inside the edge by' },
  'rest-rolls': { title: 'rest rolls', measure: '' },
  'reach-too-far': { title: 'out of reach', measure: 'too far by' },
  'reach-too-close': { title: 'out of reach', measure: 'too close by' },
  'elbow-limit': { title: 'elbow beyond its limit', measure: 'angle of the forearm to the upper arm' },
  'wrist-stretched': { title: 'wrist stretched', measure: 'bend' },
  'stand-out-of-reach': { title: 'the arm does not get to the stand of the gripper', measure: '' },
  'gripper-hits-fixed': { title: 'gripper hits the table or a keep-out', measure: '' },
  'torch-blocked': { title: 'torch blocked by the two parts, the table or a keep-out', measure: '' },
  'position-not-allowed': { title: 'the process allows no tacks in this welding position', measure: '' },
  'torch-neck': { title: 'neck of the torch hits a part, the table or a keep-out', measure: '' },
  'seam-not-coverable': { title: 'seam cannot be tacked by the rules', measure: 'sites open' },
  'gap-too-wide': { title: 'root gap takes the whole leg of the tack', measure: 'gap' },
  'gap-not-held': { title: 'gap not held', measure: 'errors square to the contact add up to' },
  'place-not-held': { title: 'place not held', measure: 'errors along the contact add up to' },
  'tilt-not-held': { title: 'tilt not held', measure: 'errors at the far end of the contact add up to' },
  'seam-not-met': { title: 'torch misses the seam', measure: 'errors across the seam add up to' },
  'first-part-falls': { title: 'does not stand as the first part', measure: 'reserve' },
  'set-by-hand-falls': {
    title: 'does not stand once the person who sets it has left',
    measure: 'reserve',
  },
  'does-not-stand': {
    title: 'does not stand by itself, and nothing in place is joined to it',
    measure: 'reserve',
  },
  'torch-topples': { title: 'stands by itself, but not while a torch touches it', measure: 'reserve' },
  'cannot-be-held-in-place': {
    title: 'no grip with this gripper takes hold of it in its place',
    measure: '',
  },
  'tack-left-over': { title: 'not every tack can be laid while it is held on', measure: '' },
  'nothing-to-tack': { title: 'nothing in place is joined to it', measure: '' },
  'hold-gives-way': { title: 'hold gives way', measure: 'reserve' },
  'pad-too-near': { title: 'every tack is too near to a holding pad', measure: 'the farthest is' },
  'torch-meets-gripper': {
    title: 'the holding gripper is in the way of every tack that is far enough from its pads',
    measure: '',
  },
  'two-holds-unproved': {
    title: 'two arms would let go, and the tacks do not survive the loss of any one',
    measure: '',
  },
  'kept-too-briefly': {
    title: 'the gripper does not keep the part long enough without power',
    measure: 'it keeps it',
  },
  'falls-without-power': { title: 'the part falls when the gripper loses its power', measure: 'reserve' },
  'cannot-be-proved': { title: 'a proof pull would tear it off', measure: 'reserve' },
  'cannot-be-secured': { title: 'not secured by all tacks that can be laid', measure: 'reserve' },
  'gap-opens': {
    title: 'earlier tacks are predicted to open a seam too far before it is tacked',
    measure: 'open by',
  },
  'assembly-gives-way': { title: 'the parts in place give way', measure: 'reserve' },
};

/** The wordings of one joint of an arm, made from the number in the code. */
function jointWording(code: string): Wording | undefined {
  const [, joint, kind] = /^joint-(\d+)-(limit|jump)$/.exec(code) ?? [];
  if (kind === undefined) return undefined;
  return kind === 'limit'
    ? { title: `joint ${joint!} beyond its limit`, measure: 'angle' }
    : { title: `joint ${joint!} jumps on a straight stroke`, measure: 'by' };
}

/** What a refusal code is called, without subject or number: `wrist stretched`; the code itself when it is new. */
export const refusalTitle = (code: string): string => wordingOf(code).title;

function wordingOf(code: string): Wording {
  const known = Object.hasOwn(WORDINGS, code) ? WORDINGS[code] : jointWording(code);
  return known ?? { title: plain(code), measure: '' };
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

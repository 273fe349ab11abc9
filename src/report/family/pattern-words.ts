import type { GripPlaceRole, GripRole, PatternStage } from '../../model/build-pattern.js';
import { amount, listed } from '../numbers.js';
import { plain } from '../plain.js';

/** Gripper, pads, face and turn of a grip. */
export function gripWords({ gripper, face, group, turn }: GripRole): string {
  const pads = group === undefined ? '' : `, pads ${plain(group)}`;
  const turned = turn === 0 ? '' : `, turned ${amount(turn, 1)}°`;
  return `${plain(gripper)} on ${plain(face)}${pads}${turned}`;
}

/** Where on its face a grip sits, so that it means the same on a part of any size. */
export function placeWords(place: GripPlaceRole): string {
  if ('over' in place) return 'over the centre of mass';
  if ('given' in place) return `grip ${place.given} that the file gives`;
  if ('at' in place) return `${place.at.map((one) => amount(one, 1)).join(', ')} mm off the middle`;
  const [first, second] = place.share;
  if (first === 0 && second === 0) return 'in the middle';
  const share = (value: number): string => `${amount(value * 100)} %`;
  return `${share(first)}, ${share(second)} of the way out`;
}

/** The regrips before the last grip, one a line. */
export const regripWords = ({ regrips }: PatternStage): readonly string[] =>
  regrips.map(({ grip, to, rest }) => {
    const where = to === 'regrip' ? 'put on the regrip table' : 'put on the two-sided stand';
    return `${gripWords(grip)}, ${placeWords(grip.place)}; ${where}, on ${plain(rest)}`;
  });

/** What is held while the securing tacks are laid. */
export function heldWords({ held, alsoHeld, part, robot }: PatternStage): string {
  const own = held ? [plain(part)] : [];
  const other = alsoHeld === null ? [] : [plain(alsoHeld)];
  const all = [...own, ...other];
  if (all.length === 0) return robot === null ? 'set and clamped by a person' : 'nothing';
  return listed(all);
}

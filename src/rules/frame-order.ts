import { fail, ok, type Result } from '../base/result.js';
import { snap } from '../base/order.js';
import type { Cost } from '../algorithms/cost.js';
import { add, cross, length, scale, subtract, unit, type Vec3 } from '../geometry/vector.js';
import { roundTackForce } from '../mechanics/round-tacks.js';
import { barTravel, type Frame } from '../model/frame.js';

/** Millimetres of reserve and newtons within this are equal. */
const GRAIN = 1e-3;

/**
 * Judges an order of the bars of a frame from the frame alone: the cost (held bars and pieces summed over the moves,
 * travel in whole mm), or why the order is not legal. Every state is put together anew and every piece in it weighed
 * anew; no outline and no sum of an earlier state is used. Needs an order of bar indices of any kind.
 */
export function judgeFrameOrder(frame: Frame, order: readonly number[]): Result<Cost, string> {
  const { bars, choices } = frame;
  const wrong = notEachOnce(frame, order);
  if (wrong !== undefined) return fail(wrong);
  let [held, travel] = [0, 0];
  for (let count = 1; count <= order.length; count += 1) {
    const placed = order.slice(0, count);
    const newcomer = bars[placed.at(-1)!]!;
    if (!joins(frame, placed))
      return fail(`${newcomer.name} comes to nothing that is in place, nor to the table`);
    const stay = heldIn(frame, placed);
    const allowed = count === order.length ? 0 : choices.holds;
    if (stay.length > allowed)
      return fail(
        `once ${newcomer.name} has joined, ${stay.length} must stay held, at most ${allowed} can: ${stay.slice(0, 3).join('; ')}`,
      );
    held += stay.length;
    if (count > 1) travel += barTravel(bars[placed.at(-2)!]!, newcomer);
  }
  return ok([held, travel]);
}

function notEachOnce({ bars }: Frame, order: readonly number[]): string | undefined {
  const strange = order.find((bar) => bars[bar] === undefined);
  if (strange !== undefined) return `there is no bar ${strange}`;
  const seen = new Set<number>();
  for (const bar of order) {
    if (seen.has(bar)) return `${bars[bar]!.name} comes twice`;
    seen.add(bar);
  }
  const missing = bars.find((_, bar) => !seen.has(bar));
  return missing === undefined ? undefined : `${missing.name} is missing`;
}

/** Whether the last of the placed bars ends on the table or on another. */
function joins({ bars, nodes }: Frame, placed: readonly number[]): boolean {
  const { ends } = bars[placed.at(-1)!]!;
  return ends.some(
    (node) => nodes[node]!.grounded || placed.slice(0, -1).some((bar) => bars[bar]!.ends.includes(node)),
  );
}

/** What must stay held when these bars are in place, each in a few words. */
export function heldIn(frame: Frame, placed: readonly number[]): readonly string[] {
  const atNode = new Map<number, number[]>();
  for (const bar of placed)
    for (const node of frame.bars[bar]!.ends) atNode.set(node, [...(atNode.get(node) ?? []), bar]);
  const hanging = placed.filter((bar) => hangsTooMuch(frame, atNode, bar));
  const fallen = connected(frame, atNode, placed).filter((piece) => !standsAlone(frame, piece));
  return [
    ...fallen.map((piece) => `the piece with ${frame.bars[piece[0]!]!.name} does not stand`),
    ...hanging.map((bar) => `the tacks at one end do not carry ${frame.bars[bar]!.name}`),
  ];
}

function connected(
  { bars }: Frame,
  atNode: ReadonlyMap<number, readonly number[]>,
  placed: readonly number[],
): readonly (readonly number[])[] {
  const seen = new Set<number>();
  return placed.flatMap((first) => {
    if (seen.has(first)) return [];
    const piece = new Set([first]);
    for (const bar of piece)
      for (const node of bars[bar]!.ends) for (const next of atNode.get(node)!) piece.add(next);
    for (const bar of piece) seen.add(bar);
    return [[...piece]];
  });
}

/** Weight and push on a bar that is joined at one end and free at the other, turned into a moment about its tacks. */
function hangsTooMuch(frame: Frame, atNode: ReadonlyMap<number, readonly number[]>, bar: number): boolean {
  const { bars, nodes, choices, foot, tackStrength } = frame;
  const { ends, middle, weight } = bars[bar]!;
  const alone = ends.filter((node) => atNode.get(node)!.length === 1);
  if (alone.length !== 1 || nodes[alone[0]!]!.grounded) return false;
  const root = nodes[ends.find((node) => node !== alone[0])!]!.point;
  const down: Vec3 = [0, 0, -choices['gravity-reserve'] * weight];
  const bending = length(cross(subtract(middle, root), down));
  const push = choices['push-reserve'] * choices['push-share'] * weight;
  const pushed = bending + push * length(subtract(nodes[alone[0]!]!.point, root));
  return snap(roundTackForce(pushed, length(down) + push, foot, choices.tacks) - tackStrength, GRAIN) > 0;
}

/**
 * Whether a rigid piece is in equilibrium on its feet under its weight, the clamps and a push in any direction at its top:
 * by the theorem of alternatives, whether in no direction the feet fall short of the moment that is asked of them. The
 * least falls where two feet are equally far in that direction, or straight from a foot to the centre of what presses.
 */
function standsAlone(frame: Frame, piece: readonly number[]): boolean {
  const { bars, nodes, choices, foot, table } = frame;
  const ends = [...new Set(piece.flatMap((bar) => bars[bar]!.ends))];
  const feet = ends.filter((node) => nodes[node]!.grounded).map((node) => flat(nodes[node]!.point));
  const weight = piece.reduce((sum, bar) => sum + bars[bar]!.weight, 0);
  const centre = piece.reduce<Vec3>(
    (sum, bar) => add(sum, scale(flat(bars[bar]!.middle), bars[bar]!.weight / weight)),
    [0, 0, 0],
  );
  const clamp = choices.clamp / choices['gravity-reserve'];
  const total = weight + clamp * feet.length;
  const top = Math.max(...ends.map((node) => nodes[node]!.point[2])) - table;
  const asked = weight * (choices['push-share'] * choices['push-reserve'] * top + choices['centre-shift']);
  const pressed = scale(add(scale(centre, weight), scale(feet.reduce(add, [0, 0, 0]), clamp)), 1 / total);
  return directions(feet, pressed).every((way) => {
    const along = (point: Vec3): number => way[0] * point[0] + way[1] * point[1];
    const farthest = feet.reduce((most, one) => Math.max(most, along(one)), -Infinity);
    const clamps = feet.reduce((sum, one) => sum + clamp * along(one), 0);
    const carried = total * (farthest + foot) - clamps - weight * along(centre);
    return snap((carried - asked) / total, GRAIN) >= 0;
  });
}

const flat = ([x, y]: Vec3): Vec3 => [x, y, 0];

function directions(feet: readonly Vec3[], centre: Vec3): readonly Vec3[] {
  const ways: Vec3[] = [[1, 0, 0]];
  const both = (way: Vec3): void => {
    if (length(way) < GRAIN) return;
    ways.push(unit(way), scale(unit(way), -1));
  };
  feet.forEach((one, i) => {
    both(subtract(centre, one));
    for (const other of feet.slice(i + 1)) both(cross(subtract(other, one), [0, 0, 1]));
  });
  return ways;
}

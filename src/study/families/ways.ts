import type { Way } from '../../model/weldment.js';
import type { AlikeGroup } from './alike.js';
import { shareOf, shuffled, streamFor } from './dials.js';
import { massOf } from './mass.js';
import type { InstanceOptions } from './options.js';

/** Our own choices, plausible for a robot at a bench: seconds for a light part, more by its mass, and for a regrip. */
const LIGHT_SECONDS = 10;
const SECONDS_PER_KILOGRAM = 0.4;
const MOST_FOR_MASS = 12;
const REGRIP_SECONDS = 9;
/** How often a gripper that is not the one for a part can take it all the same. */
const SECOND_CHOICE = 0.6;
/** And by how much it is slower at most, as a share. */
const SLOWER = 0.5;

const gripperName = (i: number): string => `gripper-${i + 1}`;

/** To half seconds: sums of such times are exact. */
const halves = (seconds: number): number => Math.round(2 * seconds) / 2;

interface Drawn {
  readonly gripper: number;
  readonly seconds: number;
}

/** Every way of a group before the dials take some away: first the gripper made for it, then the others. */
function drawnWays(
  group: AlikeGroup,
  preferred: number,
  { seed, grippers }: InstanceOptions,
): readonly Drawn[] {
  const random = streamFor(seed, `ways ${group.name}`);
  const mass = massOf(group.members[0]!.shape);
  const light = LIGHT_SECONDS + Math.min(MOST_FOR_MASS, SECONDS_PER_KILOGRAM * mass) + 4 * random();
  const others = Array.from({ length: grippers }, (_, i) => ({
    gripper: i,
    usable: random() < SECOND_CHOICE,
    seconds: halves(light * (1 + SLOWER * random())),
  })).filter(({ gripper }) => gripper !== preferred);
  const usable = others.filter((way) => way.usable);
  // A part that is not only for one gripper has a second one.
  return [
    { gripper: preferred, seconds: halves(light) },
    ...(usable.length > 0 ? usable : others.slice(0, 1)),
  ];
}

/**
 * The ways of each group of parts that are alike. Every gripper is the one for some group, as far as there are groups; a
 * share of the parts can be taken by that one alone; for a share of the parts one of the ways needs a regrip.
 */
export function waysOfGroups(
  groups: readonly AlikeGroup[],
  options: InstanceOptions,
): ReadonlyMap<string, readonly Way[]> {
  const { seed, grippers, single, regrips } = options;
  const size = ({ members }: AlikeGroup): number => members.length;
  const preferred = new Map(
    shuffled(groups, streamFor(seed, 'preferred grippers')).map(({ name }, i) => [name, i % grippers]),
  );
  const alone = new Set(shareOf(groups, single, streamFor(seed, 'single grippers'), size));
  const regripped = new Set(shareOf(groups, regrips, streamFor(seed, 'regrips'), size));
  return new Map(
    groups.map((group) => {
      const all = drawnWays(group, preferred.get(group.name)!, options);
      const drawn = alone.has(group) ? all.slice(0, 1) : all;
      const turned = regripped.has(group)
        ? Math.floor(streamFor(seed, `regrip ${group.name}`)() * drawn.length)
        : -1;
      const ways = drawn.map(({ gripper, seconds }, i) => ({
        gripper: gripperName(gripper),
        regrips: i === turned ? 1 : 0,
        seconds: i === turned ? seconds + REGRIP_SECONDS : seconds,
      }));
      return [group.name, ways.sort((a, b) => (a.gripper < b.gripper ? -1 : 1))] as const;
    }),
  );
}

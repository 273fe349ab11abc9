import { Kept } from '../base/kept.js';
import { MOST_REGRIPS, type Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import type { Spot } from '../facts/spots.js';
import type { Handler } from '../model/cell.js';
import { Blame, type Asked, type ConflictFact, type FactTable } from './conflict-facts.js';
import { isByCarrying, type AskedGrip, type AskedGrips } from './conflict-grips.js';
import { changesFreely } from './ways.js';

/** How a part may have been taken: its grips in turn, and where it lay when the last took it. */
export interface Taken {
  readonly grips: readonly Grip[];
  readonly lies: Spot;
  readonly regrips: number;
}

/** A spot that a part can be brought to by one arm, and with how many regrips at least. */
interface Reached {
  readonly spot: Spot;
  readonly regrips: number;
}

/** Where an arm can bring a part for a regrip, and what stands against the other spots. */
interface Bringable {
  readonly reached: readonly Reached[];
  readonly against: readonly ConflictFact[];
}

/** From the infeed to the last grip of a part, as far as what is asked for lets it come. */
export class ConflictChains {
  private readonly bringable = new Kept<Bringable>();

  constructor(
    private readonly facts: Facts,
    private readonly table: FactTable,
    private readonly grips: AskedGrips,
  ) {}

  /** Every way in which a grip may come to take the part; what stands against it is blamed where there is none. */
  taken(part: number, asked: AskedGrip, blame: Blame): readonly Taken[] {
    const real = asked.refusal === undefined ? this.real(part, asked.grip) : [];
    if (!this.isRelaxed(part, asked.grip.robot, blame.asked))
      return real.length > 0 ? real : this.relaxed(part, asked, blame);
    return [...this.relaxed(part, asked, real.length > 0 ? new Blame(blame.asked) : blame), ...real];
  }

  /** Whether some chain that does not exist counts as one that does. */
  private isRelaxed(part: number, robot: Handler, asked: Asked): boolean {
    if (!asked.has(this.table.of('reach', part, { robot: robot.id }))) return true;
    return this.facts.scene.cell.grippers.some(
      ({ id }) =>
        !asked.has(this.table.of('capacity', part, { gripper: id })) && this.grips.capacityMatters(part, id),
    );
  }

  /** The chains that planning has. */
  private real(part: number, grip: Grip): readonly Taken[] {
    const { facts } = this;
    const counts = Array.from({ length: MOST_REGRIPS + 1 }, (_, regrips) => regrips);
    return counts.flatMap((regrips) =>
      facts.chains(grip.robot, part, regrips).flatMap(({ transfers, spot }): readonly Taken[] => {
        const grips = [...transfers.map((transfer) => transfer.grip), grip];
        const used = [...new Set(grips.map(({ gripper }) => gripper))];
        if (used.length > 1 && !changesFreely(facts, grip.robot, used)) return [];
        return facts.take(part, grip, spot).ok ? [{ grips, lies: spot, regrips }] : [];
      }),
    );
  }

  private relaxed(part: number, asked: AskedGrip, blame: Blame): readonly Taken[] {
    const { robot } = asked.grip;
    const { reached, against } = this.bringableBy(part, robot, blame.asked);
    const taken = reached.flatMap(({ spot, regrips }): readonly Taken[] =>
      blame.refuses(this.failing(part, asked, spot, 'take', blame.asked))
        ? []
        : [{ grips: regrips === 0 ? [asked.grip] : [asked.grip, asked.grip], lies: spot, regrips }],
    );
    if (taken.length === 0) for (const fact of against) blame.facts.add(fact);
    return taken;
  }

  /** Where one arm can bring a part with regrips: every spot as soon as it can be. */
  private bringableBy(part: number, robot: Handler, asked: Asked): Bringable {
    return this.bringable.get(`${part} ${robot.id} ${asked.signature(part)}`, () => {
      const [infeed, ...spots] = this.facts.spots(part);
      const blame = new Blame(asked);
      if (infeed === undefined) return { reached: [], against: [] };
      const all = this.facts.scene.cell.grippers.flatMap(({ id }) => this.grips.of(part, robot, id));
      const reached: Reached[] = [{ spot: infeed, regrips: 0 }];
      for (const { spot, regrips } of reached) {
        if (regrips === MOST_REGRIPS) break;
        for (const grip of all) {
          const open = spots.filter((other) => reached.every((known) => known.spot !== other));
          if (open.length === 0) return { reached, against: [] };
          if (blame.refuses(this.failing(part, grip, spot, 'take', asked))) continue;
          for (const other of open)
            if (!blame.refuses(this.failing(part, grip, other, 'setDown', asked)))
              reached.push({ spot: other, regrips: regrips + 1 });
        }
      }
      return { reached, against: [...blame.facts] };
    });
  }

  /** What stands against taking a part at a spot, or setting it down there; only what is asked for is worked out. */
  private failing(
    part: number,
    { grip, refusal }: AskedGrip,
    spot: Spot,
    what: 'take' | 'setDown',
    asked: Asked,
  ): readonly ConflictFact[] {
    const { facts, table } = this;
    const capacity = table.of('capacity', part, { gripper: grip.gripper.id });
    const reach = table.of('reach', part, { robot: grip.robot.id });
    if (refusal && asked.has(capacity)) return [capacity];
    const carried = !asked.has(capacity) || facts.carryRefusal(part, grip, spot.pose) === undefined;
    if (!carried) return [capacity];
    if (!asked.has(reach)) return [];
    const motion = facts[what](part, grip, spot);
    return motion.ok || isByCarrying(motion.error) ? [] : [reach];
  }
}

import { Kept } from '../base/kept.js';
import { Listed } from '../base/listed.js';
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

const NONE: readonly Taken[] = [];

const isEmpty = (ways: Iterable<Taken>): boolean => ways[Symbol.iterator]().next().done === true;

/** The first, then the others. */
const after = (first: readonly Taken[], others: Iterable<Taken>): Iterable<Taken> => ({
  *[Symbol.iterator]() {
    yield* first;
    yield* others;
  },
});

/** From the infeed to the last grip of a part, as far as what is asked for lets it come. */
export class ConflictChains {
  private readonly bringable = new Kept<Bringable>();
  private readonly chains = new Kept<Listed<Taken>>();

  constructor(
    private readonly facts: Facts,
    private readonly table: FactTable,
    private readonly grips: AskedGrips,
  ) {}

  /**
   * Every way in which a grip may come to take the part; undefined where there is none, and then what stands against it is blamed.
   * Chains that planning has are worked out as far as they are drawn, and after those that only count as met: they are dear.
   */
  taken(part: number, asked: AskedGrip, blame: Blame): Iterable<Taken> | undefined {
    const real = asked.refusal === undefined ? this.real(part, asked.grip) : NONE;
    const relaxes = this.isRelaxed(part, asked.grip.robot, blame.asked);
    if (!relaxes && !isEmpty(real)) return real;
    const own = new Blame(blame.asked);
    const relaxed = this.relaxed(part, asked, own);
    if (relaxed.length === 0 && !isEmpty(real)) return real;
    blame.add(own.facts);
    if (relaxed.length === 0) return undefined;
    return relaxes ? after(relaxed, real) : relaxed;
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
  private real(part: number, grip: Grip): Iterable<Taken> {
    return this.chains.get(`${part} ${grip.id}`, () => new Listed(this.everyReal(part, grip)));
  }

  private *everyReal(part: number, grip: Grip): Generator<Taken> {
    const { facts } = this;
    for (let regrips = 0; regrips <= MOST_REGRIPS; regrips += 1)
      for (const { transfers, spot } of facts.chains(grip.robot, part, regrips)) {
        const grips = [...transfers.map((transfer) => transfer.grip), grip];
        const used = [...new Set(grips.map(({ gripper }) => gripper))];
        if (used.length > 1 && !changesFreely(facts, grip.robot, used)) continue;
        if (facts.take(part, grip, spot).ok) yield { grips, lies: spot, regrips };
      }
  }

  private relaxed(part: number, asked: AskedGrip, blame: Blame): readonly Taken[] {
    const { robot } = asked.grip;
    const { reached, against } = this.bringableBy(part, robot, blame.asked);
    const taken = reached.flatMap(({ spot, regrips }): readonly Taken[] =>
      blame.refuses(this.failing(part, asked, spot, 'take', blame.asked))
        ? []
        : [{ grips: regrips === 0 ? [asked.grip] : [asked.grip, asked.grip], lies: spot, regrips }],
    );
    if (taken.length === 0) blame.add(against);
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

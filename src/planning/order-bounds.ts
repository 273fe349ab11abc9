import { has, type PartSet } from '../base/part-set.js';
import { MOST_REGRIPS, type Facts } from '../facts/facts.js';
import { straightTime } from '../kinematics/travel.js';
import { releaseTime, type Handler } from '../model/cell.js';
import { leastChanges, type Hands } from './hands.js';
import type { NamedCost } from './objective.js';
import type { OrderRelations } from './order-relations.js';
import { canBring, leastRegrips } from './ways.js';

/** What the parts that are still to come cost at least, each by itself. */
export class OrderBounds {
  private readonly regrips: readonly number[];
  private readonly forced: readonly (string | undefined)[];
  private readonly times: readonly number[];

  constructor(
    private readonly facts: Facts,
    private readonly relations: OrderRelations,
  ) {
    const { parts } = facts.scene;
    this.regrips = parts.map(({ part: { manual } }, part) => (manual ? 0 : this.fewestRegrips(part)));
    this.times = parts.map(({ part: { manual } }, part) =>
      manual ? Math.round(1000 * manual.seconds) : this.leastMilliseconds(part),
    );
    this.forced = parts.map((_, part) => this.onlyGripper(part));
  }

  /** At most the cost of bringing every part that is not in place. */
  rest(inPlace: PartSet, hands: Hands): NamedCost {
    let regrips = 0;
    let time = 0;
    const needed = new Set<string>();
    this.times.forEach((milliseconds, part) => {
      if (has(inPlace, part)) return;
      regrips += this.regrips[part]!;
      time += milliseconds;
      const forced = this.forced[part];
      if (forced !== undefined) needed.add(forced);
    });
    return { regrips, 'tool-changes': leastChanges(hands, needed), distortion: 0, time };
  }

  /** The gripper that must be on the arm after a part, when no other can place it at all. */
  private onlyGripper(part: number): string | undefined {
    const { facts } = this;
    const able = facts.scene.cell.grippers.filter(({ id }) =>
      facts
        .usableGrips(part)
        .some((grip) => grip.gripper.id === id && facts.everyAngle.some((at) => canBring(at, part, grip))),
    );
    return able.length === 1 ? able[0]!.id : undefined;
  }

  /** Regrips that no way of a part can go below: it needs a footing, and what is in place only grows. */
  private fewestRegrips(part: number): number {
    const footings = this.relations.leastFootings(part);
    return Math.min(
      ...this.facts.everyAngle.flatMap((at) => footings.map((inPlace) => leastRegrips(at, part, inPlace))),
    );
  }

  /**
   * Handling time that no way of a part can go below: its acts and straight strokes, without the moves between. Of
   * several arms one may fetch while another brings, so that only what is done in the work zone counts.
   */
  private leastMilliseconds(part: number): number {
    const { handlers } = this.facts.scene.cell;
    const whole = handlers.length === 1;
    return Math.min(...handlers.map((robot) => this.millisecondsOf(part, robot, whole)));
  }

  private millisecondsOf(
    part: number,
    { straightSpeed, straightAcceleration }: Handler,
    withFetching: boolean,
  ): number {
    const { scene, settings } = this.facts;
    const { times } = scene.cell;
    const stroke = (millimetres: number): number =>
      Math.round(1000 * straightTime(millimetres, straightSpeed, straightAcceleration));
    const short = stroke(settings.motion['approach-distance']);
    const open = this.facts.everyAngle
      .flatMap((at) => at.approaches(part))
      .filter(({ fixedHit }) => fixedHit === undefined);
    const bring = stroke(Math.min(...open.map(({ distance }) => distance)));
    const releases = this.facts.usableGrips(part).map(({ gripper }) => releaseTime(scene.cell, gripper));
    const release = Math.round(1000 * (releases.length === 0 ? times.release : Math.min(...releases)));
    if (!withFetching) return bring + release + short;
    const acts = Math.round(1000 * times.grip) + release;
    const regrips = Math.min(this.regrips[part]!, MOST_REGRIPS);
    return acts + 3 * short + bring + regrips * (acts + 4 * short);
  }
}

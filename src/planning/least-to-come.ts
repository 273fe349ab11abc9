import type { Cost } from '../algorithms/cost.js';
import { withMember } from '../base/part-set.js';
import type { Handler } from '../model/cell.js';
import type { ObjectiveTerm } from '../model/settings.js';
import type { Hands } from './hands.js';
import { inOrder, type NamedCost } from './objective.js';
import type { OrderBounds } from './order-bounds.js';
import type { OrderState } from './order-state.js';
import type { OneArm } from './part-moves.js';
import type { StageWishes } from './stage-wishes.js';

/** Tool changes that an arm makes at least when it shall have a gripper on after the next part. */
export const fewestChanges = ({ arm, gripper }: Pick<OneArm, 'arm' | 'gripper'>): number =>
  arm.gripper === undefined || arm.gripper === gripper ? 0 : 1;

/** What whole orders cost at least from a state on, by the terms of an objective. */
export class LeastToCome {
  constructor(
    private readonly objective: readonly ObjectiveTerm[],
    private readonly handlers: readonly Handler[],
    private readonly bounds: OrderBounds,
    private readonly wishes: StageWishes,
  ) {}

  /** Whatever comes next. */
  from({ inPlace, hands, first }: Pick<OrderState, 'inPlace' | 'hands' | 'first'>): Cost {
    return inOrder(this.objective, {
      ...this.bounds.rest(inPlace, hands),
      wishes: this.wishes.least(inPlace, first !== undefined),
    });
  }

  /** Where an arm brings a part next, with so many regrips, and has a gripper on afterwards. Its time counts nothing. */
  after({ inPlace, hands }: OrderState, part: number, by: OneArm, regrips: number): Cost {
    const own = this.handlers.indexOf(by.arm.robot);
    const grippers = hands.grippers.map((gripper, i) => (i === own ? by.gripper : gripper));
    const next: Hands = { ...hands, grippers };
    const joined = withMember(inPlace, part);
    const rest = this.bounds.rest(joined, next);
    const cost: NamedCost = {
      ...rest,
      regrips: rest.regrips + regrips,
      'tool-changes': rest['tool-changes'] + fewestChanges(by),
      wishes: this.wishes.least(joined, true),
    };
    return inOrder(this.objective, cost);
  }
}

import { Kept } from '../base/kept.js';
import { emptySet, has, setKey, size, withMember, type PartSet } from '../base/part-set.js';
import type { Result } from '../base/result.js';
import type { Approach } from '../facts/approaches.js';
import { MOST_REGRIPS, type Facts } from '../facts/facts.js';
import type { Cell } from '../model/cell.js';
import type { Refusal } from '../model/verdict.js';
import type { Grip } from '../facts/grips.js';
import type { Spot } from '../facts/spots.js';
import type { Newcomer } from './securing.js';
import { holdKey, type Bringing } from './held-grip.js';
import { everyAngle, type AtAngle } from './index-angles.js';
import { OrderRelations } from './order-relations.js';
import { armsAndGrippers, canBring, gripsOf, isOpen, waysOf } from './ways.js';

/**
 * One reason of one part that may stand against a plan:
 * - order: given needs, blocking and the wish for the first part;
 * - contact: it must be joined to a part in place or have a footing to stand on; the first stands on the table;
 * - approach: a straight way into place that no part in place blocks;
 * - handling: a chain of grips that the handling arm reaches and whose gripper hits nothing;
 * - accuracy: every contact and joint to the parts in place within its limits;
 * - securing: tacks that the torch reaches and that carry the part once it is let go, and a hold until then;
 * - turning: room for a work table that turns before the part comes.
 * Of a part that a person sets only order, contact and securing are asked. All those of a part are met at one index
 * angle of the work table.
 */
export interface Condition {
  readonly kind: 'order' | 'contact' | 'approach' | 'handling' | 'accuracy' | 'securing' | 'turning';
  readonly part: number;
}

const CONDITION_KINDS: readonly Condition['kind'][] = [
  'order',
  'contact',
  'approach',
  'handling',
  'accuracy',
  'securing',
];

/** The kinds of conditions in a cell. */
export const conditionKinds = ({ table }: Cell): readonly Condition['kind'][] =>
  table.turntable ? [...CONDITION_KINDS, 'turning'] : CONDITION_KINDS;

/** What may come next depends on it. */
interface Reached {
  readonly inPlace: PartSet;
  readonly first: number | undefined;
  /** Index angle of the work table; undefined before the first part. */
  readonly angle: number | undefined;
}

/** More sets of parts than this are not looked at; the conditions then count as no proof. */
const MOST_SETS = 20_000;

/** Whether any order exists at all when only some of the conditions are asked for. */
export class Feasibility {
  private readonly angles: readonly AtAngle[];
  private readonly relations: OrderRelations;
  private readonly answers: Kept<boolean>;
  private readonly falls = new Map<number, Refusal>();
  private readonly severalArms: boolean;
  private readonly misfits = new Map<number, Refusal>();

  constructor(private readonly facts: Facts) {
    this.answers = new Kept(facts.keeping);
    this.angles = everyAngle(facts);
    this.relations = new OrderRelations(facts);
    this.severalArms = facts.scene.cell.handlers.length > 1;
  }

  /** True when it is proved that no order meets the conditions. */
  impossible(conditions: readonly Condition[]): boolean {
    const asked = new Set(conditions.map(({ kind, part }) => `${kind} ${part}`));
    const parts = this.facts.scene.parts.length;
    const seen = new Set<string>();
    const waiting: Reached[] = [{ inPlace: emptySet(parts), first: undefined, angle: undefined }];
    for (let state = waiting.pop(); state; state = waiting.pop()) {
      if (size(state.inPlace) === parts) return false;
      if (seen.size > MOST_SETS) return false;
      for (let part = 0; part < parts; part += 1) {
        if (has(state.inPlace, part)) continue;
        const after = { inPlace: withMember(state.inPlace, part), first: state.first ?? part };
        for (const at of this.angles) {
          const next = { ...after, angle: at.facts.angle };
          const key = `${setKey(next.inPlace)} ${next.first} ${next.angle}`;
          if (seen.has(key) || !this.joins(at, part, state, asked)) continue;
          seen.add(key);
          waiting.push(next);
        }
      }
    }
    return true;
  }

  /** Of all holds and tacks that were tried for a part, the one that came nearest to carrying it. */
  nearestFall(part: number): Refusal | undefined {
    return this.falls.get(part);
  }

  /** Of all ways that were tried for a part, the one that came nearest to meeting those in place. */
  nearestMisfit(part: number): Refusal | undefined {
    return this.misfits.get(part);
  }

  /** Whether a part may come now, at an index angle, as far as the conditions asked for say. */
  private joins(
    at: AtAngle,
    part: number,
    { inPlace, first, angle }: Reached,
    asked: ReadonlySet<string>,
  ): boolean {
    const turns = angle !== undefined && angle !== at.facts.angle && asked.has(`turning ${part}`);
    if (turns && this.facts.turnBlocked(inPlace)) return false;
    const on = CONDITION_KINDS.map((kind) => (asked.has(`${kind} ${part}`) ? kind[0] : '-')).join('');
    const key = `${part} ${setKey(inPlace)} ${first} ${on} ${at.facts.angle}`;
    return this.answers.get(key, () => {
      const is = (kind: Condition['kind']): boolean => asked.has(`${kind} ${part}`);
      return (
        (!is('order') || this.relations.allow(part, inPlace)) &&
        (!is('contact') || this.relations.hasFooting(part, inPlace)) &&
        this.canCome(at, part, inPlace, first, is)
      );
    });
  }

  private canCome(
    at: AtAngle,
    part: number,
    inPlace: PartSet,
    first: number | undefined,
    is: (kind: Condition['kind']) => boolean,
  ): boolean {
    const newcomer = { part, inPlace, clamped: first };
    if (this.facts.scene.parts[part]!.part.manual) return !is('securing') || this.canBeSet(at, newcomer);
    const open = at.facts.approaches(part).filter((approach) => !is('approach') || isOpen(approach, inPlace));
    if (is('approach') && open.length === 0) return false;
    if (is('handling')) return this.canBeTaken(at, newcomer, open, is('accuracy'), is('securing'));
    return this.canBeHad(at, newcomer, is('accuracy'), is('securing'));
  }

  /** Whether a person can tack the part so that it stands; no approach, grip or chain of errors is asked about. */
  private canBeSet({ byHand }: AtAngle, newcomer: Newcomer): boolean {
    return this.told(newcomer, byHand.set(newcomer));
  }

  /** Whether some grip that fits would let the part be fitted, held and tacked, however it got there. */
  private canBeHad(at: AtAngle, newcomer: Newcomer, fitted: boolean, secured: boolean): boolean {
    if (!fitted && !secured) return true;
    const { facts } = at;
    const { part } = newcomer;
    const spots = facts.spots(part);
    return facts
      .usableGrips(part)
      .some(
        (grip) =>
          (!fitted ||
            spots.some((lies, i) => this.isFitted(newcomer, i === 0 ? [grip] : [grip, grip], lies))) &&
          (!secured || (canBring(facts, part, grip) && this.secures(at, newcomer, { grip }))),
      );
  }

  /** Whether a part taken by these grips in turn meets those in place, were they located or not. */
  private isFitted({ part, inPlace, clamped }: Newcomer, grips: readonly Grip[], lies: Spot): boolean {
    const nothing = emptySet(this.facts.scene.parts.length);
    return [nothing, inPlace].some((located) => {
      const among = { parts: inPlace, first: clamped, located, seated: nothing };
      const fitUp = this.facts.fitUp(part, grips, lies, among);
      if (!fitUp.ok) this.misfits.set(part, lesser(fitUp.error, this.misfits.get(part)));
      return fitUp.ok;
    });
  }

  private secures({ holdings }: AtAngle, newcomer: Newcomer, by: Bringing): boolean {
    const holding = holdings.first(newcomer, by);
    if (!holding.ok && this.canBeKept(newcomer) && holdings.keeping(newcomer, by).ok) return true;
    return this.told(newcomer, holding);
  }

  /** Whether a newcomer is secured; if not, why is kept where it came nearest. */
  private told({ part, clamped }: Newcomer, secured: Result<unknown, Refusal>): boolean {
    // That it does not stand alone on the table says nothing of a part that comes to others, unless nothing else is known.
    const alone = clamped === undefined && this.falls.has(part);
    if (!secured.ok && !alone) this.falls.set(part, nearer(secured.error, this.falls.get(part)));
    return secured.ok;
  }

  /** With several arms a part may also be held on, or come beside one that is, when the two are joined. */
  private canBeKept({ part, clamped }: Newcomer): boolean {
    return (
      this.severalArms &&
      clamped !== undefined &&
      this.facts.joints.some(({ a, b }) => (a === part && b !== clamped) || (b === part && a !== clamped))
    );
  }

  private canBeTaken(
    at: AtAngle,
    newcomer: Newcomer,
    open: readonly Approach[],
    fitted: boolean,
    secured: boolean,
  ): boolean {
    const { facts } = at;
    const { part, inPlace } = newcomer;
    const refused = new Set<string>();
    for (let regrips = 0; regrips <= MOST_REGRIPS; regrips += 1)
      for (const { robot, gripper } of armsAndGrippers(facts))
        for (const way of waysOf(facts, part, inPlace, { robot, gripper: undefined }, regrips, gripper, {
          refused,
          approaches: open,
        })) {
          if (fitted && !this.isFitted(newcomer, gripsOf(way), way.chain.spot)) continue;
          if (!secured || this.secures(at, newcomer, way)) return true;
          refused.add(holdKey({ grip: way.grip, motion: way.place }));
        }
    return false;
  }
}

/** How near a refused candidate came, as a share of what was asked for. */
const share = ({ value, limit }: Refusal): number =>
  value === undefined || limit === undefined || limit === 0 ? -1 : value / limit;

/** The refusal that is less over its limit; the first of equals. */
const lesser = (found: Refusal, known: Refusal | undefined): Refusal =>
  known === undefined || share(found) < share(known) ? found : known;

/** Whether no grip and no order would change a refusal: a seam in a welding position that is not allowed. */
const whateverTheGrip = ({ nearest }: Refusal): boolean => nearest?.code === 'position-not-allowed';

/** The refusal that came nearer to its limit, before it one that no grip would change; the first of equals. */
function nearer(found: Refusal, known: Refusal | undefined): Refusal {
  if (known === undefined || known.code === 'first-part-falls') return found;
  if (whateverTheGrip(found) !== whateverTheGrip(known)) return whateverTheGrip(found) ? found : known;
  return share(found) > share(known) ? found : known;
}

import { Kept } from '../base/kept.js';
import { has, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { linearTolerance } from '../mechanics/iso-13920.js';
import { distance, length } from '../geometry/vector.js';
import { localSequence } from './local-distortion.js';
import { distortionKey } from './distortion-key.js';
import type { StageDraft } from './stage-draft.js';

/** A tolerance feature as the estimate sees it. */
interface Feature {
  /** Its two parts, by index. */
  readonly parts: readonly [number, number];
  /** The point whose shift is judged: the origin of the second part, cell frame, mm. */
  readonly at: readonly [number, number, number];
  readonly limit: number;
}

/** Estimates count whole hundredths of a millimetre. */
const HUNDREDTHS = 100;

/**
 * A cheap estimate of the distortion that a stage adds, for the search, which does not know what happened before: the
 * newcomer is the only body that moves, by its own tacks, their sides, its thickness and the stiffness of its grip, while
 * the parts in place stand where they should (local-distortion.ts). For each tolerance feature that names the newcomer
 * this gives a shift at the judged point. The limit of a feature is shared out: half to each of its parts, all to one
 * whose partner is the first part, which stands clamped. What goes beyond the share is the estimate. The shift between two
 * parts is at most the sum of their own, so that shares that are kept keep the limit, as far as the local model goes;
 * what later parts do to earlier ones is left out. It adds up over the stages and depends on nothing but the move and the
 * parts in place. It is no bound: nothing that is proved rests on it (best-order.ts).
 */
export class DistortionProxy {
  /** Whether any move so far was estimated above 0. */
  everAbove = false;
  private readonly features: readonly Feature[];
  private readonly shifts: Kept<readonly number[]>;

  constructor(private readonly facts: Facts) {
    this.features = featuresOf(facts);
    this.shifts = new Kept(facts.keeping);
  }

  /**
   * What a stage adds beyond the shares of the limits, in hundredths of a millimetre rounded up.
   *
   * @param inPlace the parts before the stage
   * @param first the part that is clamped
   */
  of(draft: StageDraft, inPlace: PartSet, first: number): number {
    if (draft.part === first || this.features.length === 0) return 0;
    const beyond = this.shiftsOf(draft, inPlace).reduce((sum, shift, i) => {
      const { parts, limit } = this.features[i]!;
      const share = parts.includes(first) ? limit : limit / 2;
      return sum + Math.max(0, shift - share);
    }, 0);
    const value = Math.ceil(beyond * HUNDREDTHS - 1e-6);
    if (value > 0) this.everAbove = true;
    return value;
  }

  /** How far the newcomer shifts at each tolerance feature, mm; 0 at those that do not name it. */
  shiftsOf(draft: StageDraft, inPlace: PartSet): readonly number[] {
    return this.shifts.get(this.keyOf(draft, inPlace), () => this.workedOut(draft, inPlace));
  }

  private workedOut(draft: StageDraft, inPlace: PartSet): readonly number[] {
    const { part, tacks } = draft;
    if (tacks.length === 0 || !this.features.some(({ parts }) => parts.includes(part)))
      return this.features.map(() => 0);
    const phase = (of: 'securing' | 'completing') => tacks.filter((tack) => tack.phase === of);
    const sequence = localSequence(
      this.facts,
      { part, inPlace, clamped: 0 },
      { securing: phase('securing'), completing: phase('completing') },
      {
        hold: draft.held ? { part, grip: draft.way.grip, motion: draft.way.place } : undefined,
        heldOn: draft.stands === 'held',
      },
    );
    const { engine } = sequence.groups
      .flat()
      .reduce((state, item) => sequence.after(state, item), sequence.start);
    return this.features.map(({ parts, at }) =>
      parts.includes(part) ? length(engine.displacement(0, at)) : 0,
    );
  }

  /** Only what touches the newcomer can stop it. */
  private keyOf(draft: StageDraft, inPlace: PartSet): string {
    const near = this.facts.scene.contacts.flatMap(({ a, b }) =>
      a === draft.part || b === draft.part ? [a, b].filter((i) => has(inPlace, i)) : [],
    );
    return `${near.join()} ${distortionKey([draft])}`;
  }
}

function featuresOf({ scene, settings }: Facts): readonly Feature[] {
  return scene.weldment.tolerances.map(({ from, to, 'iso-13920': of }): Feature => {
    const [p, q] = [scene.index.get(from)!, scene.index.get(to)!];
    const at = scene.parts[q]!.pose.at;
    const nominal = distance(scene.parts[p]!.pose.at, at);
    return { parts: [p, q], at, limit: linearTolerance(of, nominal) * settings.distortion['limit-share'] };
  });
}

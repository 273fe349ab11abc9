import { Kept } from '../base/kept.js';
import { setKey } from '../base/part-set.js';
import { fail, ok, type Result } from '../base/result.js';
import type { Facts } from '../facts/facts.js';
import type { Joint } from '../facts/joints.js';
import { siteId, tackLeg, type TackSite } from '../facts/tack-sites.js';
import { throat } from '../mechanics/tack-strength.js';
import { TACK_HABITS } from '../model/tack-habit.js';
import type { Refusal } from '../model/verdict.js';
import { pushesOn } from './newcomer-pushes.js';
import { NewcomerStatics, type Newcomer } from './securing.js';
import type { ManualDraft } from './stage-draft.js';
import { fewestTacks, seamCover } from './seam-row.js';
import { isAboutJoint, withWished, type TackAsk } from './tack-ask.js';
import { coverJoint } from './tack-covering.js';
import { gapRefusal, joinedBy, tackAt } from './tack-layout.js';
import { orderedBy } from './tack-order.js';

/** How a part stands that a person has set, and the tacks that the person lays. */
export type HandSetting = Pick<ManualDraft, 'stands' | 'tacks'>;

/**
 * Parts that a person sets: where they are tacked, and whether they stand once the person has left, among others that
 * count as fixed. A person gets to every site; who lays a seam changes nothing about where its tacks go. Answers are kept.
 */
export class ByHand {
  private readonly answers: Kept<Result<HandSetting, Refusal>>;
  private readonly statics: NewcomerStatics;

  constructor(private readonly facts: Facts) {
    this.answers = new Kept(facts.keeping);
    this.statics = new NewcomerStatics(facts);
  }

  set(newcomer: Newcomer): Result<HandSetting, Refusal> {
    const { part, inPlace, clamped, asked } = newcomer;
    const key = `${part} ${clamped ?? '-'} ${setKey(inPlace)}${asked ? ` ${asked.key}` : ''}`;
    return this.answers.get(key, () => this.decided(newcomer));
  }

  private decided(newcomer: Newcomer): Result<HandSetting, Refusal> {
    const { facts } = this;
    const { part, inPlace, clamped, asked } = newcomer;
    const sites: TackSite[] = [];
    for (const joint of joinedBy(facts, part, inPlace)) {
      const chosen = this.cover(joint, asked);
      if (!chosen.ok) return chosen;
      sites.push(...chosen.value);
    }
    const unordered = sites.map((site) => tackAt(facts, site));
    const tacks = orderedBy(facts, TACK_HABITS[0], unordered).map((tack, i) => ({
      ...tack,
      id: siteId(tack.site),
      order: i + 1,
    }));
    const fall = this.statics.fall(newcomer, tacks, [], pushesOn(facts, newcomer));
    if (fall) {
      const { load, reserve, required } = fall;
      const subjects = [facts.scene.parts[part]!.part.id, load];
      const code = clamped === undefined ? 'first-part-falls' : 'set-by-hand-falls';
      return fail({ code, subjects, value: reserve, limit: required, unit: 'reserve' });
    }
    const isClamped = clamped === undefined && facts.scene.cell.table.clamp.force > 0;
    return ok({ tacks, stands: isClamped ? 'clamped' : tacks.length > 0 ? 'tacked' : 'free-standing' });
  }

  /** The sites of a joint, every one of which a person gets to. */
  private cover(joint: Joint, asked: TackAsk | undefined): Result<readonly TackSite[], Refusal> {
    const { facts } = this;
    const leg = tackLeg(joint, facts.settings);
    const gaping = joint.seams.find(({ gap }) => throat(leg, gap) <= 0);
    if (gaping) return fail(gapRefusal(gaping, leg));
    const covers = joint.seams.map((seam) => {
      const all = facts.sites(joint, seam);
      const sites = asked ? all.filter(asked.allows) : all;
      return seamCover(
        facts,
        joint,
        seam,
        sites,
        sites.map(() => true),
      );
    });
    const wished = (asked?.wished ?? []).filter((wish) => isAboutJoint(facts, wish, joint));
    const chosen = coverJoint(covers, facts.settings.tacks.sides);
    if (chosen && wished.length === 0) return ok(chosen.flat());
    if (chosen) {
      const asWished = withWished(covers, wished);
      return asWished.ok ? ok(coverJoint(asWished.value, facts.settings.tacks.sides)!.flat()) : asWished;
    }
    const bare = covers.findIndex((cover) => fewestTacks(cover) === undefined);
    const names = [joint.a, joint.b].map((i) => facts.scene.parts[i]!.part.id);
    const subjects = [joint.seams[bare]!.id, ...names];
    return fail({
      ...{ code: 'seam-not-coverable', subjects },
      ...{ value: covers[bare]!.sites.length, unit: 'sites open' },
    });
  }
}

import { emptySet, withMember } from '../base/part-set.js';
import { orderByFile, notFirstByFile } from '../explain/why/file-facts.js';
import type { Question } from '../explain/why/question.js';
import type { Reason, Verdict } from '../explain/why/answer.js';
import { blockers } from '../facts/approaches.js';
import type { Facts } from '../facts/facts.js';
import { seenGrip } from '../facts/seen-grip.js';
import type { Refusal } from '../model/verdict.js';
import { wishesOf, type Wish } from '../model/wish.js';
import type { AbstractWeldment } from '../model/weldment.js';
import { neverStands } from '../planning/never-stands.js';
import { isGrip } from '../rules/wish-kept.js';
import type { Inputs } from './inputs.js';

/** What answers a question without planning: the files, or a fact that stands alone. `facts` only of parts with shapes. */
export function quickVerdict(
  { weldment, settings }: Inputs,
  question: Question,
  wish: Wish,
  facts: () => Facts | undefined,
): Verdict | undefined {
  const wishes = wishesOf(weldment, settings);
  const parts = weldment.parts.map(({ id }) => id);
  const byFile = fromFile(weldment, wishes, question);
  if (byFile) return { kind: 'forced', scope: 'file', reasons: byFile };
  const alone =
    weldment.kind === 'abstract'
      ? onlyGripper(weldment, question, wish)
      : 'held' in wish
        ? heldAnyhow(facts()!, wish, (part) => notFirstByFile(weldment, wishes, parts, part))
        : fromFacts(facts()!, question, wish);
  if (alone === undefined) return undefined;
  const scope = weldment.kind === 'abstract' ? 'file' : 'candidates';
  return { kind: 'forced', scope, reasons: [alone].flat() };
}

/** Of a part without shapes: that its file gives no other gripper. */
function onlyGripper({ parts }: AbstractWeldment, question: Question, wish: Wish): Refusal | undefined {
  if (question.ask !== 'grip' || !('grip' in wish)) return undefined;
  const { ways } = parts.find(({ id }) => id === question.part)!;
  if (ways.some(({ gripper }) => !isGrip(wish, { gripper }))) return undefined;
  return { code: 'only-way', subjects: [question.part, wish.gripper ?? ''] };
}

function fromFacts(facts: Facts, question: Question, wish: Wish): Refusal | undefined {
  if (question.ask === 'before') return blockedWays(facts, question.first, question.second);
  if (question.ask !== 'grip' || !('grip' in wish)) return undefined;
  const part = facts.scene.parts.findIndex(({ part: { id } }) => id === question.part);
  const usable = facts.usableGrips(part);
  const others = usable.filter((grip) => !isGrip(wish, seenGrip(grip)));
  if (others.length > 0) return undefined;
  const counts = { considered: facts.grips(part).length, usable: usable.length };
  return { code: 'only-grip', subjects: [question.part], counts };
}

function fromFile(
  weldment: Inputs['weldment'],
  wishes: readonly Wish[],
  question: Question,
): readonly Refusal[] | undefined {
  const parts = weldment.parts.map(({ id }) => id);
  if (question.ask === 'before')
    return orderByFile(weldment, wishes, parts, [question.first, question.second]);
  if (question.ask === 'not-first') return notFirstByFile(weldment, wishes, parts, question.part);
  return undefined;
}

/** A part falls where nobody holds it, among whatever parts; as the first one too, or it is never that. */
function heldAnyhow(
  facts: Facts,
  { held }: Wish & { readonly held: string },
  notFirst: (part: string) => readonly Refusal[] | undefined,
): readonly Reason[] | undefined {
  const part = facts.scene.parts.findIndex(({ part: { id } }) => id === held);
  const fall = neverStands(facts, part);
  if (fall === undefined) return undefined;
  const reserve: Reason = {
    ...{ code: 'no-securing', subjects: [held], fact: { kind: 'reserve', part: held } },
    ...{ nearest: fall.later, holds: { when: 'otherwise' } },
  };
  if (fall.first) return [reserve];
  const first = notFirst(held);
  return first && [reserve, ...first];
}

/** Every way into place of a part is barred once the other is there: so it comes before the other. */
function blockedWays(facts: Facts, first: string, second: string): Refusal | undefined {
  const { parts } = facts.scene;
  const place = (id: string): number => parts.findIndex(({ part }) => part.id === id);
  const other = withMember(emptySet(parts.length), place(second));
  const ways = facts.everyAngle.flatMap((at) => at.approaches(place(first)));
  if (
    ways.length === 0 ||
    ways.some((way) => way.fixedHit === undefined && blockers(way, other).length === 0)
  )
    return undefined;
  return { code: 'no-approach', subjects: [first, second], value: ways.length, unit: 'tried' };
}

import type { ReasonFact } from '../model/reason-fact.js';
import type { Refusal } from '../model/verdict.js';
import { amount, counted, listed } from './numbers.js';
import { plain } from './plain.js';
import { missBy, refusalText } from './refusal-text.js';
import { wishText } from './wish-text.js';

/** In which direction a part does not meet another one. */
const DIRECTIONS: Readonly<Record<string, string>> = {
  'gap-not-held': 'the gap that may be tacked',
  'place-not-held': 'its place along the contact',
  'tilt-not-held': 'the tilt that may be tacked',
  'seam-not-met': 'what the torch must meet of the seam',
};

/** A fact about the order of parts, and about what one stands on. */
function orderText(fact: ReasonFact, subjects: readonly string[], code: string): string {
  const [part = '', ...others] = subjects;
  switch (fact.kind) {
    case 'needs':
      return `${part} comes only after ${listed(others)} (\`needs\`)`;
    case 'blocking':
      return `${part} cannot come once ${listed(others)} is in place (\`blocking\`)`;
    case 'first':
      return `${part} comes first (\`first\`)`;
    case 'wish':
      return `${wishText(fact.wished!)} (wish ${fact.wish! + 1}, not soft)`;
    default:
      return code === 'contact'
        ? `${part} must touch a part in place, unless it is the first: it touches ${others.length > 0 ? listed(others, 'or') : 'none'}`
        : `${part} must be joined to a part in place or stand on one${others.length > 0 ? `, ${listed(others, 'or')}` : ''}; the first stands on the table`;
  }
}

/** A fact about how a part gets into its place. */
function wayText(fact: ReasonFact, subjects: readonly string[], counts: Refusal['counts']): string {
  const [part = '', by = '', ...others] = subjects;
  switch (fact.kind) {
    case 'approach': {
      const { ways: all = 0, blocked = 0 } = counts ?? {};
      const ways =
        all === blocked ? `every straight way (${all})` : `${blocked} of the ${counted(all, 'straight way')}`;
      return others.length > 0
        ? `${by} and ${listed(others)} leave too little room between them on ${ways} of ${part} into place`
        : `${by} is in the way on ${ways} of ${part} into place`;
    }
    case 'grips':
      return `${part} is taken only by the grips that the file gives it, of ${listed([by, ...others])} (\`grips\`)`;
    case 'rest':
      return `${part} does not lie at the infeed without tipping or rolling`;
    case 'capacity':
      return `${by} cannot take or carry ${part} by any grip that would do`;
    case 'reach':
      return `${by} does not get ${part} from the infeed into its place by any grip that would do`;
    case 'arm-room':
      return `the links of ${by} have no room beside the parts in place when it brings ${part}${others.length > 0 ? `: they meet ${listed(others)}` : ''}`;
    case 'gripper-room':
      return `${by} runs into ${listed(others)} when it brings ${part}`;
    default:
      return `the work table cannot turn before ${part} comes`;
  }
}

/** A fact about how a part meets the others and is tacked to them. */
function joiningText({ kind, about }: ReasonFact, subjects: readonly string[]): string {
  const [part = '', by = '', other = ''] = subjects;
  switch (kind) {
    case 'accuracy':
      return `${part} does not meet ${by} within ${DIRECTIONS[about ?? ''] ?? 'its limits'}, by what its errors add up to`;
    case 'torch':
      return `the torch cannot lay the tacks of ${by} that join ${part} to ${other}`;
    case 'hold':
      return `no grip that would do can hold ${part} while it is tacked`;
    default:
      return `${part} does not carry every load with its reserve, held while it is tacked or let go on its tacks`;
  }
}

/** A reason that is no fact of a set: one seen at a glance, or that none was found. */
function bareText(reason: Refusal): string {
  const [part = '', ...others] = reason.subjects.map(plain);
  switch (reason.code) {
    case 'unexplained':
      return 'no order is left; which facts rule it out was not found within the sets of parts looked at';
    case 'only-way':
      return `the file gives ${part} no gripper but ${listed(others)}`;
    case 'only-grip': {
      const { considered = 0, usable = 0 } = reason.counts ?? {};
      return `${part} has no other grip: of ${counted(considered, 'candidate')}, ${usable} can be used, and all of them are this one`;
    }
    default:
      return refusalText(reason);
  }
}

/** A reason that, with the others, rules every plan out, as a sentence. */
export function reasonText(reason: Refusal): string {
  const { code, subjects, fact, counts, value } = reason;
  const names = subjects.map(plain);
  // A number of its own is told as every refusal is: too heavy for any arm, whatever the grip.
  if (fact === undefined || value !== undefined) return bareText(reason);
  switch (fact.kind) {
    case 'needs':
    case 'blocking':
    case 'first':
    case 'wish':
    case 'contact':
      return orderText(fact, names, code);
    case 'accuracy':
    case 'torch':
    case 'hold':
    case 'reserve':
      return joiningText(fact, names);
    default:
      return wayText(fact, names, counts);
  }
}

/** The nearest miss, where it has one of its own also how near that came, and by how much it misses in its own unit. */
export function missText(miss: Refusal): string {
  const own = refusalText(miss);
  const { nearest } = miss;
  if (nearest) return `${own}; ${refusalText({ ...nearest, subjects: [] })}${excessText(nearest)}`;
  return own + excessText(miss);
}

function excessText(miss: Refusal): string {
  const by = missBy(miss);
  if (by === undefined || by === 0 || miss.unit === undefined || miss.limit === 0) return '';
  const unit = miss.unit === 'reserve' ? 'of reserve' : plain(miss.unit);
  return `, ${amount(by, by < 10 ? 3 : 1)} ${unit} off`;
}

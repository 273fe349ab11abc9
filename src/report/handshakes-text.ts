import type { GeometricPlan, HandshakeSet } from '../model/plan.js';
import type { Witness } from '../model/plan-safety.js';
import { amount, counted } from './numbers.js';
import { plain } from './plain.js';

function witnessText({ states, complete, reduction }: Witness): string {
  if (states === 0) return 'interleavings not explored';
  if (!complete) return `${counted(states, 'state')} of the programs explored without an end`;
  return reduction === 'none'
    ? `every interleaving of the programs explored in ${counted(states, 'state')}`
    : `every interleaving of what the properties depend on explored in ${counted(states, 'state')}`;
}

/** Why there are not fewer. */
function minimalityText({ minimality, afterReduction, afterResynchronisation }: HandshakeSet): string {
  switch (minimality) {
    case 'none':
      return '';
    case 'transitive':
      return ', none of them implied by the others';
    case 'two-robot-least':
      return ', and no fewer do for these steps and this makespan, wherever waits are put';
    case 'greedy':
      return afterResynchronisation < afterReduction
        ? ', merged one by one; fewer might do'
        : ', none implied by the others, and no merging found that costs no time; fewer might do';
  }
}

/** How many handshakes are left of what the work asks for. */
function countText({ handshakes, handshakeSet }: GeometricPlan): string {
  const { required, afterReduction, afterResynchronisation } = handshakeSet;
  const merged = afterReduction - afterResynchronisation;
  const left = merged > 0 ? `, ${amount(merged)} less by longer waits that cost no time` : '';
  const asked =
    required > handshakes.length
      ? ` for ${amount(required)} precedences (${amount(afterReduction)} not implied by others${left})`
      : '';
  return `${amount(handshakes.length)}${asked}${minimalityText(handshakeSet)}`;
}

/** How many handshakes there are and why, and what is proved of the programs. */
export function handshakesText(plan: GeometricPlan): string {
  const { safety } = plan;
  const proved = safety.properties.length > 0 ? `; proved: ${safety.properties.map(plain).join('; ')}` : '';
  return `${countText(plan)}; ${witnessText(safety.witness)}${proved}.`;
}

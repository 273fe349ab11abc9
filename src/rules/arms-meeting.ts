import { rounded } from '../base/order.js';
import { boundsDistance } from '../geometry/bounds.js';
import type { Finding } from '../model/finding.js';
import type { ArmStep, Replay } from './arm-replay.js';
import type { ArmsInTime } from './arms-in-time.js';
import { leastKept } from './least-kept.js';
import { deeperThan, nearerStill, nearerThan } from './nearest-approach.js';
import { breach, shown, type RuleContext } from './rule.js';

/** What must be kept between two elements: undefined where the rules on the strokes of a stage judge it. */
type Asked = 'clearance' | 'touch' | undefined;

/**
 * A part that is held in place is one of the parts in place. While a torch lays tacks at it or another part is brought to
 * it, what is at the two flanges is judged by those strokes; on a straight leg of a way both may touch.
 */
function askedBetween(a: ArmStep, elementA: number, b: ArmStep, elementB: number): Asked {
  const [pieceA, pieceB] = [a.course.loadPiece(elementA), b.course.loadPiece(elementB)];
  if ((a.holds && pieceA?.carried) || (b.holds && pieceB?.carried)) return undefined;
  if (pieceA === undefined || pieceB === undefined || !(a.holds || b.holds)) return 'clearance';
  const other = a.holds ? b : a;
  if (other.kind === 'joint') return 'clearance';
  return other.kind === 'leg' ? 'touch' : undefined;
}

interface Meeting {
  readonly names: readonly [string, string];
  readonly mm: number;
  readonly inside: boolean;
}

/** The worst meeting of two arms in two steps that may be at the same time, if nearer than `limit` mm. */
function worstMeeting(a: ArmStep, b: ArmStep, limit: number, tolerance: number): Meeting | undefined {
  if (boundsDistance(a.course.box, b.course.box) >= limit) return undefined;
  let worst: Meeting | undefined;
  a.course.movers.forEach((one, elementA) => {
    if (boundsDistance(one.box, b.course.box) >= limit) return;
    b.course.movers.forEach((other, elementB) => {
      const asked = askedBetween(a, elementA, b, elementB);
      if (asked === undefined || worst?.inside) return;
      const inside = asked === 'touch';
      const mm = inside
        ? deeperThan(one, other, tolerance)
        : nearerThan(one, other, nearerStill(limit, worst?.mm));
      if (mm !== undefined) worst = { names: [one.name, other.name], mm, inside };
    });
  });
  return worst;
}

/** Where a step of a program is, and what it is called. */
export type Places = (step: number) => { readonly where: string; readonly what: string };

/** Arms that come too near to one another: one finding for each step of the first and each other arm. */
export function meetingFindings(
  rule: string,
  context: RuleContext,
  replays: readonly Replay[],
  time: ArmsInTime,
  places: readonly Places[],
): Finding[] {
  const { clearance, 'touch-tolerance': tolerance } = context.settings.motion;
  const limit = leastKept(clearance);
  return replays.flatMap(({ steps }, i) =>
    replays.slice(i + 1).flatMap((other, k) =>
      steps.flatMap((a) => {
        let worst: { readonly b: ArmStep; readonly met: Meeting } | undefined;
        for (const b of other.steps) {
          if (worst?.met.inside || !time.mayMeet(a, b)) continue;
          const met = worstMeeting(a, b, nearerStill(limit, worst?.met.mm), tolerance);
          if (met) worst = { b, met };
        }
        if (worst === undefined) return [];
        const { names, mm, inside } = worst.met;
        const [here, there] = [places[i]!(a.first), places[i + 1 + k]!(worst.b.first)];
        const value = rounded(mm, 2);
        const how = inside
          ? `${names[0]} reaches ${shown(value)} mm into ${names[1]}`
          : `${names[0]} comes within ${shown(value)} mm of ${names[1]}; ${shown(clearance)} mm is asked for`;
        const message = `${here.what} and ${there.what} can be at the same time: ${how}`;
        return [breach(rule, here.where, message, { value, limit: inside ? tolerance : clearance })];
      }),
    ),
  );
}

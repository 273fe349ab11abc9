import { happensBefore } from '../algorithms/happens-before.js';
import { explore } from '../algorithms/interleavings.js';
import type { Finding } from '../model/finding.js';
import type { GeometricPlan } from '../model/plan.js';
import { signalFindings } from './handshake-signals.js';
import { breach, type Rule, type RuleContext } from './rule.js';
import { arcsOf, runEvents, staysOf, type Arc, type RunEvents, type Stay } from './run-events.js';

const ID = 'handshakes-safe';

/** Most states of the two programs that are explored. */
const MOST_STATES = 5_000_000;

/** The two programs as events. In every pair of positions the handling robot comes first. */
interface Run {
  readonly handler: RunEvents;
  readonly welder: RunEvents;
  readonly handlerStays: readonly Stay[];
  readonly welderStays: readonly Stay[];
  readonly arcs: readonly Arc[];
}

function runOf({ plan, cell }: RuleContext): Run | undefined {
  const stepsOf = (id: string): GeometricPlan['programs'][number]['steps'] | undefined =>
    plan.programs.find(({ robot }) => robot === id)?.steps;
  const [handling, welding] = [stepsOf(cell.handler.id), stepsOf(cell.welder.id)];
  if (handling === undefined || welding === undefined) return undefined;
  const [handler, welder] = [runEvents(handling), runEvents(welding)];
  return {
    handler,
    welder,
    handlerStays: staysOf(handling, handler),
    welderStays: staysOf(welding, welder),
    arcs: arcsOf(plan, welding, welder),
  };
}

/** Between which handler positions (events done) an arc may burn; undefined when its part is never brought. */
interface Allowed {
  readonly arc: Arc;
  readonly from: number;
  readonly to: number;
  readonly why: string;
}

function allowedFor({ plan }: RuleContext, { handlerStays }: Run, arc: Arc): Allowed | undefined {
  const { number, part, held, alsoHeld } = plan.stages[arc.stage]!;
  const inHand = held === null && alsoHeld ? alsoHeld.part : part;
  const i = handlerStays.findLastIndex((stay) => stay.stage === number && stay.part === inHand);
  const stay = handlerStays[i];
  if (stay?.letGo === undefined) return undefined;
  if (arc.tack.phase === 'securing')
    return {
      arc,
      from: stay.hold === undefined ? Infinity : stay.hold + 1,
      to: stay.letGo,
      why: `while ${inHand} is held`,
    };
  const next = handlerStays[i + 1];
  return {
    arc,
    from: stay.leave + 1,
    to: next?.enter ?? Infinity,
    why: `between the handler's leaving ${inHand} and its bringing the next part`,
  };
}

/** What two positions together break, in words. */
function invariantOf(
  run: Run,
  allowed: readonly Allowed[],
): (positions: readonly number[]) => string | undefined {
  const inside = (stays: readonly Stay[], events: number): (Stay | undefined)[] => {
    const at: (Stay | undefined)[] = new Array<undefined>(events + 1).fill(undefined);
    for (const stay of stays)
      for (let p = stay.enter + 1; p <= Math.min(stay.leave, events); p += 1) at[p] = stay;
    return at;
  };
  const handlerIn = inside(run.handlerStays, run.handler.events.length);
  const welderIn = inside(run.welderStays, run.welder.events.length);
  const burning = new Map(allowed.map((one) => [one.arc.on + 1, one]));
  return (positions) => {
    const [h, w] = [positions[0]!, positions[1]!];
    const stay = handlerIn[h];
    const holding = stay?.hold !== undefined && h > stay.hold && h <= (stay.letGo ?? Infinity);
    if (stay !== undefined && welderIn[w] !== undefined && !holding)
      return `both robots are in the work zone while ${stay.part ?? 'nothing'} is not held`;
    const arc = burning.get(w);
    if (arc !== undefined && (h < arc.from || h > arc.to))
      return `the arc of ${arc.arc.tack.phase} tack ${arc.arc.tack.id} burns other than ${arc.why}`;
    return undefined;
  };
}

/** Each arc by itself, by what happens before what in every run. */
function orderFindings(run: Run, allowed: readonly Allowed[]): Finding[] {
  const order = happensBefore([run.handler.events, run.welder.events]);
  if (!order.ok) return [];
  const { before } = order.value;
  return allowed.flatMap(({ arc, from, to, why }) => {
    const [on, off] = [arc.on, arc.off].map((event) => ({ program: 1, event }));
    const begun = Number.isFinite(from) && before({ program: 0, event: from - 1 }, on!);
    const ended = to === Infinity || before(off!, { program: 0, event: to });
    if (begun && ended) return [];
    const end = begun ? 'end' : 'begin';
    const message = `nothing makes the arc of ${arc.tack.phase} tack ${arc.tack.id} ${end} ${why}`;
    return [breach(ID, `stages[${arc.stage}].tacks`, message)];
  });
}

function judge(context: RuleContext): Finding[] {
  const signals = signalFindings(ID, context);
  const run = runOf(context);
  if (signals.length > 0 || run === undefined) return signals;
  const allowed = run.arcs.flatMap((arc) => allowedFor(context, run, arc) ?? []);
  const explored = explore([run.handler.events, run.welder.events], {
    invariant: invariantOf(run, allowed),
    limit: MOST_STATES,
  });
  const unordered = orderFindings(run, allowed);
  const { verdict, problem, states } = explored;
  if (verdict === 'ok' || (verdict === 'violated' && unordered.length > 0)) return unordered;
  const message = verdict === 'limit' ? `not proved within ${MOST_STATES} states` : `${verdict}: ${problem}`;
  return [...unordered, breach(ID, 'handshakes', message, { value: states })];
}

/**
 * Whatever the speeds of the robots: no deadlock, every signal sent and consumed once, both robots in the zone only
 * around a held part, securing arcs only while it is held, completing arcs only while the handling robot is away.
 * Since each arc ends before the let-go or the next part, no part is let go too early and none comes too early.
 */
export const handshakesSafe: Rule = {
  id: ID,
  forbids:
    'runs of the programs that block, meet in the zone, burn without a hold, or let go before the tacks are done',
  why: 'robots do not keep to a timeline; only signals and waits order them',
  judge,
};

/** What an empty judgement of this rule proves of the nominal programs. */
export const PROVED_PROPERTIES: readonly string[] = [
  'no deadlock, and every program ends',
  'every signal is sent once and consumed once',
  'both robots are in the work zone only while the handling robot holds a part still',
  'the arc of a securing tack burns only while its part is held',
  'the arc of a completing tack burns only after the let-go and before the next part comes',
  'no held part is let go before its securing tacks are laid',
];

/** How many states of the two programs the exploration visits. */
export function exploredStates(context: RuleContext): number {
  const run = runOf(context);
  if (run === undefined) return 0;
  return explore([run.handler.events, run.welder.events], { limit: MOST_STATES }).states;
}

import { happensBefore, type HappensBefore } from '../algorithms/happens-before.js';
import { explore } from '../algorithms/interleavings.js';
import { robotsOf, type Cell } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import { signalFindings } from './handshake-signals.js';
import { breach, type Rule, type RuleContext } from './rule.js';
import {
  arcsOf,
  runEvents,
  staysOf,
  turnsOf,
  type Arc,
  type RunEvents,
  type Stay,
  type TurnEvents,
} from './run-events.js';

const ID = 'handshakes-safe';

/** Most states of the programs that are explored. */
const MOST_STATES = 5_000_000;

/** An arc, and the program of the welding robot that burns it. */
interface RunArc extends Arc {
  readonly program: number;
}

/** The programs as events: those of the handling robots in the order of the cell, then those of the welding robots. */
interface Run {
  readonly programs: readonly RunEvents[];
  readonly names: readonly string[];
  readonly handlers: number;
  /** By program: stays in the work zone, and at infeed and regrip table. */
  readonly work: readonly (readonly Stay[])[];
  readonly stations: readonly (readonly Stay[])[];
  readonly arcs: readonly RunArc[];
  /** By program. */
  readonly turns: readonly (readonly TurnEvents[])[];
}

function runOf({ plan, cell }: RuleContext): Run | undefined {
  const names = robotsOf(cell).map(({ id }) => id);
  const steps = names.flatMap((name) => {
    const program = plan.programs.find(({ robot }) => robot === name);
    return program ? [program.steps] : [];
  });
  if (steps.length < names.length) return undefined;
  const programs = steps.map(runEvents);
  return {
    programs,
    names,
    handlers: cell.handlers.length,
    work: programs.map((program, i) => staysOf(steps[i]!, program, 'work')),
    stations: programs.map((program, i) => staysOf(steps[i]!, program, 'stations')),
    arcs: programs.flatMap((events, program) =>
      arcsOf(plan, steps[program]!, events).map((arc) => ({ ...arc, program })),
    ),
    turns: programs.map((program, i) => turnsOf(steps[i]!, program)),
  };
}

/** Between which positions (events done) of a handling robot an arc may burn. */
interface Window {
  readonly program: number;
  readonly from: number;
  readonly to: number;
}

/** When an arc may burn: in all of these windows at once. */
interface Allowed {
  readonly arc: RunArc;
  readonly windows: readonly Window[];
  readonly why: string;
}

/** Undefined when what shall be held is never let go, or the part never brought. */
function allowedFor({ plan }: RuleContext, run: Run, arc: RunArc): Allowed | undefined {
  const { number, part, robot, held, alsoHeld } = plan.stages[arc.stage]!;
  const holds = [
    ...(held === null && alsoHeld ? [] : [{ robot, part }]),
    ...(alsoHeld ? [{ robot: alsoHeld.robot, part: alsoHeld.part }] : []),
  ].map((hold) => ({ ...hold, program: run.names.indexOf(hold.robot) }));
  const stays = holds.flatMap((hold) => {
    const stay = run.work[hold.program]?.findLast(
      (one) => one.part === hold.part && one.stage <= number && number <= one.lastStage,
    );
    return stay?.letGo === undefined ? [] : [{ stay, program: hold.program, letGo: stay.letGo }];
  });
  if (stays.length < holds.length) return undefined;
  const names = holds.map((hold) => hold.part).join(' and ');
  if (arc.tack.phase === 'securing') {
    const windows = stays.map(({ program, stay: { hold }, letGo }) => ({
      program,
      from: hold === undefined ? Infinity : hold + 1,
      to: letGo,
    }));
    return { arc, windows, why: `while ${names} ${holds.length > 1 ? 'are' : 'is'} held` };
  }
  const why = `between the handler's leaving ${names} and its bringing the next part`;
  const own = new Map(stays.map(({ program, stay }) => [program, stay]));
  return { arc, windows: awayAfter(run, number, own), why };
}

/** Every handling robot between its stay for a stage, or its last one before, and its next in the work zone. */
const awayAfter = (
  { work, handlers }: Run,
  number: number,
  own: ReadonlyMap<number, Stay>,
): readonly Window[] =>
  work.slice(0, handlers).map((stays, program) => {
    const stay = own.get(program);
    const last = stay ? stays.indexOf(stay) : stays.findLastIndex(({ stage }) => stage <= number);
    const from = last < 0 ? 0 : stays[last]!.leave + 1;
    return { program, from, to: stays[last + 1]?.enter ?? Infinity };
  });

/** For every position of every program the stay in it. */
const staysAt = (run: Run, all: readonly (readonly Stay[])[]): (Stay | undefined)[][] =>
  all.map((stays, program) => {
    const events = run.programs[program]!.events.length;
    const at: (Stay | undefined)[] = new Array<undefined>(events + 1).fill(undefined);
    for (const stay of stays)
      for (let p = stay.enter + 1; p <= Math.min(stay.leave, events); p += 1) at[p] = stay;
    return at;
  });

const isHolding = ({ hold, letGo }: Stay, position: number): boolean =>
  hold !== undefined && position > hold && position <= (letGo ?? Infinity);

/** What positions together break, in words. */
function invariantOf(
  run: Run,
  allowed: readonly Allowed[],
): (positions: readonly number[]) => string | undefined {
  const [work, stations] = [staysAt(run, run.work), staysAt(run, run.stations)];
  const burning = run.programs.map(
    (_, welder) =>
      new Map(allowed.flatMap((one) => (one.arc.program === welder ? [[one.arc.on + 1, one] as const] : []))),
  );
  const both = run.programs.length === 2 ? 'both' : 'two';
  return (positions) => {
    let moving: Stay | undefined;
    let torches = false;
    let atStations = 0;
    for (let program = 0; program < burning.length; program += 1) {
      const position = positions[program]!;
      if (stations[program]![position] !== undefined) atStations += 1;
      const stay = work[program]![position];
      if (stay === undefined || isHolding(stay, position)) continue;
      // Welding robots, whose programs come last, may be there together.
      if (torches) continue;
      torches = program >= run.handlers;
      if (moving) return `${both} robots are in the work zone while ${moving.part ?? 'nothing'} is not held`;
      moving = stay;
    }
    if (atStations > 1) return 'two robots are at the infeed or the regrip table';
    for (let welder = run.handlers; welder < burning.length; welder += 1) {
      const arc = burning[welder]!.get(positions[welder]!);
      if (
        arc?.windows.some(({ program, from, to }) => positions[program]! < from || positions[program]! > to)
      )
        return `the arc of ${arc.arc.tack.phase} tack ${arc.arc.tack.id} burns other than ${arc.why}`;
    }
    return undefined;
  };
}

/** Before a turn of the table every robot has left the work zone of the earlier stages; it enters for later ones after it. */
const turnFindings = ({ names, work, turns }: Run, { before }: HappensBefore): Finding[] =>
  turns.flatMap((own, commander) =>
    own.flatMap(({ stage, begin, end }) =>
      work.flatMap((stays, program) => {
        const clear = stays.every((stay) => {
          const [enter, leave] = [stay.enter, stay.leave].map((event) => ({ program, event }));
          return stay.lastStage < stage
            ? Number.isFinite(stay.leave) && before(leave!, { program: commander, event: begin })
            : stay.stage >= stage && before({ program: commander, event: end }, enter!);
        });
        if (clear) return [];
        const message = `nothing keeps ${names[program]!} out of the work zone while the table turns before stage ${stage}`;
        return [breach(ID, `programs[${commander}].steps`, message)];
      }),
    ),
  );

/** Each arc by itself, by what happens before what in every run. */
function arcFindings({ before }: HappensBefore, allowed: readonly Allowed[]): Finding[] {
  return allowed.flatMap(({ arc, windows, why }) => {
    const [on, off] = [arc.on, arc.off].map((event) => ({ program: arc.program, event }));
    const begun = windows.every(
      ({ program, from }) =>
        from === 0 || (Number.isFinite(from) && before({ program, event: from - 1 }, on!)),
    );
    const ended = windows.every(({ program, to }) => to === Infinity || before(off!, { program, event: to }));
    if (begun && ended) return [];
    const end = begun ? 'end' : 'begin';
    const message = `nothing makes the arc of ${arc.tack.phase} tack ${arc.tack.id} ${end} ${why}`;
    return [breach(ID, `stages[${arc.stage}].tacks`, message)];
  });
}

const eventsOf = ({ programs }: Run): readonly RunEvents['events'][] => programs.map(({ events }) => events);

function judge(context: RuleContext): Finding[] {
  const signals = signalFindings(ID, context);
  const run = runOf(context);
  if (signals.length > 0 || run === undefined) return signals;
  const allowed = run.arcs.flatMap((arc) => allowedFor(context, run, arc) ?? []);
  const explored = explore(eventsOf(run), {
    invariant: invariantOf(run, allowed),
    limit: MOST_STATES,
  });
  const order = happensBefore(eventsOf(run));
  const arcs = order.ok ? arcFindings(order.value, allowed) : [];
  const unordered = [...arcs, ...(order.ok ? turnFindings(run, order.value) : [])];
  const { verdict, problem, states } = explored;
  if (verdict === 'ok' || (verdict === 'violated' && arcs.length > 0)) return unordered;
  const message = verdict === 'limit' ? `not proved within ${MOST_STATES} states` : `${verdict}: ${problem}`;
  return [...unordered, breach(ID, 'handshakes', message, { value: states })];
}

/**
 * Whatever the speeds of the robots: no deadlock, every signal sent and consumed once, in the work zone at most one robot
 * that does not hold a part still, or only welding robots, at the stations at most one, securing arcs only while all that
 * the stage holds is held, completing arcs only while the handling robots are away, and nobody in the work zone while the
 * table turns. Since each arc ends before the let-go or the next part, no part is let go too early and none comes too early.
 */
export const handshakesSafe: Rule = {
  id: ID,
  forbids:
    'runs of the programs that block, meet in the zone, burn without a hold, let go before the tacks are done, or turn the table with a robot at it',
  why: 'robots do not keep to a timeline; only signals and waits order them',
  judge,
};

const TOGETHER = 'both robots are in the work zone only while the handling robot holds a part still';

/** What the rule proves of one handling and one welding robot. */
const PROVED_PROPERTIES: readonly string[] = [
  'no deadlock, and every program ends',
  'every signal is sent once and consumed once',
  TOGETHER,
  'the arc of a securing tack burns only while its part is held',
  'the arc of a completing tack burns only after the let-go and before the next part comes',
  'no held part is let go before its securing tacks are laid',
];

/** What stands where several handling robots work. */
const SEVERAL_HANDLING: readonly string[] = [
  'at the infeed and the regrip table together there is at most one robot',
  'while two parts are held, the arc of a securing tack burns only while both are',
];

/** What stands for robots in the zone together where several handling robots work with one that welds. */
const SEVERAL_TOGETHER: readonly string[] = [
  'in the work zone at most one robot does anything but hold a part still',
  ...SEVERAL_HANDLING,
];

/** Where several welding robots work. */
const TORCHES_TOGETHER =
  'in the work zone at most one handling robot does anything but hold a part still, and then no welding robot is there';

/** Where the work table turns. */
const WHILE_TURNING = 'while the table turns, no robot is in the work zone, so that nothing is held there';

/** What stands for robots in the zone together. */
const together = ({ handlers, welders }: Cell): readonly string[] => {
  if (handlers.length === 1 && welders.length === 1) return [TOGETHER];
  if (welders.length === 1) return SEVERAL_TOGETHER;
  return [TORCHES_TOGETHER, ...(handlers.length > 1 ? SEVERAL_HANDLING : [])];
};

/** What an empty judgement of this rule proves of the nominal programs for a cell. */
export const provedProperties = (cell: Cell): readonly string[] => [
  ...PROVED_PROPERTIES.flatMap((property) => (property === TOGETHER ? together(cell) : [property])),
  ...(cell.table.turntable ? [WHILE_TURNING] : []),
];

/** How many states of the programs the exploration visits. */
export function exploredStates(context: RuleContext): number {
  const run = runOf(context);
  if (run === undefined) return 0;
  return explore(eventsOf(run), { limit: MOST_STATES }).states;
}

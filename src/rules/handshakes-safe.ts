import { happensBefore } from '../algorithms/happens-before.js';
import { robotsOf, type Cell } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import type { Witness } from '../model/plan-safety.js';
import { allowedArcs, arcFindings } from './arcs-allowed.js';
import { lineFindings } from './handshake-lines.js';
import { signalFindings } from './handshake-signals.js';
import { comingFindings } from './parts-in-order.js';
import { apartFindings } from './people-apart.js';
import { eventsOf, runOf, type ProgramRun } from './program-run.js';
import { breach, type Rule, type RuleContext } from './rule.js';
import { runLines, standingLines } from './run-trace.js';
import { exploreRun, witnessOf, type WitnessReport } from './run-witness.js';
import { turnFindings, zoneFindings } from './zones-apart.js';

const ID = 'handshakes-safe';

/** Robots that wait for one another for ever, with a run that leads there. */
function deadlock(run: ProgramRun, positions: readonly number[]): Finding {
  const standing = standingLines(run, positions);
  const message = `deadlock: ${standing.filter((line) => line.includes(' stuck at ')).join('; ')}`;
  return { ...breach(ID, 'handshakes', message), trace: [...runLines(run, positions), ...standing] };
}

/** How far a trace goes in each program. */
const positionsAfter = (run: ProgramRun, trace: NonNullable<WitnessReport['trace']>): number[] =>
  run.programs.map((_, program) => trace.filter((event) => event.program === program).length);

/** What the second witness finds although the first is content, or what is said of it and is not so. */
function witnessFindings(run: ProgramRun): Finding[] {
  const report = exploreRun(run);
  const { verdict, problem, trace = [], states } = report;
  if (verdict === 'ok' || verdict === 'limit')
    return statedFindings(run.plan.safety.witness, witnessOf(run, report));
  const finding = breach(ID, 'handshakes', `${verdict}: ${problem}`, { value: states });
  return [{ ...finding, trace: runLines(run, positionsAfter(run, trace)) }];
}

const WITNESS_FIELDS = ['robots', 'states', 'complete', 'reduction'] as const;

const statedFindings = (stated: Witness, found: Witness): Finding[] =>
  WITNESS_FIELDS.filter((field) => stated[field] !== found[field]).map((field) =>
    breach(
      ID,
      `safety.witness.${field}`,
      `the second witness is said to have ${field} ${stated[field]}; it has ${found[field]}`,
    ),
  );

function judge(context: RuleContext): Finding[] {
  const signals = signalFindings(ID, context);
  if (signals.length > 0) return signals;
  const run = runOf(context.plan);
  const order = happensBefore(eventsOf(run));
  if (!order.ok) return order.error.kind === 'cycle' ? [deadlock(run, order.error.positions)] : [];
  const findings = [
    ...arcFindings(ID, run, order.value, allowedArcs(run)),
    ...comingFindings(ID, run, order.value),
    ...zoneFindings(ID, run, order.value),
    ...turnFindings(ID, run, order.value),
    ...apartFindings(ID, run, order.value),
    ...lineFindings(ID, run, order.value),
  ];
  return findings.length > 0 ? findings : witnessFindings(run);
}

/**
 * Whatever the speeds of the robots: no deadlock, every signal sent and consumed once, in the work zone at most one robot
 * that does not hold a part still but for welding robots at tacks of one stage and phase, at the stations at most one,
 * securing arcs only while all that the stage holds is held, completing arcs only while the handling robots are away,
 * parts brought in the order of the stages, each when the securing tacks of those before are laid and all that they do not hold on is left,
 * nobody in the work zone while the table turns, no robot doing anything while a person is at work, and no line of a handshake used again before it is free. Since each arc
 * ends before the let-go or the next part, no part is let go too early and none comes too early.
 *
 * Two witnesses: what happens before what in every run, which is exact for each of these at any number of robots, since
 * each speaks of two stretches of two programs; and, where that is content, an exploration of the runs.
 */
export const handshakesSafe: Rule = {
  id: ID,
  forbids:
    'runs of the programs that block, meet in the zone, burn without a hold, let go before the tacks are done, turn the table with a robot at it, or move while a person is at work',
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

const ONE_STIRS = 'in the work zone at most one robot does anything but hold a part still';

/** What stands for robots in the zone together where there are more than one handling and one welding robot. */
const severalTogether = (handlers: number, welders: number): readonly string[] => [
  welders > 1 ? `${ONE_STIRS}, except welding robots at tacks of one stage and phase` : ONE_STIRS,
  ...(handlers > 1
    ? [
        'at the infeed and the regrip table together there is at most one robot',
        'while two parts are held, the arc of a securing tack burns only while both are',
        'no part comes before the securing tacks of earlier stages are laid and what they brought is held or let go',
      ]
    : []),
];

/** Where the work table turns. */
const WHILE_TURNING = 'while the table turns, no robot is in the work zone, so that nothing is held there';

/** Where a person sets a part. */
const PERSON_APART =
  'while a person sets a part, every robot has ended all of the earlier stages and begins nothing of a later one';

/** Where handshakes are four-phase. */
const LINES_FREE = 'a pair of lines is used again only after the handshake before on it is consumed';

/** What an empty judgement of this rule proves of the nominal programs for a cell; `byHand`: where a person sets any part. */
export function provedProperties(
  cell: Cell,
  kind: 'single-use' | 'four-phase' = 'single-use',
  byHand = false,
): readonly string[] {
  const robots = robotsOf(cell);
  const handlers = robots.filter(({ duty }) => duty === 'handle').length;
  return [
    ...(robots.length > 2
      ? PROVED_PROPERTIES.flatMap((property) =>
          property === TOGETHER ? severalTogether(handlers, robots.length - handlers) : [property],
        )
      : PROVED_PROPERTIES),
    ...(cell.table.turntable ? [WHILE_TURNING] : []),
    ...(byHand ? [PERSON_APART] : []),
    ...(kind === 'four-phase' ? [LINES_FREE] : []),
  ];
}

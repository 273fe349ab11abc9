import { robotsOf } from '../model/cell.js';
import { rounded } from '../base/order.js';
import { boundsDistance } from '../geometry/bounds.js';
import type { Solid } from '../geometry/solid.js';
import type { Finding } from '../model/finding.js';
import { stationSolids } from '../model/placement.js';
import type { Settings } from '../model/settings.js';
import { standing, type Mover } from './arm-course.js';
import type { ArmStep } from './arm-replay.js';
import { programsOf } from './arm-steps.js';
import { ArmsInTime } from './arms-in-time.js';
import { meetingFindings } from './arms-meeting.js';
import { leastKept } from './least-kept.js';
import { withReworks } from './rework-replay.js';
import { solidOnTable, TableInTime, type TableState } from './table-in-time.js';
import { deeperThan, nearerStill, nearerThan } from './nearest-approach.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';

const ID = 'arms-clear';

/** The column stands where it stands, beside whatever is fixed there. */
const COLUMN = 0;

/** Something that stands while arms move, in convex pieces. */
interface Obstacle {
  readonly name: string;
  readonly solid: Solid;
  readonly movers: readonly Mover[];
  /** Whether it is the work table or on it. */
  readonly turns: boolean;
  /** Index of the part that it is. */
  readonly part: number | undefined;
}

const obstacle = (name: string, solid: Solid, turns = false, part?: number): Obstacle => ({
  name,
  solid,
  movers: solid.pieces.map((piece) => standing(name, piece)),
  turns,
  part,
});

/** What stands in the cell, the work table and all parts on it as the table is. */
function obstaclesOf({ scene, cell }: RuleContext, table: TableState): readonly Obstacle[] {
  const names = ['the regrip table', ...new Array<string>(4).fill('the two-sided stand')];
  return [
    obstacle('the table', solidOnTable(cell, scene.table, table), true),
    ...scene.keepOuts.map((solid, i) => obstacle(`keep-out ${i + 1}`, solid)),
    ...stationSolids(cell).map((solid, i) => obstacle(names[i]!, solid)),
    ...scene.parts.map(({ part, solid }, i) => obstacle(part.id, solidOnTable(cell, solid, table), true, i)),
  ];
}

/** What an element of an arm comes too near to, or reaches into. */
interface Meeting {
  readonly element: string;
  readonly mm: number;
  readonly inside: boolean;
}

/** How an element fares with an obstacle, if worse than `known`: it keeps the clearance, or on a leg of a way reaches in. */
function meetingOf(
  { kind, course }: ArmStep,
  element: number,
  other: Obstacle,
  { motion }: Settings,
  known: Meeting | undefined,
): Meeting | undefined {
  const isLink = course.isLink(element);
  if (element === COLUMN && other.part === undefined) return known;
  if (known?.inside || (!isLink && kind === 'stroke')) return known;
  const mover = course.movers[element]!;
  const inside = !isLink && kind === 'leg';
  let worst = known;
  for (const piece of other.movers) {
    const mm = inside
      ? deeperThan(mover, piece, motion['touch-tolerance'])
      : nearerThan(mover, piece, nearerStill(leastKept(motion.clearance), worst?.mm));
    if (mm === undefined) continue;
    worst = { element: mover.name, mm, inside };
    if (inside) break;
  }
  return worst;
}

/** A moving arm against what stands: one finding for each obstacle. */
function stepFindings(
  context: RuleContext,
  step: ArmStep,
  others: readonly Obstacle[],
  at: { readonly where: string; readonly what: string },
): Finding[] {
  const { course } = step;
  const { clearance, 'touch-tolerance': tolerance } = context.settings.motion;
  return others.flatMap((other) => {
    if (boundsDistance(course.box, other.solid.bounds) >= clearance) return [];
    const worst = course.movers.reduce<Meeting | undefined>(
      (known, _, element) => meetingOf(step, element, other, context.settings, known),
      undefined,
    );
    if (worst === undefined) return [];
    const { element, mm, inside } = worst;
    const value = rounded(mm, 2);
    const message = inside
      ? `${at.what}: its ${element} reaches ${shown(value)} mm into ${other.name}`
      : `${at.what}: its ${element} comes within ${shown(value)} mm of ${other.name}; ${shown(clearance)} mm is asked for`;
    return [breach(ID, at.where, message, { value, limit: inside ? tolerance : clearance })];
  });
}

function judge(context: RuleContext): Finding[] {
  const { plan, cell } = context;
  const robots = robotsOf(cell);
  const programs = programsOf(plan, robots);
  if (programs === undefined) return [];
  const replays = robots.map((who, i) => withReworks(context, i, who, programs[i]!.steps));
  const time = ArmsInTime.of(
    programs.map(({ steps }) => steps),
    replays,
  );
  if (time === undefined) return [];
  const table = new TableInTime(
    plan,
    cell,
    programs.map(({ steps }) => steps),
    time,
  );
  const obstacles = new Map<TableState, readonly Obstacle[]>();
  const around = (state: TableState): readonly Obstacle[] => {
    const known = obstacles.get(state) ?? obstaclesOf(context, state);
    obstacles.set(state, known);
    return known;
  };
  const places = programs.map((program) => {
    const p = plan.programs.indexOf(program);
    return (i: number) => {
      const step = program.steps[i];
      if (step === undefined) return { where: `programs[${p}].steps`, what: `${program.robot} at home` };
      return { where: `programs[${p}].steps[${i}]`, what: `step ${step.n} of ${program.robot}` };
    };
  });
  const alone = replays.flatMap(({ steps }, robot) =>
    steps.flatMap((step) => {
      const state = table.during(step);
      const stands = step.kind === 'stand';
      if (stands && state !== 'turning') return [];
      const parts = time.inPlace(step);
      // To an arm that stands only what turns comes nearer.
      const others = around(state).filter(
        ({ turns, part }) =>
          (turns || !stands) && (part === undefined || (part !== step.own && parts.has(part))),
      );
      return stepFindings(context, step, others, places[robot]!(step.first));
    }),
  );
  return [...alone, ...meetingFindings(ID, context, replays, time, places)];
}

/**
 * Every step of every program leaves room around the arm: links keep the clearance all the time, and so does what is
 * fixed to the flange in joint moves; the strokes of a stage are judged by its own rules. Arms keep it from one another
 * wherever both can be at the same time; the steps of a rework last as long as the step that asks for it. While the work table may be turning, table and parts count as all the room of
 * their round, for arms that stand too. Judged by distances at postures and how far each point comes between them.
 */
export const armsClear: Rule = {
  id: ID,
  forbids:
    'an arm, or what it carries on its way, too near to a part in place, a table, a keep-out or another arm',
  why: 'a forearm that hits stops the work and bends what it hits, however right the pose at the end is',
  judge,
};

import type { GeometricPlan, Handshake, Step } from '../model/plan.js';
import { programColumns } from './program-columns.js';
import { reworkOf } from './rework-steps.js';
import { stepLabel } from './step-label.js';
import type { Point } from './svg.js';

interface Node {
  /** Made here, never from a name; a word that XML takes as an identifier. */
  readonly id: string;
  readonly name: string;
  readonly at: Point;
}

export interface NetPlace extends Node {
  /** Marked when the programs start. */
  readonly atStart: boolean;
  /** Marked when all have ended. */
  readonly atEnd: boolean;
}

/** The step that a transition stands for. */
export interface StepOfRobot {
  readonly robot: string;
  readonly entry: Step;
  /** What a step with rework found. */
  readonly outcome?: 'good' | 'bad';
  /** Of a step that signals or awaits. */
  readonly handshake?: Handshake | undefined;
}

export interface NetTransition extends Node {
  /** Absent for the return of a four-phase handshake. */
  readonly step?: StepOfRobot;
}

export interface NetArc {
  readonly from: string;
  readonly to: string;
}

/** A place/transition net with arcs of weight one. */
export interface ProgramNet {
  readonly places: readonly NetPlace[];
  readonly transitions: readonly NetTransition[];
  readonly arcs: readonly NetArc[];
}

/** Distances of the drawing. */
const COLUMN = 120;
const LANE = 240;
const BRANCH = 48;
const MARGIN = 80;

const xOf = (column: number): number => MARGIN + COLUMN * column;
const yOf = (robot: number): number => MARGIN + LANE * robot;

/**
 * The programs of a plan as a net. Each robot is a line: a place before its first step, which holds the one token at
 * the start, a transition for each step, a place between neighbours and one after the last. A handshake is a place from
 * the transition that signals to the one that awaits; where its kind says four-phase it is the ring idle (marked),
 * requested, acknowledged, withdrawn, back to idle. A step with rework is two transitions, good and bad, the second
 * followed by the steps of the rework. All run to the end when every last place is marked, every ring idle and nothing
 * else.
 *
 * Zones have no places: they are granted in the plan's order, which the handshakes enforce, so that the programs are
 * free of choice; a place for a zone would only be a second lock on what is locked already, and in a plan that lacks a
 * handshake it would hide the fault.
 */
export function programNet(plan: GeometricPlan): ProgramNet {
  const writer = new NetWriter(plan);
  const columns = programColumns(plan.programs);
  plan.programs.forEach((_, robot) => writer.program(robot, columns[robot]!));
  writer.handshakes();
  return writer;
}

/** The places before and after a transition. */
type Between = readonly [before: string, after: string];

type Marked = Pick<NetPlace, 'atStart' | 'atEnd'>;

/** Where a handshake is signalled and awaited; more than one of either only in a plan that is wrong. */
interface Use {
  readonly from: NetTransition[];
  readonly to: NetTransition[];
}

class NetWriter implements ProgramNet {
  readonly places: NetPlace[] = [];
  readonly transitions: NetTransition[] = [];
  readonly arcs: NetArc[] = [];
  private readonly uses = new Map<string, Use>();

  constructor(private readonly plan: GeometricPlan) {
    for (const { id } of plan.handshakes) this.uses.set(id, { from: [], to: [] });
  }

  program(robot: number, columns: readonly number[]): void {
    const { robot: name, steps } = this.plan.programs[robot]!;
    const y = yOf(robot);
    const key = `r${robot + 1}`;
    const start = xOf(columns[0] ?? 0) - COLUMN / 2;
    const empty = steps.length === 0;
    let before = this.place(`${key}-p0`, `${name} starts`, [start, y], { atStart: true, atEnd: empty });
    steps.forEach((step, i) => {
      const last = i === steps.length - 1;
      const x = xOf(columns[i + 1] ?? columns[i]! + 1) - COLUMN / 2;
      const title = last ? `${name} done` : `${name} after ${step.n}`;
      const after = this.place(`${key}-p${i + 1}`, title, [x, y], { atEnd: last });
      this.step(`${key}-t${i + 1}`, name, step, [xOf(columns[i]!), y], [before, after]);
      before = after;
    });
  }

  /** A step between two places, with the branch of its rework where it has one. */
  private step(id: string, robot: string, entry: Step, at: Point, between: Between): void {
    const rework = reworkOf(entry);
    if (rework.length === 0) {
      this.transition(id, { robot, entry }, at, between);
      return;
    }
    this.transition(id, { robot, entry, outcome: 'good' }, at, between);
    const [before, after] = between;
    const [x, y] = [at[0], at[1] + BRANCH];
    let from = this.place(`${id}-bad-p0`, `${robot} after ${entry.n}, bad`, [x + COLUMN / 2, y]);
    this.transition(`${id}-bad`, { robot, entry, outcome: 'bad' }, [x, y], [before, from]);
    rework.forEach((inner, i) => {
      const here: Point = [x + COLUMN * (i + 1), y];
      const last = i === rework.length - 1;
      const title = `${robot} after ${inner.n}`;
      const to = last ? after : this.place(`${id}-bad-p${i + 1}`, title, [here[0] + COLUMN / 2, y]);
      this.step(`${id}-bad-t${i + 1}`, robot, inner, here, [from, to]);
      from = to;
    });
  }

  handshakes(): void {
    [...this.uses].forEach(([id, { from, to }], i) => {
      const handshake = this.plan.handshakes.find((one) => one.id === id);
      const key = `h${i + 1}`;
      const name = handshake === undefined ? id : `${id}: ${handshake.meaning}`;
      const at = besideSender(from[0], to[0]);
      if (fourPhase(handshake)) this.ring(key, name, at, { from, to });
      else this.link(from, this.place(key, name, at), to);
    });
  }

  private ring(key: string, name: string, [x, y]: Point, { from, to }: Use): void {
    const gap = COLUMN / 3;
    const idle = this.place(`${key}-idle`, `${name}: idle`, [x - gap, y], { atStart: true, atEnd: true });
    const requested = this.place(`${key}-requested`, `${name}: requested`, [x, y]);
    const acknowledged = this.place(`${key}-acknowledged`, `${name}: acknowledged`, [x + gap, y]);
    const withdrawn = this.place(`${key}-withdrawn`, `${name}: request withdrawn`, [x + gap, y + gap]);
    this.link(from, requested, to);
    for (const { id } of from) this.arcs.push({ from: idle, to: id });
    for (const { id } of to) this.arcs.push({ from: id, to: acknowledged });
    this.transitions.push(
      { id: `${key}-down`, name: `${name}: withdraw the request`, at: [x + 2 * gap, y] },
      { id: `${key}-rest`, name: `${name}: withdraw the acknowledgement`, at: [x, y + gap] },
    );
    this.join([acknowledged, withdrawn], `${key}-down`);
    this.join([withdrawn, idle], `${key}-rest`);
  }

  private link(from: Use['from'], place: string, to: Use['to']): void {
    for (const { id } of from) this.arcs.push({ from: id, to: place });
    for (const { id } of to) this.arcs.push({ from: place, to: id });
  }

  private join([before, after]: Between, transition: string): void {
    this.arcs.push({ from: before, to: transition }, { from: transition, to: after });
  }

  private place(id: string, name: string, at: Point, marked: Partial<Marked> = {}): string {
    this.places.push({ id, name, at, atStart: false, atEnd: false, ...marked });
    return id;
  }

  private transition(id: string, step: StepOfRobot, at: Point, between: Between): void {
    const { robot, entry, outcome } = step;
    const found = outcome === undefined ? '' : `: ${outcome}`;
    const shaking = entry.do === 'signal' || entry.do === 'await' ? entry : undefined;
    const handshake = this.plan.handshakes.find((one) => one.id === shaking?.handshake);
    const name = `${robot}: ${stepLabel(entry)}${found}`;
    const transition = { id, name, at, step: { ...step, handshake } };
    this.transitions.push(transition);
    this.join(between, id);
    if (shaking === undefined) return;
    const use = this.uses.get(shaking.handshake) ?? { from: [], to: [] };
    this.uses.set(shaking.handshake, use);
    (shaking.do === 'signal' ? use.from : use.to).push(transition);
  }
}

const fourPhase = (handshake: Handshake | undefined): boolean =>
  handshake !== undefined && 'kind' in handshake && handshake.kind === 'four-phase';

/** A third of a lane from the sender towards the receiver, where no other sender's handshakes are. */
function besideSender(from: NetTransition | undefined, to: NetTransition | undefined): Point {
  const [x, y] = from?.at ?? to?.at ?? [0, 0];
  const down = (to?.at[1] ?? y) >= y;
  return [x, y + (down ? LANE / 3 : -LANE / 3)];
}

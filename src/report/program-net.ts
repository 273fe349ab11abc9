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
  /** Of the step in its program; in a rework that of the step that accepts, a dot, and its own there. */
  readonly number: string;
  readonly entry: Step;
  /** What a step with rework found. */
  readonly outcome?: 'good' | 'bad';
  /** Of a step that signals or awaits. */
  readonly handshake?: Handshake | undefined;
}

export interface NetTransition extends Node {
  /** Absent where the lines of a four-phase handshake return. */
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
const COLUMN = 200;
const LANE = 240;
const BRANCH = 48;
const MARGIN = 80;

const xOf = (column: number): number => MARGIN + COLUMN * column;
const yOf = (robot: number): number => MARGIN + LANE * robot;

/**
 * The programs of a plan as a net. Each robot is a line: a place before its first step, which holds the one token at
 * the start, a transition for each step, a place between neighbours and one after the last. A handshake is a place from
 * the transition that signals to the one that awaits. Four-phase handshakes have a ring for each pair of lines instead,
 * idle (marked), requested, acknowledged, released, back to idle: the steps make the first two changes, the signal
 * waiting for an idle line, and the other two happen beside the programs. A step with rework is two transitions, good
 * and bad, the second followed by the steps of the rework; a tack that is bad again is a fault, which a net of the
 * programs does not show. The programs have ended when every last place is marked, every ring idle and nothing else.
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

type Marked = Partial<Pick<NetPlace, 'atStart' | 'atEnd'>>;

/** Where a handshake is signalled and awaited; more than one of either only in a plan that is wrong. */
interface Use {
  readonly from: NetTransition[];
  readonly to: NetTransition[];
}

/** A pair of lines, on which one handshake follows another. */
interface Ring extends Use {
  /** Of the handshakes. */
  readonly names: readonly string[];
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
      const here: Point = [xOf(columns[i]!), y];
      this.step(`${key}-t${i + 1}`, { robot: name, number: `${step.n}`, entry: step }, here, [before, after]);
      before = after;
    });
  }

  /** A step between two places, with the branch of its rework where it has one. */
  private step(id: string, step: StepOfRobot, at: Point, between: Between): void {
    const { robot, number, entry } = step;
    const rework = reworkOf(entry);
    if (rework.length === 0) {
      this.transition(id, step, at, between);
      return;
    }
    this.transition(id, { ...step, outcome: 'good' }, at, between);
    const [before, after] = between;
    const [x, y] = [at[0], at[1] + BRANCH];
    let from = this.place(`${id}-bad-p0`, `${robot} after ${number}, bad`, [x + COLUMN / 2, y]);
    this.transition(`${id}-bad`, { ...step, outcome: 'bad' }, [x, y], [before, from]);
    rework.forEach((inner, i) => {
      const here: Point = [x + COLUMN * (i + 1), y];
      const own = { robot, number: `${number}.${inner.n}`, entry: inner };
      const last = i === rework.length - 1;
      const title = `${robot} after ${own.number}`;
      const to = last ? after : this.place(`${id}-bad-p${i + 1}`, title, [here[0] + COLUMN / 2, y]);
      this.step(`${id}-bad-t${i + 1}`, own, here, [from, to]);
      from = to;
    });
  }

  handshakes(): void {
    const rings = new Map<string, Ring>();
    [...this.uses].forEach(([id, use], i) => {
      const handshake = this.plan.handshakes.find((one) => one.id === id);
      const key = `h${i + 1}`;
      const line = lineOf(handshake);
      if (line === undefined) {
        const name = handshake === undefined ? id : `${id}: ${handshake.meaning}`;
        this.link(use.from, this.place(key, name, besideSender(use)), use.to);
        return;
      }
      const { names, from, to } = rings.get(line) ?? { names: [], from: [], to: [] };
      rings.set(line, { names: [...names, id], from: [...from, ...use.from], to: [...to, ...use.to] });
    });
    [...rings.values()].forEach((ring, i) => this.ring(`line${i + 1}`, ring));
  }

  private ring(key: string, { names, from, to }: Ring): void {
    const name = names.join(', ');
    const [x, y] = besideSender({ from, to });
    const gap = COLUMN / 3;
    const phase = (of: string, at: Point, marked?: Marked): string =>
      this.place(`${key}-${of}`, `${name}: ${of}`, at, marked);
    const idle = phase('idle', [x - gap, y], { atStart: true, atEnd: true });
    const requested = phase('requested', [x, y]);
    const acknowledged = phase('acknowledged', [x + gap, y]);
    const released = phase('released', [x + gap, y + gap]);
    this.link(from, requested, to);
    for (const { id } of from) this.arcs.push({ from: idle, to: id });
    for (const { id } of to) this.arcs.push({ from: id, to: acknowledged });
    this.transitions.push(
      { id: `${key}-request-off`, name: `${name}: request off`, at: [x + 2 * gap, y] },
      { id: `${key}-acknowledge-off`, name: `${name}: acknowledge off`, at: [x, y + gap] },
    );
    this.join([acknowledged, released], `${key}-request-off`);
    this.join([released, idle], `${key}-acknowledge-off`);
  }

  private link(from: Use['from'], place: string, to: Use['to']): void {
    for (const { id } of from) this.arcs.push({ from: id, to: place });
    for (const { id } of to) this.arcs.push({ from: place, to: id });
  }

  private join([before, after]: Between, transition: string): void {
    this.arcs.push({ from: before, to: transition }, { from: transition, to: after });
  }

  private place(id: string, name: string, at: Point, marked: Marked = {}): string {
    this.places.push({ id, name, at, atStart: false, atEnd: false, ...marked });
    return id;
  }

  private transition(id: string, step: StepOfRobot, at: Point, between: Between): void {
    const { robot, number, entry, outcome } = step;
    const found = outcome === undefined ? '' : `: ${outcome}`;
    const shaking = entry.do === 'signal' || entry.do === 'await' ? entry : undefined;
    const handshake = this.plan.handshakes.find((one) => one.id === shaking?.handshake);
    const name = `${robot}: ${number} ${stepLabel(entry)}${found}`;
    const transition = { id, name, at, step: { ...step, handshake } };
    this.transitions.push(transition);
    this.join(between, id);
    if (shaking === undefined) return;
    const use = this.uses.get(shaking.handshake) ?? { from: [], to: [] };
    this.uses.set(shaking.handshake, use);
    (shaking.do === 'signal' ? use.from : use.to).push(transition);
  }
}

/** The pair of lines of a four-phase handshake, of its own where it names none; undefined for any other kind. */
function lineOf(handshake: Handshake | undefined): string | undefined {
  if (handshake === undefined || !('kind' in handshake) || handshake.kind !== 'four-phase') return undefined;
  const line = 'line' in handshake ? handshake.line : undefined;
  return JSON.stringify([handshake.from.robot, handshake.to.robot, line ?? handshake.id]);
}

/** A third of a lane from the sender towards the receiver, where no other sender's handshakes are. */
function besideSender({ from, to }: Use): Point {
  const [sender, receiver] = [from[0]?.at, to[0]?.at];
  const [x, y] = sender ?? receiver ?? [0, 0];
  const down = (receiver?.[1] ?? y) >= y;
  return [x, y + (down ? LANE / 3 : -LANE / 3)];
}

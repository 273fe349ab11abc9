import type { EventRef } from '../algorithms/concurrent-program.js';
import { slug } from '../base/identifier.js';
import type { StepDraft } from './steps.js';
import type { StageSteps } from './stage-steps.js';

/** A precedence between two robots that the work itself requires: `from` must end before `to` starts. */
export interface Precedence {
  readonly from: ProgramPoint;
  readonly to: ProgramPoint;
  /** Part and state as an identifier; several precedences may have the same. */
  readonly name: string;
  readonly meaning: string;
  readonly guards: string;
  /** Names of the precedences that it stands for, where several were merged. */
  readonly carries?: readonly string[];
}

/** What a handshake says, and what could happen without it. */
export type Words = Pick<Precedence, 'name' | 'meaning' | 'guards'>;

export interface ProgramPoint {
  /** Place in the list of programs. */
  readonly robot: number;
  /** Index of a step in that robot's program without signals. */
  readonly index: number;
}

/** Steps of a handling robot, first to last, in which infeed and regrip table are its own, and the part that it fetches. */
export interface StationStay {
  readonly robot: number;
  readonly first: number;
  readonly last: number;
  readonly part: string;
}

/** How many robots of each duty a cell has. */
export interface RobotCounts {
  readonly handlers: number;
  readonly welders: number;
}

/** All robots' steps in order, without signals, and what must be signalled. The welding robots come last. */
export interface RawPrograms {
  readonly robots: RobotCounts;
  readonly programs: readonly (readonly StepDraft[])[];
  readonly precedences: readonly Precedence[];
  /** Where several robots fetch; in the order of the stages. */
  readonly stays: readonly StationStay[];
}

/** The place of a step as the algorithms on programs call it. */
export const eventAt = ({ robot, index }: ProgramPoint): EventRef => ({ program: robot, event: index });

/** How long each step of each program takes, milliseconds. */
export const durationsOf = (programs: RawPrograms['programs']): number[][] =>
  programs.map((steps) => steps.map(({ milliseconds }) => milliseconds));

/** A stage in which a person sets a part, with the step in which that is. */
export interface StrungByHand {
  readonly part: string;
  readonly manual: StepDraft;
}

/** A stage as it is strung: who brings which part, what else is held, and the steps. */
export interface StrungStage {
  readonly part: string;
  /** Which handling robot brings the part. */
  readonly robot: number;
  /** Whether it is held on after this stage. */
  readonly heldOn: boolean;
  /** The earlier part that is held as well, by whom, and whether since it was brought. */
  readonly other: { readonly part: string; readonly robot: number; readonly kept: boolean } | undefined;
  /** The turn of the work table before the part comes, by which robot's program, and to which index angle. */
  readonly turn?: { readonly commander: number; readonly to: number; readonly step: StepDraft } | undefined;
  readonly steps: StageSteps;
}

const HELD = 'held and still';

const nameOf = (part: string, state: string): string => `${slug(part, 'part')}-${state}`;

/** The name of a part that is held or let go. */
const handledName = ({ part, state }: { readonly part: string; readonly state: string }): string =>
  nameOf(part, state === HELD ? 'held' : 'away');

/** Where a robot's step ends, and the part that it was about. */
interface Mark {
  readonly at: ProgramPoint;
  readonly part: string;
}

/**
 * Strings the stages together. Required precedences, per stage: what is held is still before the next part comes and
 * before any torch lays securing tacks; all of these are laid and every torch is away before it is let go, first the
 * earlier part; the handling robots are out of the work zone before the completing tacks; all tacks are laid and every
 * torch is away before the next part comes. What torches do meanwhile has no order, nor has who fetches first. The work
 * table turns when the robots are out of the work zone, and is still before the next part comes. What a person who sets
 * a part asks of the robots is added later (barriers.ts), and says all that earlier stages ask of later ones.
 */
export function stringPrograms(
  robots: RobotCounts,
  stages: readonly (StrungStage | StrungByHand)[],
): RawPrograms {
  const stringer = new Stringer(robots);
  for (const stage of stages)
    if ('manual' in stage) stringer.addByHand(stage);
    else stringer.add(stage);
  return stringer;
}

class Stringer implements RawPrograms {
  readonly programs: StepDraft[][];
  readonly precedences: Precedence[] = [];
  readonly stays: StationStay[] = [];
  /** By welding robot that has laid any tacks: its last ones. */
  private readonly tacked = new Map<number, Mark>();
  /** The handling robot that left the work zone last, or that keeps still in it. */
  private handled: (Mark & { readonly state: string }) | undefined;

  constructor(readonly robots: RobotCounts) {
    this.programs = Array.from({ length: robots.handlers + robots.welders }, () => []);
  }

  add(stage: StrungStage): void {
    this.fetch(stage);
    this.turn(stage);
    this.bring(stage);
    this.secure(stage);
    this.letGo(stage);
    this.complete(stage);
  }

  addByHand({ manual }: StrungByHand): void {
    this.programs[0]!.push(this.atRest(0, manual));
    this.handled = undefined;
    this.tacked.clear();
  }

  /** A step of a robot at home, which keeps on its flange what it came home with. */
  private atRest(robot: number, step: StepDraft): StepDraft {
    const { body } = (this.programs[robot]!.at(-1) ?? step).room;
    return { ...step, room: { ...step.room, body } };
  }

  private end(robot: number): ProgramPoint {
    return { robot, index: this.programs[robot]!.length - 1 };
  }

  private next(robot: number): ProgramPoint {
    return { robot, index: this.programs[robot]!.length };
  }

  /** Program order already says what comes first in one robot. */
  private require(from: ProgramPoint, to: ProgramPoint, name: string, meaning: string, guards: string): void {
    if (from.robot !== to.robot) this.precedences.push({ from, to, name, meaning, guards });
  }

  private fetch({ part, robot, steps }: StrungStage): void {
    const enter = steps.fetch.findIndex(({ step }) => step.do === 'enter');
    const before = this.programs[robot]!.length;
    this.programs[robot]!.push(...steps.fetch);
    if (enter >= 0) this.stays.push({ robot, first: before + enter, last: this.end(robot).index, part });
  }

  private turn({ part, robot, turn }: StrungStage): void {
    if (turn === undefined) return;
    const { commander, to, step } = turn;
    const turned = this.next(commander);
    this.afterTorches(turned, 'the table would turn while the torch is at the weldment');
    if (this.handled)
      this.require(
        this.handled.at,
        turned,
        handledName(this.handled),
        `${this.handled.part} ${this.handled.state}`,
        'the table would turn while a handling robot is at the weldment',
      );
    this.programs[commander]!.push(this.atRest(commander, step));
    this.require(
      turned,
      this.next(robot),
      nameOf(part, 'table-still'),
      `table at ${to} degrees and still`,
      `${part} would be brought to a table that turns`,
    );
  }

  private bring({ part, robot, steps }: StrungStage): void {
    this.afterTorches(this.next(robot), `${part} would be brought while the torch is at the weldment`);
    if (this.handled)
      this.require(
        this.handled.at,
        this.next(robot),
        handledName(this.handled),
        `${this.handled.part} ${this.handled.state}`,
        `${part} would be brought while another handling robot moves in the work zone`,
      );
    this.programs[robot]!.push(...steps.place);
  }

  /** Every torch is away, with its last tacks laid, before a step. */
  private afterTorches(to: ProgramPoint, guards: string): void {
    for (const { at, part } of this.tacked.values())
      this.require(
        at,
        to,
        nameOf(part, 'all-tacked'),
        `all tacks of ${part} laid, torch out of the work zone`,
        guards,
      );
  }

  /** Adds what each welding robot does in a phase of a stage, after a step of another. */
  private weld(
    part: string,
    byRobot: StageSteps['securing'],
    after: ProgramPoint,
    { name, meaning, guards }: Words,
  ): void {
    byRobot.forEach((steps, i) => {
      if (steps.length === 0) return;
      const welder = this.robots.handlers + i;
      this.require(after, this.next(welder), name, meaning, guards);
      this.programs[welder]!.push(...steps);
      this.tacked.set(welder, { at: this.end(welder), part });
    });
  }

  private secure({ part, robot, other, steps }: StrungStage): void {
    const taken = other !== undefined && !other.kept;
    if (taken) this.programs[robot]!.push(...steps.letGo, ...steps.takeOther);
    const held = taken ? other.part : part;
    const guards = taken
      ? `the arc would start on ${part} before ${held} is held`
      : `the arc would start on ${part} before it is in place`;
    const words = { name: nameOf(held, 'held'), meaning: `${held} ${HELD}`, guards };
    this.weld(part, steps.securing, this.end(robot), words);
  }

  private letGo({ part, robot, heldOn, other, steps }: StrungStage): void {
    if (heldOn) {
      this.handled = { at: this.end(robot), part, state: HELD };
      return;
    }
    const away = 'let go, handling robot out of the work zone';
    if (other) {
      this.afterTacks(part, other.part, other.robot, steps);
      this.programs[other.robot]!.push(...steps.letGoOther);
      this.handled = { at: this.end(other.robot), part: other.part, state: away };
      if (!other.kept) return;
      this.require(
        this.handled.at,
        this.next(robot),
        nameOf(other.part, 'away'),
        `${other.part} ${away}`,
        `two handling robots would move in the work zone at ${part}`,
      );
    } else this.afterTacks(part, part, robot, steps);
    this.programs[robot]!.push(...steps.letGo);
    this.handled = { at: this.end(robot), part, state: away };
  }

  private afterTacks(part: string, held: string, robot: number, { securing }: StageSteps): void {
    securing.forEach((own, i) => {
      if (own.length === 0) return;
      this.require(
        this.end(this.robots.handlers + i),
        this.next(robot),
        nameOf(part, 'secured'),
        `securing tacks of ${part} laid, torch out of the work zone`,
        `${held} would be let go before it is secured`,
      );
    });
  }

  private complete({ part, steps }: StrungStage): void {
    if (!this.handled) return;
    const { at, part: held, state } = this.handled;
    this.weld(part, steps.completing, at, {
      name: handledName(this.handled),
      meaning: `${held} ${state}`,
      guards: `torch and gripper would meet at ${held}`,
    });
  }
}

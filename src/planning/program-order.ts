import type { Precedence, ProgramPoint } from './programs.js';
import type { StepDraft } from './steps.js';

/** What the programs and some precedences say of which steps are surely over before which. */
export class ProgramOrder {
  /** By robot and step: of every robot the number of steps that are surely over when the step starts. */
  private readonly starts: readonly (readonly number[])[][];
  private readonly sources = new Map<string, ProgramPoint[]>();

  /** Expects precedences without a cycle; throws an Error otherwise. */
  constructor(
    private readonly programs: readonly (readonly StepDraft[])[],
    precedences: readonly Precedence[],
  ) {
    this.starts = programs.map(() => []);
    for (const { from, to } of precedences) {
      const key = `${to.robot} ${to.index}`;
      this.sources.set(key, [...(this.sources.get(key) ?? []), from]);
    }
    while (programs.map((_, robot) => this.runOn(robot)).includes(true));
    if (programs.some((steps, robot) => this.starts[robot]!.length < steps.length))
      throw new Error('the robots would wait for each other');
  }

  /** How many steps of another robot are surely over when a step starts; for a step after the last, when all is done. */
  overBefore({ robot, index }: ProgramPoint, other: number): number {
    const own = this.starts[robot]!;
    if (index < own.length) return own[index]![other]!;
    return own.length === 0 ? 0 : own[own.length - 1]![other]!;
  }

  /** The first step of another robot that surely starts only after a step is over; the number of its steps for none. */
  firstAfter({ robot, index }: ProgramPoint, other: number): number {
    const found = this.starts[other]!.findIndex((clock) => clock[robot]! > index);
    return found < 0 ? this.programs[other]!.length : found;
  }

  /** Goes on with one robot until it is done or waits for a step that is not over; whether it did anything. */
  private runOn(robot: number): boolean {
    const own = this.starts[robot]!;
    const begin = own.length;
    while (own.length < this.programs[robot]!.length) {
      const clock = this.clockOf(robot, own.length);
      if (clock === undefined) break;
      own.push(clock);
    }
    return own.length > begin;
  }

  private clockOf(robot: number, index: number): readonly number[] | undefined {
    const known = index > 0 ? [this.endOf({ robot, index: index - 1 })!] : [];
    for (const from of this.sources.get(`${robot} ${index}`) ?? []) {
      const end = this.endOf(from);
      if (end === undefined) return undefined;
      known.push(end);
    }
    return this.programs.map((_, other) => Math.max(0, ...known.map((clock) => clock[other]!)));
  }

  /** What is surely over when a step is; undefined while that is not known. */
  private endOf({ robot, index }: ProgramPoint): readonly number[] | undefined {
    const clock = this.starts[robot]![index];
    return clock?.map((count, other) => (other === robot ? index + 1 : count));
  }
}

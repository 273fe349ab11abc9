import type { Facts } from '../facts/facts.js';
import { ArmsInTime, type Steps } from '../rules/arms-in-time.js';
import { coursesApart, STRETCHES, TORCH_STRETCHES, type ArmCourse } from './arms-apart.js';
import type { RawPrograms } from './programs.js';
import type { Schedule } from './schedule.js';
import type { TimedStep } from './bare-step.js';
import { inWorkZone } from './in-work-zone.js';
import type { StageTack } from './stage-draft.js';
import type { StepDraft } from './steps.js';

/** A step of a finished program, with the room that its arm takes. */
interface Placed {
  readonly step: TimedStep;
  readonly course: ArmCourse;
  readonly inWork: boolean;
}

/**
 * The room that the other robots leave to a rework, whenever it comes: a finished program has a step at which it may
 * begin, and what another robot may do while that step lasts is known by the signals.
 */
export class ReworkRoom {
  /** Of the reworks that there are: two torches may run one each at the same time. */
  private readonly taken: { readonly accept: Steps; readonly course: ArmCourse }[] = [];
  private readonly programs: readonly (readonly Placed[])[];
  private readonly time: ArmsInTime | undefined;

  /** Of the programs with signals and waits, and of the steps of each without them. */
  constructor(
    private readonly facts: Facts,
    programs: Schedule['programs'],
    drafts: RawPrograms['programs'],
  ) {
    this.programs = programs.map((steps, robot) => placed(steps, drafts[robot]!));
    const nothingBrought = programs.map(() => ({ steps: [], brought: [] }));
    this.time = ArmsInTime.of(programs, nothingBrought);
  }

  /**
   * Takes the room for the steps that lay a tack anew, if they keep clear of every other robot, wherever it may be
   * meanwhile, in a rework of its own too; whether they do.
   */
  take({ id }: StageTack, steps: readonly StepDraft[]): boolean {
    const robot = this.programs.findIndex((own) => own.some(({ step }) => isAccept(step, id)));
    const own = this.programs[robot];
    if (own === undefined || this.time === undefined) return false;
    const at = own.findIndex(({ step }) => isAccept(step, id));
    const accept: Steps = { robot, first: at, last: at };
    const course: ArmCourse = { body: steps[0]!.room.body, way: steps.flatMap(({ room }) => room.way) };
    const isClear = this.isClearOfPrograms(accept, course) && this.isClearOfReworks(accept, course);
    if (isClear) this.taken.push({ accept, course });
    return isClear;
  }

  private isClearOfReworks(accept: Steps, course: ArmCourse): boolean {
    const { clearance } = this.facts.settings.motion;
    return this.taken.every(
      (other) =>
        !this.time!.mayMeet(accept, other.accept) ||
        coursesApart(course, other.course, clearance, TORCH_STRETCHES),
    );
  }

  private isClearOfPrograms(accept: Steps, course: ArmCourse): boolean {
    const { stage } = this.programs[accept.robot]![accept.first]!.step;
    const { handlers } = this.facts.scene.cell;
    const { clearance } = this.facts.settings.motion;
    return this.programs.every(
      (other, r) =>
        r === accept.robot ||
        other.every(({ step, course: there, inWork }, i) => {
          // A handling robot in the work zone in that stage holds, and was looked at when the way was chosen.
          if (r < handlers.length && inWork && step.stage === stage) return true;
          if (!this.time!.mayMeet(accept, { robot: r, first: i, last: i })) return true;
          return coursesApart(course, there, clearance, r < handlers.length ? STRETCHES : TORCH_STRETCHES);
        }),
    );
  }
}

const isAccept = (step: TimedStep, tack: string): boolean => step.do === 'accept' && step.tack === tack;

/** The steps of a program with their rooms; who signals or waits stands where its next step begins. */
function placed(steps: readonly TimedStep[], drafts: readonly StepDraft[]): readonly Placed[] {
  let next = 0;
  const zone = inWorkZone(steps);
  return steps.map((step, i) => {
    const inWork = zone[i]!.before || zone[i]!.after;
    const { room } = drafts[Math.min(next, drafts.length - 1)]!;
    if (step.do !== 'signal' && step.do !== 'await') {
      next += 1;
      return { step, course: room, inWork };
    }
    const way = next < drafts.length ? room.way[0]! : room.way.at(-1)!;
    return { step, course: { body: room.body, way: [way] }, inWork };
  });
}

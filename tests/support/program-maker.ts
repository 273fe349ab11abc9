import { slug } from '../../src/base/identifier.js';
import { multiply, turnAbout } from '../../src/geometry/pose.js';
import { profileTime } from '../../src/kinematics/travel.js';
import type { Cell } from '../../src/model/cell.js';
import type { GeometricPlan, Handshake, PlanTack, Stage } from '../../src/model/plan.js';
import { DEGREE, jointsFor, needed, UP } from './stage-maker.js';
import { programsOf, StepWriter, type Six } from './step-writer.js';

/** Strings stages together to two programs with their handshakes. */
export class ProgramMaker {
  constructor(private readonly cell: Cell) {}

  private standJoints(id: string): Six {
    const { grippers } = this.cell;
    const handler = this.cell.handlers[0]!;
    const { stand } = grippers.find((gripper) => gripper.id === id)!;
    for (let yaw = 0; yaw < 360; yaw += 90) {
      const turn = multiply(turnAbout(UP, yaw * DEGREE), turnAbout([1, 0, 0], Math.PI));
      const found = jointsFor(handler, { at: stand, turn }, []);
      if (found) return found[0]!;
    }
    return needed<Six>(undefined, `the stand of ${id}`);
  }

  programs(stages: readonly Stage[]): Pick<GeometricPlan, 'programs' | 'frames' | 'handshakes'> {
    const { cell } = this;
    const handler = new StepWriter(cell.handlers[0]!, cell);
    const welder = new StepWriter(cell.welders[0]!, cell);
    let mounted = stages[0]!.handling[0]!.grip.gripper;
    let pending: string | undefined;
    let angle = stages[0]!.turn ?? 0;
    for (const stage of stages) {
      handler.stage = welder.stage = stage.number;
      const { part } = stage;
      if ((stage.turn ?? 0) !== angle)
        pending = this.turning(stage, angle, pending === undefined ? handler : undefined, welder);
      angle = stage.turn ?? 0;
      for (const { grip, take, put } of stage.handling) {
        if (grip.gripper !== mounted) {
          handler.joint(this.standJoints(grip.gripper), 'tool stand');
          const change = { do: 'change-gripper', to: grip.gripper, stage: stage.number } as const;
          handler.add(change, cell.times.toolChange).home();
          mounted = grip.gripper;
        }
        handler.in(take.from).joint(take.approach, 'above the part');
        if (take.from === 'infeed')
          handler.add({ do: 'part-present', part, stage: stage.number }, cell.times.partPresent);
        handler.straight(take.joints, 'part');
        handler.add({ do: 'grip', part, gripper: grip.gripper, stage: stage.number }, cell.times.grip);
        handler.straight(take.lifted, 'lifted').home();
        if (put.to === 'regrip') {
          handler
            .in('regrip')
            .joint(put.approach, 'above the regrip table')
            .straight(put.joints, 'regrip table');
          handler.add({ do: 'set-down', part, stage: stage.number }, cell.times.release);
          handler.straight(put.retreat, 'clear of the part').home();
        }
      }
      pending = this.placing(stage, handler, welder, pending);
    }
    if (pending !== undefined) handler.handshake('await', pending);
    handler.stage = 0;
    handler.add({ do: 'hand-over', stage: 0 }, cell.times.handOver);
    const { programs, frames } = programsOf(cell, stages, [handler, welder]);
    return { programs, frames, handshakes: this.handshakes(programs) };
  }

  /**
   * The welding robot, which is done with the stage before, turns the table once the handling robot is away; gives the
   * handshake that the part must wait for. What the handling robot waited for is told by the turn too.
   */
  private turning(
    { number, part, turn = 0 }: Stage,
    from: number,
    handler: StepWriter | undefined,
    welder: StepWriter,
  ): string {
    if (handler) {
      handler.handshake('signal', `away before ${part}`);
      welder.handshake('await', `away before ${part}`);
    }
    if (!handler) welder.steps.pop();
    const { speed, acceleration, settle } = this.cell.table.turntable!;
    const way = Math.abs(turn - from);
    const seconds = profileTime(Math.min(way, 360 - way), speed, acceleration) + settle;
    welder.add({ do: 'turn', to: turn, stage: number }, seconds).handshake('signal', `turned for ${part}`);
    return `turned for ${part}`;
  }

  /** Brings, holds, tacks and leaves; gives the handshake that the next part must wait for. */
  private placing(
    stage: Stage,
    handler: StepWriter,
    welder: StepWriter,
    pending: string | undefined,
  ): string | undefined {
    const { cell } = this;
    const { part, number } = stage;
    const { put } = stage.handling.at(-1)!;
    const groups = (['securing', 'completing'] as const).map((phase) =>
      stage.tacks.filter((tack) => tack.phase === phase),
    );
    const weld = (tacks: readonly PlanTack[], after: string, then: string | undefined): void => {
      if (welder.steps.every((step) => step.do !== 'earth-check'))
        welder.add({ do: 'earth-check', stage: stage.number }, cell.times.earthCheck);
      welder.handshake('await', after).zone('enter').tacks(tacks, stage.rework).zone('leave');
      if (then !== undefined) welder.handshake('signal', then);
    };
    if (pending !== undefined) handler.handshake('await', pending);
    handler.zone('enter').joint(put.approach, 'before its place').straight(put.joints, 'its place');
    if (number === 1)
      handler.add({ do: 'clamp', part, clamp: cell.table.clamp.name, stage: 1 }, cell.times.clamp);
    if (stage.held !== null) {
      handler.add({ do: 'hold', part, stage: number }, cell.times.settle);
      handler.handshake('signal', `held ${part}`).handshake('await', `secured ${part}`);
      weld(groups[0]!, `held ${part}`, `secured ${part}`);
      if (stage.proofPull !== null)
        handler.add({ do: 'proof-pull', part, force: stage.proofPull, stage: number }, cell.times.proofPull);
    }
    handler.add({ do: 'let-go', part, stage: number }, cell.times.release);
    handler.straight(put.retreat, 'clear of the part').home().zone('leave');
    if (groups[1]!.length === 0) return undefined;
    handler.handshake('signal', `away from ${part}`);
    weld(groups[1]!, `away from ${part}`, `done ${part}`);
    return `done ${part}`;
  }

  private handshakes(programs: GeometricPlan['programs']): Handshake[] {
    const find = (what: 'signal' | 'await', id: string): Handshake['from'] => {
      for (const { robot, steps } of programs)
        for (const step of steps)
          if (step.do === what && step.handshake === id) return { robot, step: step.n };
      return needed<Handshake['from']>(undefined, `${what} of ${id}`);
    };
    const waitingAt = ({ robot, step }: Handshake['to']): Handshake['waiting'] => {
      const { duty, steps } = programs.find((program) => program.robot === robot)!;
      if (duty === 'weld') return 'torch-away';
      const last = steps.findLast(({ n, do: what }) => n < step && ['grip', 'hold', 'let-go'].includes(what));
      return last?.do === 'hold' ? 'holding' : last?.do === 'grip' ? 'carrying' : 'empty';
    };
    const ids = programs.flatMap(({ steps }) =>
      steps.flatMap((step) => (step.do === 'signal' ? [step.handshake] : [])),
    );
    return ids.map((id) => ({
      ...{ id, from: find('signal', id), to: find('await', id), meaning: id, guards: 'order' },
      ...{ timeLimit: 60, reaction: 'keep holding' },
      ...{ name: slug(id, 'handshake'), kind: 'single-use' as const, waiting: waitingAt(find('await', id)) },
    }));
  }
}

import { robotsOf } from '../model/cell.js';
import type { FaultEnd } from '../model/plan-safety.js';
import type { Stage, Step } from '../model/plan.js';
import { custodiesOf, type Custodies, type Custody, type Release } from './part-custody.js';
import type { RuleContext } from './rule.js';
import type { RunEvents } from './run-events.js';

/** How a part ends up, without its name; or why that is not safe. */
export type Ending = Omit<FaultEnd, 'parts'> | { readonly wrong: string };

/** A state to be judged: how many events of each program are done, whether there is power, and a tack that is bad. */
export interface StoppedState {
  readonly positions: readonly number[];
  readonly powered: boolean;
  readonly bad?: string | undefined;
}

/** Where a tack is laid, as soon as so many events of a program are done. */
interface Laid {
  readonly program: number;
  readonly from: number;
}

/** A release with what must be laid before the part stands by itself. */
interface Standing extends Release {
  readonly program: number;
  readonly needs: readonly string[];
  readonly stage: number;
}

const STATION: Ending = { state: 'station' };
const WITH_PERSON: Ending = { state: 'with-person' };

/** When a person sets a part: events done of a program from which on it is at it, and from which on it is done. */
interface ByHand {
  readonly program: number;
  readonly from: number;
  readonly done: number;
}

/** Says of each part, in any state of the programs, whether it is at a station, held, standing or may fall. */
export class PartEnds {
  readonly parts: readonly string[];
  private readonly custodies: readonly Custodies[];
  private readonly standings: ReadonlyMap<string, readonly Standing[]>;
  private readonly laid = new Map<string, Laid>();
  private readonly byHand = new Map<string, ByHand>();
  private readonly stages: ReadonlyMap<string, Stage>;
  private readonly made = new Map<string, Ending>();

  constructor(
    private readonly context: RuleContext,
    programs: readonly (readonly Step[])[],
    runs: readonly RunEvents[],
  ) {
    const { plan } = context;
    this.parts = plan.stages.map(({ part }) => part);
    this.stages = new Map(plan.stages.map((stage) => [stage.part, stage]));
    this.custodies = programs.map((steps, i) => custodiesOf(context, steps, runs[i]!));
    programs.forEach((steps, program) =>
      steps.forEach((step, i) => {
        const [first, last] = [runs[program]!.first[i]!, runs[program]!.last[i]!];
        if (step.do === 'tack') this.laid.set(step.tack, { program, from: last + 1 });
        if (step.do === 'manual') this.byHand.set(step.part, { program, from: first + 1, done: last + 1 });
      }),
    );
    const standings = new Map<string, Standing[]>();
    this.custodies.forEach(({ releases }, program) => {
      for (const release of releases) {
        const own = standings.get(release.part) ?? [];
        standings.set(release.part, [...own, { ...release, program, needs: this.needsOf(release) }]);
      }
    });
    this.standings = standings;
  }

  of(part: string, state: StoppedState): Ending {
    for (const [program, { at }] of this.custodies.entries()) {
      const custody = at[state.positions[program]!];
      if (custody?.part === part) return state.powered ? this.held(custody) : this.withoutPower(custody);
    }
    const released = (this.standings.get(part) ?? []).filter(
      ({ program, from }) => state.positions[program]! >= from,
    );
    if (released.length > 0) return this.standing(part, released, state);
    const byHand = this.byHand.get(part);
    return byHand ? this.setByHand(part, byHand, state.positions[byHand.program]!) : STATION;
  }

  private setByHand(part: string, { from, done }: ByHand, position: number): Ending {
    if (position < from) return STATION;
    return position < done ? WITH_PERSON : this.standingAs(this.stages.get(part)?.stands ?? 'free-standing');
  }

  private standingAs(stands: Stage['stands']): Ending {
    const how = stands === 'held' ? 'tacked' : stands;
    return this.kept(`standing ${how}`, () => ({ state: 'standing', stands: how }));
  }

  private held({ gripper }: Custody): Ending {
    return this.kept(`held ${gripper.id}`, () => ({ state: 'held', gripper: gripper.id }));
  }

  /** Securing tacks by which a part stands once it is let go: of its stage, and of that in which one held on is let go. */
  private needsOf({ part, stage }: Release): readonly string[] {
    const own = this.stages.get(part);
    if (own === undefined || own.stands === 'clamped' || own.stands === 'free-standing') return [];
    return this.context.plan.stages
      .filter(({ number }) => number === own.number || (own.stands === 'held' && number === stage))
      .flatMap(({ tacks }) => tacks.filter(({ phase }) => phase === 'securing').map(({ id }) => id));
  }

  private standing(part: string, released: readonly Standing[], { positions, bad }: StoppedState): Ending {
    const stands = this.stages.get(part)?.stands ?? 'free-standing';
    if (
      stands === 'clamped' &&
      !this.byHand.has(part) &&
      this.context.cell.table.clamp.force > 0 &&
      !released.some(({ clamped }) => clamped)
    )
      return { wrong: `${part} is let go before it is clamped` };
    const missing = released[0]!.needs.find((tack) => {
      const laid = this.laid.get(tack);
      return tack === bad || laid === undefined || positions[laid.program]! < laid.from;
    });
    if (missing !== undefined) return { wrong: `${part} is let go, and tack ${missing} does not hold it` };
    return this.standingAs(stands);
  }

  /** What becomes of a part in a gripper when power is lost, by the kind that the gripper declares. */
  private withoutPower(custody: Custody): Ending {
    const { part, gripper, stage, inPlace, clamped } = custody;
    const { kind, seconds } = gripper.powerLoss;
    if (kind === 'stored-seconds')
      return this.kept(`stored ${gripper.id}`, () => ({
        ...{ state: 'held', gripper: gripper.id },
        seconds: Number.isFinite(seconds) ? seconds : null,
      }));
    const own = this.stages.get(part);
    const unheld = own !== undefined && own === stage && own.held === null;
    if (unheld && inPlace && (own.stands === 'free-standing' || clamped)) return this.standingAs(own.stands);
    const place = inPlace && !unheld ? 'held' : 'carried';
    if (place === 'held' && kind === 'must-stand') return this.letGoByItself(custody);
    if (place === 'held' && !stage.powerLoss.some((loss) => loss.part === part && loss.zone !== null))
      return { wrong: `${part} may fall from ${gripper.id}, and its stage states no zone for that` };
    return this.kept(`drop ${place} ${gripper.id}`, () => ({
      ...{ state: 'drop-zone', gripper: gripper.id },
      while: place,
    }));
  }

  private letGoByItself({ part, gripper, stage }: Custody): Ending {
    if (!stage.reserves.some(({ state }) => state === 'power-lost'))
      return { wrong: `${part} is let go by ${gripper.id}, and nothing proves that it stands` };
    return this.kept('standing free-standing', () => ({ state: 'standing', stands: 'free-standing' }));
  }

  /** One object for each way to end up. */
  private kept(key: string, make: () => Ending): Ending {
    const known = this.made.get(key);
    if (known !== undefined) return known;
    const made = make();
    this.made.set(key, made);
    return made;
  }
}

/** The programs of all robots of the cell, in their order; undefined when one has none. */
export function programsInOrder({ plan, cell }: RuleContext): readonly (readonly Step[])[] | undefined {
  const found = robotsOf(cell).map(({ id }) => plan.programs.find(({ robot }) => robot === id)?.steps);
  return found.every((steps) => steps !== undefined) ? found : undefined;
}

import type { LinearPrograms } from '../../algorithms/linear-program.js';
import { compareText } from '../../base/order.js';
import type { SecondsLeft } from '../../base/seconds-left.js';
import { canonicalText } from '../../io/canonical.js';
import type { Finding } from '../../model/finding.js';
import type { Issue } from '../../model/issue.js';
import type { GeometricPlan } from '../../model/plan.js';
import type { PlanLift } from '../../model/plan-sub-assembly.js';
import type { Totals } from '../../model/plan-whole.js';
import { splitSettings, splitWeldment } from '../../model/split-weldment.js';
import type { Settings } from '../../model/settings.js';
import { MEMBERS_WITHIN, type LyingSubAssembly } from '../../model/sub-assembly.js';
import type { Weldment } from '../../model/weldment.js';
import { askedOf } from '../../rules/sub-assemblies/sub-assemblies-true.js';
import { groupMetal } from '../../rules/group-metal.js';
import { isLess, together, type Together } from '../../rules/whole-totals.js';
import type { Inputs } from '../inputs.js';
import { liftsOf, weakGrips, withoutGrips, type WeakGrip } from './lifting.js';
import type { PlanOutcome } from '../plan-outcome.js';

type Planned = Extract<PlanOutcome, { kind: 'planned' }>;
export type Unplanned = Exclude<PlanOutcome, Planned>;

/** Inputs of a weldment with shapes. */
export type PieceInputs = Inputs & { readonly weldment: Weldment };

/** Plans a weldment in one piece, within so many seconds where seconds count. */
export type PlanPiece = (inputs: PieceInputs, seconds: number | undefined) => PlanOutcome;

/** What planning a weldment with sub-assemblies needs beside them. */
export interface SplitGround {
  readonly inputs: PieceInputs;
  readonly piece: PlanPiece;
  readonly programs: LinearPrograms;
  /** Warnings about the files. */
  readonly warnings: readonly Issue[];
  /** Judges the plan of the weldment with all that it has of sub-assemblies. */
  readonly judge: (plan: GeometricPlan) => readonly Finding[];
}

/** What a way to split a weldment came to. */
export type SplitOutcome =
  | { readonly kind: 'planned'; readonly plan: GeometricPlan; readonly totals: Together }
  /** The sub-assemblies alone cost as much as what is to be bettered. */
  | { readonly kind: 'dearer' }
  /** A sub-assembly, or the weldment with all of them as parts, has no plan. */
  | { readonly kind: 'unplanned'; readonly of: string; readonly outcome: Unplanned }
  /** There are plans, and together they break a rule. */
  | { readonly kind: 'refused'; readonly findings: readonly Finding[] };

/** Grips that do not carry a sub-assembly before no more are tried (our choice). */
const MOST_WEAK = 4;

/** What people do between the plans of sub-assemblies and that of the weldment. */
const CARRIED_OUT =
  'People take a sub-assembly out of the work zone, measure it and lay it at the infeed: nothing of that is planned, and what is only tacked can break and fall.';

/** Plans a weldment by ways to split it. A group that was planned for one way is not planned again for another. */
export class SplitPlanner {
  private readonly outcomes = new Map<string, PlanOutcome>();

  constructor(private readonly ground: SplitGround) {}

  /**
   * The plan of the weldment with these groups as parts, with their own plans in it. It ends as soon as it can no longer cost less than
   * `below`. Each plan may take the share of the seconds that its parts are of those that are still to be planned.
   */
  plan(groups: readonly LyingSubAssembly[], time: SecondsLeft, below?: Totals): SplitOutcome {
    const { inputs } = this.ground;
    const { weldment } = inputs;
    const settings = splitSettings(inputs.settings, weldment, groups);
    let open = weldment.parts.length + groups.length;
    const share = (parts: number): number | undefined => {
      const left = time.left();
      const seconds = left === undefined ? undefined : (left * parts) / open;
      open -= parts;
      return seconds;
    };
    const plans: GeometricPlan[] = [];
    for (const [i, { group, weldment: own }] of splitWeldment(weldment, groups).groups.entries()) {
      const piece = { ...inputs, weldment: own, settings: settings.groups[i]!, warnings: [] };
      const outcome = this.ofGroup(group, piece, share(own.parts.length));
      if (outcome.kind !== 'planned') return { kind: 'unplanned', of: group.name, outcome };
      plans.push(geometric(outcome));
      if (below && !isLess(together(plans).objective, below)) return { kind: 'dearer' };
    }
    return this.whole(groups, plans, settings.main, time);
  }

  /** The plan of a group as a weldment of its own; one whose search a limit ended is not asked again either. */
  private ofGroup(group: LyingSubAssembly, piece: PieceInputs, seconds: number | undefined): PlanOutcome {
    const key = canonicalText(group);
    const outcome = this.outcomes.get(key) ?? this.ground.piece(piece, seconds);
    this.outcomes.set(key, outcome);
    return outcome;
  }

  /**
   * Plans the weldment with its groups as parts. Where the tacks of one do not carry it by a grip of that plan, once more
   * without that gripper on that face.
   */
  private whole(
    groups: readonly LyingSubAssembly[],
    plans: readonly GeometricPlan[],
    settings: Settings,
    time: SecondsLeft,
  ): SplitOutcome {
    const { inputs, piece, warnings, programs } = this.ground;
    const { weldment } = inputs;
    const metal = new Map(groups.map((group, i) => [group.name, groupMetal(weldment, group, plans[i]!)]));
    const split = splitWeldment(weldment, groups, metal);
    const ground = { cell: inputs.cell!, programs };
    const weak: WeakGrip[] = [];
    let main: Weldment | undefined = split.main;
    while (main !== undefined && weak.length <= MOST_WEAK) {
      const outcome = piece({ ...inputs, weldment: main, settings, warnings }, time.left());
      if (outcome.kind !== 'planned' && weak.length > 0) break;
      if (outcome.kind !== 'planned') return { kind: 'unplanned', of: weldment.name, outcome };
      const plan = geometric(outcome);
      const lifts = liftsOf(ground, split, plan);
      const giving = weakGrips(split, plan, lifts);
      if (giving.length === 0) return this.judged(groups, plans, plan, lifts);
      weak.push(...giving);
      main = withoutGrips(split.main, weak, ground, settings);
    }
    return { kind: 'unplanned', of: weldment.name, outcome: notLifted(weak, warnings) };
  }

  /** The plan with those of its sub-assemblies in it, judged as a whole. */
  private judged(
    groups: readonly LyingSubAssembly[],
    plans: readonly GeometricPlan[],
    main: GeometricPlan,
    lifts: readonly PlanLift[],
  ): SplitOutcome {
    const subAssemblies = groups.map(({ name, parts, rest, within = MEMBERS_WITHIN }, i) => ({
      ...{ name, parts: [...parts].sort(compareText), rest, within },
      ...{ plan: plans[i]!, lift: lifts[i]! },
    }));
    const totals = together([...plans, main]);
    const plan = { ...main, subAssemblies, cautions: [...main.cautions, CARRIED_OUT] };
    const asked = askedOf(this.ground.inputs.weldment);
    const findings = this.ground.judge({ ...plan, whole: { asked, ...totals } });
    return findings.length > 0 ? { kind: 'refused', findings } : { kind: 'planned', plan, totals };
  }
}

/** No plan was found, since every one that was made would let a sub-assembly fall. */
const notLifted = (weak: readonly WeakGrip[], warnings: readonly Issue[]): Unplanned => ({
  ...{ kind: 'none-found', states: 0, refused: weak.length, exhausted: false, bound: [], warnings },
  reasons: weak.map(({ refusal }) => refusal),
});

/** A weldment with shapes has a plan with shapes. */
const geometric = ({ plan }: Planned): GeometricPlan => plan as GeometricPlan;

import type { Cell } from '../model/cell.js';
import type {
  AlsoHeldPart,
  GeometricPlan,
  Handling,
  PlanGrip,
  PlanTack,
  Stage,
  Step,
} from '../model/plan.js';
import { toDegrees } from '../kinematics/arm.js';

/** A step as the stages ask for it: what is done, at which stage, and the fields that say so. */
export interface ExpectedStep {
  readonly do: Exclude<Step['do'], 'signal' | 'await'>;
  readonly stage: number;
  /** For moves: how, and to which joints (degrees); undefined where another rule owns the end. */
  readonly path?: 'joint' | 'straight';
  readonly to?: readonly number[] | undefined;
  /** For all else: field values that must be equal. */
  readonly fields?: Readonly<Record<string, string | number>>;
}

type Draft = Omit<ExpectedStep, 'stage'>;

const joint = (to: readonly number[] | undefined): Draft => ({ do: 'move', path: 'joint', to });
const straight = (to: readonly number[]): Draft => ({ do: 'move', path: 'straight', to });
const enter: Draft = { do: 'enter', fields: { zone: 'work' } };
const leave: Draft = { do: 'leave', fields: { zone: 'work' } };

const homeOf = (robot: { readonly home: readonly number[] }): Draft => joint(robot.home.map(toDegrees));

/** Going for another gripper; where its stand is reached is judged by the rule on reach. */
const change = (gripper: string, home: Draft): Draft[] => [
  joint(undefined),
  { do: 'change-gripper', fields: { to: gripper } },
  home,
];

function taking(part: string, { grip, take }: Handling, home: Draft): Draft[] {
  return [
    joint(take.approach),
    straight(take.joints),
    { do: 'grip', fields: { part, gripper: grip.gripper } },
    straight(take.lifted),
    home,
  ];
}

const settingDown = (part: string, { put }: Handling, located: boolean, home: Draft): Draft[] => [
  joint(put.approach),
  straight(put.joints),
  ...(located ? [{ do: 'locate' as const, fields: { part } }] : []),
  { do: 'set-down', fields: { part } },
  straight(put.retreat),
  home,
];

/** Pressed against its neighbours, where the stage asks for it and the arm can. */
const seating = ({ handler }: Cell, { part, remedies }: Stage): Draft[] =>
  remedies.includes('seat') && handler.seating !== undefined
    ? [{ do: 'seat', fields: { part, force: handler.seating.force } }]
    : [];

/** Clamped, held, or neither when the part stands by itself. */
function settling(cell: Cell, { part, held }: Stage, first: boolean): Draft[] {
  const { name, force } = cell.table.clamp;
  if (first) return force > 0 ? [{ do: 'clamp', fields: { part, clamp: name } }] : [];
  return held === null ? [] : [{ do: 'hold', fields: { part } }];
}

/** The pull that proves the securing tacks of the part in hand. */
const proving = (part: string, { proofPull }: Stage): Draft[] =>
  proofPull === null ? [] : [{ do: 'proof-pull', fields: { part, force: proofPull } }];

function placing(cell: Cell, stage: Stage, { put }: Handling, first: boolean, home: Draft): Draft[] {
  return [
    enter,
    joint(put.approach),
    straight(put.joints),
    ...seating(cell, stage),
    ...settling(cell, stage, first),
    ...(stage.held === null ? [] : proving(stage.part, stage)),
    { do: 'let-go', fields: { part: stage.part } },
    straight(put.retreat),
    home,
    leave,
  ];
}

/** Taking hold of an earlier part in its place, and leaving it. */
function otherHold(
  stage: Stage,
  { part, grip, approach, joints, retreat }: AlsoHeldPart,
  home: Draft,
): Draft[] {
  return [
    enter,
    joint(approach),
    straight(joints),
    { do: 'grip', fields: { part, gripper: grip.gripper } },
    { do: 'hold', fields: { part } },
    ...(stage.held === null ? proving(part, stage) : []),
    { do: 'let-go', fields: { part } },
    straight(retreat),
    home,
    leave,
  ];
}

/** The part is located when it is last set down. */
const isLocated = ({ remedies, handling }: Stage, i: number): boolean =>
  remedies.includes('locate') && i === handling.length - 2;

/** The handling robot's steps, signals and waits left out, as the stages ask for them. */
export function handlerSteps(plan: GeometricPlan, cell: Cell): readonly ExpectedStep[] {
  const home = homeOf(cell.handler);
  let mounted = plan.stages[0]?.handling[0]!.grip.gripper;
  const changing = ({ gripper }: PlanGrip): Draft[] => {
    const drafts = gripper === mounted ? [] : change(gripper, home);
    mounted = gripper;
    return drafts;
  };
  return plan.stages.flatMap((stage, s) => {
    const { part, alsoHeld } = stage;
    const brought = stage.handling.flatMap((handling, i) => {
      const last = i === stage.handling.length - 1;
      const putting = last
        ? placing(cell, stage, handling, s === 0, home)
        : settingDown(part, handling, isLocated(stage, i), home);
      return [...changing(handling.grip), ...taking(part, handling, home), ...putting];
    });
    const held = alsoHeld ? [...changing(alsoHeld.grip), ...otherHold(stage, alsoHeld, home)] : [];
    return [...brought, ...held].map((draft) => ({ ...draft, stage: stage.number }));
  });
}

/** Ids of the tacks that are laid first on their joint. */
const firstOfEachJoint = ({ tacks }: Stage): readonly string[] =>
  tacks
    .filter(({ joint: of, order }) => !tacks.some((other) => other.joint === of && other.order < order))
    .map(({ id }) => id);

function tacking(stage: Stage, phase: PlanTack['phase'], home: Draft): Draft[] {
  const tacks = stage.tacks.filter((tack) => tack.phase === phase).sort((a, b) => a.order - b.order);
  if (tacks.length === 0) return [];
  const searched = stage.remedies.includes('seam-search') ? firstOfEachJoint(stage) : [];
  const each = tacks.flatMap(({ id, joint: of, torch }): Draft[] => [
    joint(torch.clear),
    ...(searched.includes(id) ? [{ do: 'seam-search' as const, fields: { joint: of } }] : []),
    straight(torch.joints),
    { do: 'tack', fields: { tack: id } },
    straight(torch.leave),
  ]);
  return [enter, ...each, home, leave];
}

/** The welding robot's steps, signals and waits left out, as the stages ask for them. */
export function welderSteps(plan: GeometricPlan, cell: Cell): readonly ExpectedStep[] {
  const home = homeOf(cell.welder);
  return plan.stages.flatMap((stage) =>
    (['securing', 'completing'] as const).flatMap((phase) =>
      tacking(stage, phase, home).map((draft) => ({ ...draft, stage: stage.number })),
    ),
  );
}

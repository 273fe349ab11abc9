import type { Cell, Handler, Welder } from '../model/cell.js';
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
import { turnBefore } from './seen-stage.js';

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
/** Around infeed and regrip table, where several robots fetch. */
const enterStations: Draft = { do: 'enter', fields: { zone: 'stations' } };
const leaveStations: Draft = { do: 'leave', fields: { zone: 'stations' } };

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
const seating = ({ handlers }: Cell, { part, remedies, robot }: Stage): Draft[] => {
  const able = handlers.find(({ id }) => id === robot)?.seating;
  return remedies.includes('seat') && able !== undefined
    ? [{ do: 'seat', fields: { part, force: able.force } }]
    : [];
};

/** Clamped, held, or neither when the part stands by itself. */
function settling(cell: Cell, { part, held }: Stage, first: boolean): Draft[] {
  const { name, force } = cell.table.clamp;
  if (first) return force > 0 ? [{ do: 'clamp', fields: { part, clamp: name } }] : [];
  return held === null ? [] : [{ do: 'hold', fields: { part } }];
}

/** Holding on before the first let-go after the securing tacks, where tacks take any time to cool. */
const cooling = ({ process }: Cell, part: string, { tacks }: Stage): Draft[] =>
  process.coolingSeconds > 0 && tacks.some(({ phase }) => phase === 'securing')
    ? [{ do: 'cool', fields: { part } }]
    : [];

/** The pull that proves the securing tacks of the part in hand. */
const proving = (part: string, { proofPull }: Stage): Draft[] =>
  proofPull === null ? [] : [{ do: 'proof-pull', fields: { part, force: proofPull } }];

/** Turning the table before a stage, by the robot that commands it, outside the work zone. */
function turning(plan: GeometricPlan, cell: Cell, robot: string, index: number): Draft[] {
  const to = turnBefore(plan, cell, index);
  if (to === undefined || cell.table.turntable?.commander !== robot) return [];
  return [{ do: 'turn', fields: { to } }];
}

function placing(cell: Cell, stage: Stage, { put }: Handling, first: boolean, home: Draft): Draft[] {
  const leaving =
    stage.stands === 'held'
      ? []
      : [
          ...(stage.held === null || stage.alsoHeld ? [] : cooling(cell, stage.part, stage)),
          ...(stage.held === null ? [] : proving(stage.part, stage)),
          ...leavingPart(stage.part, put.retreat, home),
        ];
  return [
    enter,
    joint(put.approach),
    straight(put.joints),
    ...seating(cell, stage),
    ...settling(cell, stage, first),
    ...leaving,
  ];
}

const leavingPart = (part: string, retreat: readonly number[], home: Draft): Draft[] => [
  { do: 'let-go', fields: { part } },
  straight(retreat),
  home,
  leave,
];

/** Taking hold of an earlier part in its place, unless it is still held, and leaving it. */
function otherHold(
  cell: Cell,
  stage: Stage,
  { part, grip, approach, joints, retreat }: AlsoHeldPart,
  home: Draft,
): Draft[] {
  const taking: Draft[] =
    approach === null
      ? []
      : [
          enter,
          joint(approach),
          straight(joints),
          { do: 'grip', fields: { part, gripper: grip.gripper } },
          { do: 'hold', fields: { part } },
        ];
  const proof = stage.held === null ? proving(part, stage) : [];
  return [...taking, ...cooling(cell, part, stage), ...proof, ...leavingPart(part, retreat, home)];
}

/** The part is located when it is last set down. */
const isLocated = ({ remedies, handling }: Stage, i: number): boolean =>
  remedies.includes('locate') && i === handling.length - 2;

/** A handling robot's steps, signals and waits left out, as the stages ask for them. */
export function handlerSteps(plan: GeometricPlan, cell: Cell, robot: Handler): readonly ExpectedStep[] {
  const home = homeOf(robot);
  const shared = cell.handlers.length > 1;
  let mounted: string | undefined;
  const changing = ({ gripper }: PlanGrip): Draft[] => {
    const drafts = gripper === (mounted ?? gripper) ? [] : change(gripper, home);
    mounted = gripper;
    return drafts;
  };
  const bringing = (stage: Stage, first: boolean, turn: readonly Draft[]): Draft[] => {
    const { handling, part } = stage;
    const fetching = handling.flatMap((one, i) => [
      ...changing(one.grip),
      ...(shared && i === 0 ? [enterStations] : []),
      ...taking(part, one, home),
      ...(i === handling.length - 1 ? [] : settingDown(part, one, isLocated(stage, i), home)),
    ]);
    const placed = placing(cell, stage, handling.at(-1)!, first, home);
    return [...fetching, ...(shared ? [leaveStations] : []), ...turn, ...placed];
  };
  return plan.stages.flatMap((stage, s) => {
    const { alsoHeld, number } = stage;
    const turn = turning(plan, cell, robot.id, s);
    const brought = stage.robot === robot.id ? bringing(stage, s === 0, turn) : turn;
    const other =
      alsoHeld?.robot === robot.id
        ? [...changing(alsoHeld.grip), ...otherHold(cell, stage, alsoHeld, home)]
        : [];
    return [...brought, ...other].map((draft) => ({ ...draft, stage: number }));
  });
}

/** Ids of the tacks, of some, that are laid first on their joint. */
const firstOfEachJoint = (tacks: readonly PlanTack[]): readonly string[] =>
  tacks
    .filter(({ joint: of, order }) => !tacks.some((other) => other.joint === of && other.order < order))
    .map(({ id }) => id);

/** What a welding robot lays in a phase of a stage; it finds each joint for itself before its own first tack there. */
function tacking(stage: Stage, phase: PlanTack['phase'], robot: string, home: Draft): Draft[] {
  const own = stage.tacks.filter((tack) => tack.robot === robot);
  const tacks = own.filter((tack) => tack.phase === phase).sort((a, b) => a.order - b.order);
  if (tacks.length === 0) return [];
  const searched = stage.remedies.includes('seam-search') ? firstOfEachJoint(own) : [];
  const each = tacks.flatMap(({ id, joint: of, torch }): Draft[] => [
    joint(torch.clear),
    ...(searched.includes(id) ? [{ do: 'seam-search' as const, fields: { joint: of } }] : []),
    straight(torch.joints),
    { do: 'tack', fields: { tack: id } },
    straight(torch.leave),
    { do: 'accept', fields: { tack: id } },
  ]);
  return [enter, ...each, home, leave];
}

/** A welding robot's steps, signals and waits left out, as the stages ask for them. */
export function welderSteps(plan: GeometricPlan, cell: Cell, robot: Welder): readonly ExpectedStep[] {
  const home = homeOf(robot);
  return plan.stages.flatMap((stage, s) =>
    [
      ...turning(plan, cell, robot.id, s),
      ...(['securing', 'completing'] as const).flatMap((phase) => tacking(stage, phase, robot.id, home)),
    ].map((draft) => ({ ...draft, stage: stage.number })),
  );
}

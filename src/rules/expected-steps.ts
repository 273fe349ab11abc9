import type { Cell, Handler, Welder } from '../model/cell.js';
import type {
  AlsoHeldPart,
  GeometricPlan,
  Handling,
  PlanGrip,
  PlanTack,
  Stage,
  Step,
  WorkFrame,
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
  /** Field values that must be equal; of a move those that name its tool and work frame. */
  readonly fields?: Readonly<Record<string, string | number | undefined>>;
}

type Draft = Omit<ExpectedStep, 'stage'>;

/** Moves of one robot with one tool, each taught in a work frame. */
export class Moves {
  readonly home: Draft;

  constructor(
    private readonly robot: { readonly home: readonly number[] },
    private readonly tool: string,
  ) {
    this.home = this.joint(robot.home.map(toDegrees), 'cell');
  }

  with = (tool: string): Moves => new Moves(this.robot, tool);
  joint = (to: readonly number[] | undefined, frame: WorkFrame): Draft => this.move('joint', to, frame);
  straight = (to: readonly number[], frame: WorkFrame): Draft => this.move('straight', to, frame);

  private move(path: 'joint' | 'straight', to: readonly number[] | undefined, frame: WorkFrame): Draft {
    return { do: 'move', path, to, fields: { tool: this.tool, frame } };
  }
}

const enter: Draft = { do: 'enter', fields: { zone: 'work' } };
const leave: Draft = { do: 'leave', fields: { zone: 'work' } };
/** Around infeed and regrip table, where several robots fetch. */
const enterStations: Draft = { do: 'enter', fields: { zone: 'stations' } };
const leaveStations: Draft = { do: 'leave', fields: { zone: 'stations' } };

/** Going for another gripper; where its stand is reached is judged by the rule on reach. */
const change = (gripper: string, moves: Moves): Draft[] => [
  moves.joint(undefined, 'cell'),
  { do: 'change-gripper', fields: { to: gripper } },
  moves.with(gripper).home,
];

const gripping = (part: string, { gripper, group }: PlanGrip): Draft => ({
  do: 'grip',
  fields: { part, gripper, group },
});

const taking = (part: string, { grip, take }: Handling, moves: Moves): Draft[] => [
  moves.joint(take.approach, take.from),
  ...(take.from === 'infeed' ? [{ do: 'part-present' as const, fields: { part } }] : []),
  moves.straight(take.joints, take.from),
  gripping(part, grip),
  moves.straight(take.lifted, take.from),
  moves.home,
];

function settingDown(part: string, { put }: Handling, located: boolean, moves: Moves): Draft[] {
  const station = put.to === 'place' ? 'weldment' : put.to;
  return [
    moves.joint(put.approach, station),
    moves.straight(put.joints, station),
    ...(located ? [{ do: 'locate' as const, fields: { part } }] : []),
    { do: 'set-down', fields: { part } },
    moves.straight(put.retreat, station),
    moves.home,
  ];
}

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

function placing(cell: Cell, stage: Stage, { put }: Handling, first: boolean, moves: Moves): Draft[] {
  const leaving =
    stage.stands === 'held'
      ? []
      : [
          ...(stage.held === null || stage.alsoHeld ? [] : cooling(cell, stage.part, stage)),
          ...(stage.held === null ? [] : proving(stage.part, stage)),
          ...leavingPart(stage.part, put.retreat, moves),
        ];
  return [
    enter,
    moves.joint(put.approach, 'weldment'),
    moves.straight(put.joints, 'weldment'),
    ...seating(cell, stage),
    ...settling(cell, stage, first),
    ...leaving,
  ];
}

const leavingPart = (part: string, retreat: readonly number[], moves: Moves): Draft[] => [
  { do: 'let-go', fields: { part } },
  moves.straight(retreat, 'weldment'),
  moves.home,
  leave,
];

/** Taking hold of an earlier part in its place, unless it is still held, and leaving it. */
function otherHold(
  cell: Cell,
  stage: Stage,
  { part, grip, approach, joints, retreat }: AlsoHeldPart,
  moves: Moves,
): Draft[] {
  const taking: Draft[] =
    approach === null
      ? []
      : [
          enter,
          moves.joint(approach, 'weldment'),
          moves.straight(joints, 'weldment'),
          gripping(part, grip),
          { do: 'hold', fields: { part } },
        ];
  const proof = stage.held === null ? proving(part, stage) : [];
  return [...taking, ...cooling(cell, part, stage), ...proof, ...leavingPart(part, retreat, moves)];
}

/** The part is located when it is last set down. */
const isLocated = ({ remedies, handling }: Stage, i: number): boolean =>
  remedies.includes('locate') && i === handling.length - 2;

/** A person at work, for whom the first handling robot stands still in its program. */
const settingByHand = ({ part, manual }: Stage): Draft[] =>
  manual === undefined
    ? []
    : [{ do: 'manual', fields: { part, planned: manual.seconds, clamp: manual.clamp ?? undefined } }];

/** A handling robot's steps, signals and waits left out, as the stages ask for them. */
export function handlerSteps(plan: GeometricPlan, cell: Cell, robot: Handler): readonly ExpectedStep[] {
  const shared = cell.handlers.length > 1;
  let mounted: string | undefined;
  const changing = ({ gripper }: PlanGrip): Draft[] => {
    const drafts =
      gripper === (mounted ?? gripper) ? [] : change(gripper, new Moves(robot, mounted ?? gripper));
    mounted = gripper;
    return drafts;
  };
  const bringing = (stage: Stage, first: boolean, turn: readonly Draft[]): Draft[] => {
    const { handling, part } = stage;
    const movesOf = ({ grip }: Handling): Moves => new Moves(robot, grip.gripper);
    const fetching = handling.flatMap((one, i) => [
      ...changing(one.grip),
      ...(shared && i === 0 ? [enterStations] : []),
      ...taking(part, one, movesOf(one)),
      ...(i === handling.length - 1 ? [] : settingDown(part, one, isLocated(stage, i), movesOf(one))),
    ]);
    const last = handling.at(-1)!;
    const placed = placing(cell, stage, last, first, movesOf(last));
    return [...fetching, ...(shared ? [leaveStations] : []), ...turn, ...placed];
  };
  const all = plan.stages.flatMap((stage, s) => {
    const { alsoHeld, number } = stage;
    const turn = turning(plan, cell, robot.id, s);
    const byHand = robot === cell.handlers[0] ? settingByHand(stage) : [];
    const brought = stage.robot === robot.id ? bringing(stage, s === 0, turn) : [...turn, ...byHand];
    const other =
      alsoHeld?.robot === robot.id
        ? [
            ...changing(alsoHeld.grip),
            ...otherHold(cell, stage, alsoHeld, new Moves(robot, alsoHeld.grip.gripper)),
          ]
        : [];
    return [...brought, ...other].map((draft) => ({ ...draft, stage: number }));
  });
  return robot === cell.handlers[0] ? [...all, { do: 'hand-over', stage: 0 }] : all;
}

/** Ids of the tacks, of some, that are laid first on their joint. */
const firstOfEachJoint = (tacks: readonly PlanTack[]): readonly string[] =>
  tacks
    .filter(({ joint: of, order }) => !tacks.some((other) => other.joint === of && other.order < order))
    .map(({ id }) => id);

/** One tack: to it and onto it, its arc, away from it, and whether it is good; before it a search of its joint. */
export const laying = (
  { id, joint: of, torch }: PlanTack,
  searched: boolean,
  moves: Moves,
): readonly Omit<ExpectedStep, 'stage'>[] => [
  moves.joint(torch.clear, 'weldment'),
  ...(searched ? [{ do: 'seam-search' as const, fields: { joint: of } }] : []),
  moves.straight(torch.joints, 'weldment'),
  { do: 'tack', fields: { tack: id } },
  { do: 'wire-check', fields: { tack: id } },
  moves.straight(torch.leave, 'weldment'),
  { do: 'accept', fields: { tack: id } },
];

/** What a welding robot lays in a phase of a stage; it finds each joint for itself before its own first tack there. */
function tacking(stage: Stage, phase: PlanTack['phase'], robot: string, moves: Moves): Draft[] {
  const own = stage.tacks.filter((tack) => tack.robot === robot);
  const tacks = own.filter((tack) => tack.phase === phase).sort((a, b) => a.order - b.order);
  if (tacks.length === 0) return [];
  const searched = stage.remedies.includes('seam-search') ? firstOfEachJoint(own) : [];
  const each = tacks.flatMap((tack) => laying(tack, searched.includes(tack.id), moves));
  return [enter, ...each, moves.home, leave];
}

/** Going to the cleaner of the nozzle, and home again. */
const cleaning = ({ joints }: NonNullable<Welder['cleaning']>, moves: Moves): Draft[] => [
  moves.joint(joints.map(toDegrees), 'cell'),
  { do: 'clean-nozzle' },
  moves.home,
];

/**
 * A welding robot's steps, signals and waits left out, as the stages ask for them. The earth path is checked before
 * its first tacks. Its nozzle is cleaned after tacks, in their stage, where the next ones would be more arcs since the
 * last cleaning than the robot may lay.
 */
export function welderSteps(plan: GeometricPlan, cell: Cell, welder: Welder): readonly ExpectedStep[] {
  const moves = new Moves(welder, welder.torch.id);
  let arcs = 0;
  let last: number | undefined;
  const before = (stage: Stage, coming: number): ExpectedStep[] => {
    if (coming === 0) return [];
    const number = last;
    last = stage.number;
    arcs += coming;
    if (number === undefined) return [{ do: 'earth-check', stage: stage.number }];
    if (welder.cleaning === undefined || arcs <= welder.cleaning.every) return [];
    arcs = coming;
    return cleaning(welder.cleaning, moves).map((draft) => ({ ...draft, stage: number }));
  };
  return plan.stages.flatMap((stage, s) => {
    const own = (draft: Draft): ExpectedStep => ({ ...draft, stage: stage.number });
    const groups = (['securing', 'completing'] as const).flatMap((phase) => [
      ...before(stage, stage.tacks.filter((tack) => tack.phase === phase && tack.robot === welder.id).length),
      ...tacking(stage, phase, welder.id, moves).map(own),
    ]);
    return [...turning(plan, cell, welder.id, s).map(own), ...groups];
  });
}

import { compareText } from '../base/order.js';
import type {
  Gripper,
  JawGripper,
  MagnetGripper,
  PadGroup,
  PowerLoss,
  VacuumGripper,
} from '../model/gripper.js';
import type { GripperFile } from '../model/gripper-file.js';

type MagnetFile = NonNullable<GripperFile['magnet']>;
type VacuumFile = NonNullable<GripperFile['vacuum']>;
type JawFile = NonNullable<GripperFile['jaw']>;

/** What is assumed of a jaw that does not say how its fingers drag: this share of the friction of each. */
const DRAG_SHARE = 0.05;

const LOST: PowerLoss = { kind: 'exclusion-zone', seconds: 0 };

/** The gripper of a file that passed its schema and `cellIssues`. */
export function resolveGripper(id: string, file: GripperFile): Gripper {
  const { mass, slip, reach, envelope, stand } = file;
  const common = { id, mass, slip, reach, envelope, stand };
  const own = file.magnet ? magnetOf(file.magnet) : file.vacuum ? vacuumOf(file.vacuum) : jawOf(file.jaw!);
  const given = file['on-power-loss'];
  const powerLoss =
    given === undefined ? own.powerLoss : { kind: given, seconds: file['stored-seconds'] ?? 0 };
  return { ...common, ...own, powerLoss };
}

const groupsOf = (groups: MagnetFile['groups']): readonly PadGroup[] =>
  Object.entries(groups ?? {})
    .sort(([a], [b]) => compareText(a, b))
    .map(([id, numbers]) => ({ id, pads: [...new Set(numbers)].sort((p, q) => p - q).map((n) => n - 1) }));

type Own<T> = Omit<T, 'id' | 'mass' | 'slip' | 'reach' | 'envelope' | 'stand'>;

const magnetOf = (file: MagnetFile): Own<MagnetGripper> => ({
  kind: 'magnet',
  magnet: file.kind,
  pullPerPad: file['pull-per-pad'],
  pads: file.pads,
  padDiameter: file['pad-diameter'],
  ratedThickness: file['rated-thickness'],
  grade: file.grade,
  temperature: file.temperature,
  groups: groupsOf(file.groups),
  residual: file.residual,
  releaseSeconds: file['demagnetise-seconds'],
  friction: file.friction,
  gapFactor: file['gap-factor'],
  arcDistance: file['arc-distance'],
  attractionDistance: file['attraction-distance'],
  powerLoss: file.kind === 'electro' ? LOST : { kind: 'stored-seconds', seconds: Infinity },
});

const vacuumOf = (file: VacuumFile): Own<VacuumGripper> => ({
  kind: 'vacuum',
  pressure: file['pressure-kpa'],
  pads: file.cups,
  padDiameter: file['cup-diameter'],
  surfaceFactor: file['surface-factor'],
  friction: file.friction,
  groups: groupsOf(file.groups),
  residual: file.residual,
  blowOff: file['blow-off'],
  releaseSeconds: file['blow-off-seconds'],
  arcDistance: file['arc-distance'],
  powerLoss:
    file['reserve-seconds'] > 0 ? { kind: 'stored-seconds', seconds: file['reserve-seconds'] } : LOST,
});

const jawOf = (file: JawFile): Own<JawGripper> => ({
  kind: 'jaw',
  force: file.force,
  stroke: file.stroke,
  padDiameter: file['pad-diameter'],
  depth: file.depth,
  friction: file.friction,
  fingerThickness: file['finger-thickness'],
  opensBy: file['opens-by'],
  openingDrag: file['opening-drag'] ?? DRAG_SHARE * file.friction * file.force,
  releaseSeconds: file['open-seconds'],
  arcDistance: file['arc-distance'],
  powerLoss: LOST,
});

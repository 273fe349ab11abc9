import type { JawGripper, MagnetGripper, VacuumGripper } from '../../src/model/gripper.js';

const common = {
  mass: 2.5,
  slip: 0.1,
  reach: 160,
  envelope: { length: 100, width: 60, height: 160 },
  stand: [-650, 700, 700],
  friction: 0.2,
  arcDistance: 20,
  releaseSeconds: 0,
  powerLoss: { kind: 'exclusion-zone', seconds: 0 },
} as const;

/** Our own inventions, one of each kind. */
export const magnetOf = (more: Partial<MagnetGripper> = {}): MagnetGripper => ({
  ...common,
  id: 'magnet',
  kind: 'magnet',
  magnet: 'electro-permanent',
  pullPerPad: 600,
  pads: [
    [-30, 0],
    [30, 0],
  ],
  padDiameter: 40,
  ratedThickness: 8,
  gapFactor: 0.75,
  grade: 'N',
  temperature: 20,
  residual: 0.05,
  attractionDistance: 50,
  groups: [],
  ...more,
});

export const vacuumOf = (more: Partial<VacuumGripper> = {}): VacuumGripper => ({
  ...common,
  id: 'cups',
  kind: 'vacuum',
  pressure: 60,
  pads: [
    [-30, 0],
    [30, 0],
  ],
  padDiameter: 40,
  surfaceFactor: 0.8,
  residual: 0.05,
  blowOff: 0,
  groups: [],
  ...more,
});

export const jawOf = (more: Partial<JawGripper> = {}): JawGripper => ({
  ...common,
  id: 'jaw',
  kind: 'jaw',
  force: 500,
  stroke: [20, 100],
  padDiameter: 20,
  depth: 30,
  fingerThickness: 12,
  opensBy: 5,
  openingDrag: 5,
  ...more,
});

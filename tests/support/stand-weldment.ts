import { fromRollPitchYaw } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { findMaterial } from '../../src/model/material.js';
import type { PlanJoint } from '../../src/model/plan.js';
import type { Shape } from '../../src/model/shape.js';
import type { JointWish, Part, Weldment } from '../../src/model/weldment.js';

export const plateShape = (length: number, width: number, height: number): Shape => ({
  kind: 'plate',
  length,
  width,
  height,
});

/** A part of plain structural steel; `turn` is roll, pitch and yaw in degrees. */
export const steelPart = (id: string, shape: Shape, at: Vec3, turn: Vec3 = [0, 0, 0]): Part => ({
  id,
  shape,
  pose: { at, turn: fromRollPitchYaw(...turn) },
  material: findMaterial('S235')!,
  massGiven: undefined,
  cut: 0.3,
  rest: undefined,
  grips: undefined,
  approaches: [],
});

const wish = (a: string, b: string, sides: 'one' | 'both', open?: Vec3): JointWish => ({
  between: [a, b],
  type: 'fillet',
  leg: 4,
  sides,
  open,
});

/** A base plate with a wall across its middle and a rib that stiffens the wall: three plates, three fillet joints. */
export const standWeldment = (): Weldment => ({
  kind: 'geometric',
  name: 'stand',
  parts: [
    steelPart('base', plateShape(320, 320, 10), [0, 0, 5]),
    steelPart('wall', plateShape(300, 120, 8), [0, 0, 70], [-90, 0, 0]),
    steelPart('rib', plateShape(140, 120, 8), [0, 74, 70], [90, 0, 90]),
  ],
  contacts: undefined,
  joints: [
    wish('base', 'wall', 'both'),
    wish('base', 'rib', 'one', [-1, 0, 1]),
    wish('wall', 'rib', 'one', [-1, 1, 0]),
  ],
  fitUp: { gap: 1, insertion: 0.5 },
  tolerances: [],
  blocking: [],
  needs: [{ part: 'rib', after: ['wall'] }],
  first: 'base',
});

const half = Math.SQRT1_2;

const joint = (id: string, a: string, b: string, seams: PlanJoint['seams']): PlanJoint => ({
  id,
  between: [a, b],
  type: 'fillet',
  leg: 4,
  origin: 'given',
  seams,
});

/** The seams of the stand, found with pencil and paper. Weldment frame. */
export const standJoints = (): PlanJoint[] => [
  joint('J1', 'base', 'wall', [
    { id: 'J1.1', from: [-150, -4, 10], to: [150, -4, 10], open: [0, -half, half] },
    { id: 'J1.2', from: [-150, 4, 10], to: [150, 4, 10], open: [0, half, half] },
  ]),
  joint('J2', 'base', 'rib', [{ id: 'J2.1', from: [-4, 4, 10], to: [-4, 144, 10], open: [-half, 0, half] }]),
  joint('J3', 'wall', 'rib', [{ id: 'J3.1', from: [-4, 4, 10], to: [-4, 4, 130], open: [-half, half, 0] }]),
];

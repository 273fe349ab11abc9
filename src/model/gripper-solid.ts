import { combineMass } from '../geometry/mass.js';
import { NO_TURN } from '../geometry/pose.js';
import { block } from '../geometry/shapes.js';
import { makeSolid, placeSolid, type Solid } from '../geometry/solid.js';
import type { Gripper, JawGripper } from './gripper.js';
import type { JawSpan } from './jaw-span.js';

/** Envelopes that were made before, so that each gripper's is made once. */
const ENVELOPES = new WeakMap<Gripper, Solid>();

/** The box that a gripper stays within, in its pad frame: behind the pad plane, fingers of a jaw apart. */
export function envelopeOf(gripper: Gripper): Solid {
  let solid = ENVELOPES.get(gripper);
  if (!solid) {
    const { length: long, width, height } = gripper.envelope;
    solid = placeSolid(block(long, width, height), { at: [0, 0, -height / 2], turn: NO_TURN });
    ENVELOPES.set(gripper, solid);
  }
  return solid;
}

/**
 * The two fingers of a jaw in its pad frame, each a box as broad as its pad that covers every place between closed on
 * the part and opened to come or to go.
 */
export function fingersOf(jaw: JawGripper, { low, high }: JawSpan): readonly [Solid, Solid] {
  const { padDiameter, depth, fingerThickness, opensBy, stroke } = jaw;
  const open = opensBy ?? Math.max(0, (stroke[1] - (high - low)) / 2);
  const long = open + fingerThickness;
  const box = block(long, padDiameter, depth);
  const at = (x: number): Solid => placeSolid(box, { at: [x, 0, depth / 2], turn: NO_TURN });
  return [at(low - long / 2), at(high + long / 2)];
}

/** Envelope and fingers together, for what they would hit; the faces where they meet are kept. */
export function withFingers(envelope: Solid, fingers: readonly Solid[]): Solid {
  const all = [envelope, ...fingers];
  return makeSolid(
    all.flatMap(({ pieces }) => pieces),
    all.flatMap(({ faces }, i) => faces.map((face) => ({ ...face, id: `${i} ${face.id}` }))),
    combineMass(all),
  );
}

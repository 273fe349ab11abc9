import fc from 'fast-check';
import type { Arm, Joints } from '../../src/kinematics/arm.js';
import { sixOf } from '../../src/kinematics/arm.js';
import { between } from './published-arms.js';

const TURN = 2 * Math.PI;
const six = <T>(make: (i: number) => fc.Arbitrary<T>) =>
  fc.tuple(make(0), make(1), make(2), make(3), make(4), make(5));
const angle = between(-Math.PI, Math.PI);

/** Any arm of the kind: lengths, offsets, signs, limits of up to two turns and a half, coupled or not. */
export const anyArm: fc.Arbitrary<Arm> = fc
  .record({
    lengths: six((i) => between(i === 3 || i === 4 ? 200 : -150, i === 3 || i === 4 ? 900 : 400)),
    c4: between(0, 200),
    offsets: six(() => angle),
    signs: six(() => fc.constantFrom<1 | -1>(1, -1)),
    limits: six(() => fc.tuple(between(-1.4 * TURN, -0.2), between(0.2, 1.4 * TURN))),
    coupled: fc.boolean(),
    elbow: fc.option(fc.tuple(between(-3, -1), between(1, 3)), { nil: undefined }),
  })
  .map(({ lengths: [a1, a2, b, c2, c3, c1], c4, offsets, signs, limits, coupled, elbow }) => ({
    ...{ a1, a2, b, c1, c2, c3, c4, offsets, signs, limits, coupled },
    elbow: coupled ? elbow : undefined,
    speeds: sixOf(() => 2),
    accelerations: sixOf(() => 4),
  }));

/** An arm and joints within its limits. */
export const armAndJoints = anyArm.chain((arm) => fc.tuple(fc.constant(arm), jointsOf(arm)));

/** Joints of an arm, within its limits. */
export const jointsOf = ({ limits }: Arm): fc.Arbitrary<Joints> =>
  six((i) => between(limits[i]![0], limits[i]![1]));

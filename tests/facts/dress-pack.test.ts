import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Facts } from '../../src/facts/facts.js';
import type { TackSite } from '../../src/facts/tack-sites.js';
import type { TorchMotion } from '../../src/facts/torch-motion.js';
import { NO_TURN, place } from '../../src/geometry/pose.js';
import { hullDistance } from '../../src/geometry/rounded-hull.js';
import { capsule } from '../support/rounded-hulls.js';
import { add, cross, scale, subtract, unit, type Vec3 } from '../../src/geometry/vector.js';
import { linkPoints } from '../../src/kinematics/forward.js';
import type { Cell } from '../../src/model/cell.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { factsOf } from '../../src/planning/plan.js';
import { testCell } from '../support/cell.js';
import { boxHull } from '../support/dense-clearance.js';
import { standWeldment } from '../support/stand-weldment.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

const factsIn = (cell: Cell): Facts => factsOf(standWeldment(), cell, DEFAULT_SETTINGS, programs);

/** A site in the middle of the long seam of base and wall. */
function middleSite(facts: Facts): TackSite {
  const joint = facts.joints[0]!;
  const sites = facts.sites(joint, joint.seams[0]!);
  return sites[Math.floor(sites.length / 2)]!;
}

/** Hoses and cables of so much radius, and a small block as a keep-out. */
const cellWith = (dressPack: number | undefined, keepOuts: Cell['keepOuts']): Cell => {
  const cell = testCell();
  const welders = cell.welders.map((welder) => ({ ...welder, radii: { ...welder.radii, dressPack } }));
  return { ...cell, keepOuts, welders };
};

/** Why the very motion that is given does not do; undefined where it does. */
const refusal = (facts: Facts, { way, joints }: TorchMotion) =>
  facts.torchRefusal(middleSite(facts), {
    way: ({ tilt }) => tilt.join() === way.tilt.join(),
    motion: (motion) => motion.joints.every((value, i) => Math.abs(value - joints[i]!) < 1e-9),
  });

describe('the dress pack of a welding arm', () => {
  it('keeps a post away from the line between flange and elbow by its radius and the clearance', () => {
    const free = factsIn(cellWith(undefined, []));
    const motion = free.torchMotion(middleSite(free), { way: () => true, motion: () => true })!;
    const { base, arm } = free.scene.cell.welders[0]!;
    const lines = motion.strokes.map((joints) => {
      const { flange, elbow, wrist } = linkPoints(arm, joints);
      return { flange: place(base, flange), elbow: place(base, elbow), wrist: place(base, wrist) };
    });

    // Beside the middle of that line, on the side where no link is.
    const { flange, elbow, wrist } = lines[Math.floor(lines.length / 2)]!;
    const out = unit(cross(cross(subtract(wrist, elbow), subtract(flange, elbow)), subtract(flange, elbow)));
    const size: Vec3 = [10, 10, 10];
    const at = add(scale(add(flange, elbow), 0.5), scale(out, 60));
    const post = boxHull(size, at);
    const distance = Math.min(
      ...lines.map((line) => hullDistance(capsule(line.flange, line.elbow, 0), post)),
    );
    expect(distance).toBeGreaterThan(40);
    expect(distance).toBeLessThan(60);

    const beside = (radius: number | undefined): Facts =>
      factsIn(cellWith(radius, [{ size, pose: { at, turn: NO_TURN } }]));
    const most = distance - DEFAULT_SETTINGS.motion.clearance;
    expect(refusal(beside(undefined), motion)).toBeUndefined();
    // Half a millimetre is what an answer may be on the safe side.
    expect(refusal(beside(most - 0.6), motion)).toBeUndefined();
    const refused = refusal(beside(most + 0.1), motion);
    expect(refused).toMatchObject({ code: 'arm-blocked' });
    expect(refused?.subjects).toContain('keep-out 1');
  });
});

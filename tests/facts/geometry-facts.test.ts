import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Facts } from '../../src/facts/facts.js';
import { solidsOverlap } from '../../src/geometry/separation.js';
import { rotate } from '../../src/geometry/pose.js';
import { dot, type Vec3 } from '../../src/geometry/vector.js';
import { readCell } from '../../src/io/read-cell.js';
import { readWeldment } from '../../src/io/read-weldment.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import type { Weldment } from '../../src/model/weldment.js';
import { factsOf } from '../../src/planning/plan.js';
import { TackLayouts } from '../../src/planning/tack-layout.js';
import { setOf } from '../../src/base/part-set.js';

const programs = await loadLinearPrograms();
const file = (path: string): string =>
  readFileSync(new URL(`../../examples/${path}`, import.meta.url), 'utf8');
const CELL = file('cells/twin-bench.cell.yaml');

function factsFor(weldment: string, cell = CELL): Facts {
  const read = readWeldment(weldment, 'weldment');
  expect(read.issues).toEqual([]);
  return factsOf(read.value as Weldment, readCell(cell, 'cell').value!, DEFAULT_SETTINGS, programs);
}

/** A plate 10 thick with something on it, given as one line of YAML. */
const onPlate = (part: string, more = ''): string =>
  `weldment: test
units: mm kg N s deg
parts:
  base: { plate: { length: 300, width: 200, thickness: 10 }, at: [0, 0, 5] }
  part: ${part}
${more}`;

const WALL = '{ plate: { length: 160, width: 100, thickness: 8 }, at: [0, 0, 60], turn: [90, 0, 0] }';

describe('proposed seams', () => {
  it('of a wall on a plate: a fillet on each long side, opening to it and up', () => {
    const [joint] = factsFor(onPlate(WALL)).joints;
    expect(joint).toMatchObject({ type: 'fillet', origin: 'proposed' });
    expect(joint!.seams.map(({ length }) => length)).toEqual([160, 160]);
    expect(joint!.seams.map(({ open }) => open.map((x) => Math.round(x * 1e6) / 1e6))).toEqual([
      [0, -0.707107, 0.707107],
      [0, 0.707107, 0.707107],
    ]);
  });

  it('of a hollow section standing on a plate: outside only, over the whole width, on opposite sides', () => {
    const tube =
      '{ rectangular-hollow-section: { length: 120, width: 60, height: 40, wall: 4 }, at: [0, 0, 70], turn: [0, 90, 0] }';
    const [joint] = factsFor(onPlate(tube)).joints;
    expect(joint!.seams.map(({ length }) => length)).toEqual([60, 60]);
    const [p, q] = joint!.seams;
    expect(dot(p!.out, q!.out)).toBeCloseTo(-1, 9);
    for (const { from } of joint!.seams) expect(Math.abs(from[0])).toBeCloseTo(20, 9);
  });

  it('none between parts that are farther apart than the fit-up gap', () => {
    const lifted = WALL.replace('[0, 0, 60]', '[0, 0, 61.01]');
    const facts = factsFor(onPlate(lifted));
    expect(facts.joints).toEqual([]);
    expect(factsFor(onPlate(WALL.replace('[0, 0, 60]', '[0, 0, 60.99]'))).joints).toHaveLength(1);
  });
});

describe('rests', () => {
  it('a thin plate lies on its two broad faces, a cube on all six', () => {
    const stable = (facts: Facts, part: number): string[] =>
      facts.rests(part).flatMap(({ face, refusal }) => (refusal ? [] : [face]));
    expect(stable(factsFor(onPlate(WALL)), 1)).toEqual(['-z', '+z']);
    const cube = '{ block: { length: 80, width: 80, height: 80 }, at: [0, 0, 50] }';
    expect(stable(factsFor(onPlate(cube)), 1).sort()).toEqual(['+x', '+y', '+z', '-x', '-y', '-z']);
  });

  it('no spot hangs over the edge of the regrip table', () => {
    const small = CELL.replace('size: [240, 180]', 'size: [90, 90]');
    const cube = '{ block: { length: 95, width: 80, height: 80 }, at: [0, 0, 50] }';
    const faces = (cell: string): string[] => [
      ...new Set(
        factsFor(onPlate(cube), cell)
          .spots(1)
          .slice(1)
          .map(({ face }) => face),
      ),
    ];
    expect(faces(CELL)).toHaveLength(6);
    expect(faces(small).sort()).toEqual(['+x', '-x']);
  });
});

describe('tack sites', () => {
  it('leave no metal where another part will be, before or after', () => {
    const facts = factsFor(file('roller-stand/roller-stand.weldment.yaml'));
    const web = facts.scene.parts[facts.scene.index.get('web')!]!.solid;
    const joint = facts.joints.find(({ id }) => id === 'J1')!;
    const [outside, inside] = [...joint.seams]
      .sort((p, q) => p.from[0] - q.from[0])
      .map((seam) => facts.sites(joint, seam));
    // 180 mm, tacks of 40 mm, 10 mm from the ends and every 10 mm: 13 places, less those under web and gusset.
    for (const sites of [inside!, outside!]) {
      expect(sites.length).toBeGreaterThan(0);
      expect(sites.length).toBeLessThan(13);
    }
    for (const { bead } of [...inside!, ...outside!]) expect(solidsOverlap(bead, web, 0.05)).toBe(false);
  });

  it('a part may not slide over the metal of a tack', () => {
    const rib =
      '  rib: { plate: { length: 60, width: 60, thickness: 6 }, at: [10, 34, 40], turn: [0, 90, 0], approach: [[-1, 0, 0]] }\n';
    const facts = factsFor(onPlate(WALL, rib));
    const [part, ribIndex] = ['part', 'rib'].map((id) => facts.scene.index.get(id)!);
    const joint = facts.joints.find(({ a, b }) => [a, b].includes(part!) && ![a, b].includes(ribIndex!))!;
    const seam = joint.seams.find(({ open }) => open[1] > 0)!;
    const sites = facts.sites(joint, seam);
    const turned = facts.scene.cell.weldmentPose.turn;
    const way = (v: Vec3) =>
      facts.approaches(ribIndex!).find(({ direction }) => dot(direction, rotate(turned, v)) > 0.999)!;
    const met = (v: Vec3): number => sites.filter((site) => facts.meetsBead(ribIndex!, way(v), site)).length;
    expect(met([0, 0, -1])).toBe(0);
    expect(met([-1, 0, 0])).toBeGreaterThan(0);
  });

  it('a root gap is taken off the throat', () => {
    const strengthAt = (gap: number): number => {
      const facts = factsFor(onPlate(WALL.replace('[0, 0, 60]', `[0, 0, ${60 + gap}]`)));
      const laid = new TackLayouts(facts).lay({ part: 1, inPlace: setOf(2, [0]) }, []);
      expect(laid.refusal).toBeUndefined();
      return laid.tacks[0]!.strength;
    };
    // The proposed leg of 5 mm is cut to the largest leg of a tack, 4 mm; throats are (4 - gap) / sqrt 2.
    expect(strengthAt(1) / strengthAt(0)).toBeCloseTo(3 / 4, 6);
  });
});

describe('stations', () => {
  it('a keep-out over the infeed is in the way of every grip there', () => {
    const blocked = `${CELL}\nkeep-outs:\n  - { at: [-1250, -1000, 420], size: [300, 300, 200] }\n`;
    const facts = factsFor(onPlate(WALL), blocked);
    const spot = facts.spots(1)[0]!;
    const answers = facts.usableGrips(1).map((grip) => facts.take(1, grip, spot));
    expect(answers.length).toBeGreaterThan(0);
    for (const answer of answers) expect(answer).toMatchObject({ ok: false });
    const codes = answers.map((answer) => (answer.ok ? '' : answer.error.code));
    expect(codes).toContain('station-blocked');
    expect(factsFor(onPlate(WALL)).usableGrips(1).length).toBe(answers.length);
  });
});

import { beforeAll, describe, expect, it } from 'vitest';
import { findJoints, seamThicknesses } from '../../src/facts/joints.js';
import { restsOf } from '../../src/facts/rests.js';
import { inverse, place, rotate, type Pose } from '../../src/geometry/pose.js';
import { add, scale, type Vec3 } from '../../src/geometry/vector.js';
import { groupFrame, groupPart, groupShape } from '../../src/model/group-part.js';
import { buildScene, type Scene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { splitSettings, splitWeldment } from '../../src/model/split-weldment.js';
import type { LyingSubAssembly } from '../../src/model/sub-assembly.js';
import type { Weldment } from '../../src/model/weldment.js';
import type { Wish } from '../../src/model/wish.js';
import { findMaterial } from '../../src/model/material.js';
import { example, inputsOf, type ExampleName } from '../support/planned.js';

const read = (name: ExampleName) => {
  const { weldment, cell } = inputsOf(example(name));
  return { weldment: weldment as Weldment, cell: cell! };
};
/** With a web that fills the room between the cheeks: of a root gap a seam lies on the part that comes first by name. */
function standRead() {
  const { weldment, cell } = read('roller-stand');
  const parts = weldment.parts.map((part) =>
    part.id === 'web' && part.shape.kind === 'plate'
      ? { ...part, shape: { ...part.shape, length: 172 } }
      : part,
  );
  return { cell, weldment: { ...weldment, parts } };
}
const stand = standRead();

const lying = (weldment: Weldment, ...parts: readonly string[]): LyingSubAssembly => {
  const group = { name: parts.join('+'), parts };
  const rest = restsOf(group.name, groupShape(weldment, group), DEFAULT_SETTINGS)[0]!.face;
  return { ...group, rest };
};

const short = (x: number): string => (Math.round(x * 100) / 100 + 0).toFixed(2);
const shown = (point: Vec3): string => point.map(short).join(' ');

/** Every seam with where it runs and opens in the frame of the whole weldment, and the thicknesses beside it. */
const seamsOf = (scene: Scene, frame?: Pose): string[] =>
  findJoints(scene).joints.flatMap((joint) =>
    joint.seams.map((seam) => {
      const back = frame && inverse(frame);
      const at = (point: Vec3): Vec3 => (back ? place(back, point) : point);
      const way = back ? rotate(back.turn, seam.open) : seam.open;
      const ends = [shown(at(seam.from)), shown(at(seam.to))].sort().join(' to ');
      const thick = [...seamThicknesses(scene, joint, seam)].sort((p, q) => p - q).join();
      return `${joint.type} ${joint.leg} ${joint.origin}: ${ends} opens ${shown(way)}, ${thick} thick`;
    }),
  );

const sceneOf = (weldment: Weldment, cell = stand.cell): Scene =>
  buildScene(weldment, cell, DEFAULT_SETTINGS);

describe('a weldment that is split', () => {
  const pairs = stand.weldment.joints!.map(({ between }) => between);

  it.each([...pairs, ['cheek-left', 'web', 'cheek-right']])(
    'has the same seams as in one piece: %s and %s apart',
    (...parts) => {
      const group = lying(stand.weldment, ...parts.filter((part) => typeof part === 'string'));
      for (const weldment of [stand.weldment, { ...stand.weldment, joints: undefined }]) {
        const { main, groups } = splitWeldment(weldment, [group]);
        const frame = groupFrame(weldment, group);
        const apart = [...seamsOf(sceneOf(main)), ...seamsOf(sceneOf(groups[0]!.weldment), frame)];
        expect(apart.sort()).toEqual(seamsOf(sceneOf(weldment)).sort());
      }
    },
  );

  it('has the same mass and the same centre of mass', () => {
    const total = ({ parts }: Scene) => {
      const mass = parts.reduce((sum, part) => sum + part.mass, 0);
      const moment = parts.reduce<Vec3>(
        (sum, part) => add(sum, scale(part.solid.centre, part.mass)),
        [0, 0, 0],
      );
      return [mass, ...scale(moment, 1 / mass)];
    };
    const group = lying(stand.weldment, 'cheek-left', 'web');
    const [whole, main] = [stand.weldment, splitWeldment(stand.weldment, [group]).main].map((one) =>
      total(sceneOf(one)),
    );
    main!.forEach((x, i) => expect(x).toBeCloseTo(whole![i]!, 6));
  });

  it('lays each group on its rest, lowest at 0, in the middle', () => {
    for (const rest of restsOf(
      'g',
      groupShape(stand.weldment, { name: 'g', parts: ['cheek-left', 'web'] }),
      DEFAULT_SETTINGS,
    )) {
      const group = { name: 'g', parts: ['cheek-left', 'web'], rest: rest.face };
      const [own] = splitWeldment(stand.weldment, [group]).groups;
      const scene = sceneOf(own!.weldment, {
        ...stand.cell,
        weldmentPose: { at: [0, 0, 0], turn: [1, 0, 0, 0, 1, 0, 0, 0, 1] },
      });
      const bounds = scene.parts.map(({ solid }) => solid.bounds);
      const low = [0, 1, 2].map((i) => Math.min(...bounds.map((one) => one.low[i]!)));
      const high = [0, 1, 2].map((i) => Math.max(...bounds.map((one) => one.high[i]!)));
      expect(low[2]).toBeCloseTo(0, 6);
      expect(low[0]! + high[0]!).toBeCloseTo(0, 6);
      expect(low[1]! + high[1]!).toBeCloseTo(0, 6);
      expect(own!.weldment.name).toBe('g');
    }
  });
});

/** A row of four blocks a, b, c, d, of which b and c are tacked apart; our own invention. */
function row(more: Partial<Weldment> = {}): Weldment {
  const { parts } = stand.weldment;
  const [first] = parts;
  const blocks = ['a', 'b', 'c', 'd'].map((id, i) => ({
    ...first!,
    ...{ id, massGiven: undefined, rest: undefined, grips: undefined, approaches: [], manual: undefined },
    shape: { kind: 'block' as const, length: 50, width: 60, height: 40 },
    pose: { at: [50 * i, 0, 20] as const, turn: first!.pose.turn },
  }));
  return {
    ...stand.weldment,
    parts: blocks.map((part) => ({ ...part, pose: { ...part.pose, turn: [1, 0, 0, 0, 1, 0, 0, 0, 1] } })),
    contacts: undefined,
    joints: [],
    blocking: [],
    needs: [],
    first: undefined,
    tolerances: [],
    ...more,
  };
}

const BC: LyingSubAssembly = { name: 'bc', parts: ['b', 'c'], rest: 'toes-1' };
const strength = { never: false, soft: false, weight: 1 };

describe('what a file says of parts', () => {
  let split: ReturnType<typeof splitWeldment>;

  beforeAll(() => {
    split = splitWeldment(
      row({
        contacts: [
          ['a', 'b'],
          ['b', 'c'],
          ['c', 'd'],
        ],
        joints: (
          [
            ['b', 'a'],
            ['b', 'c'],
            ['c', 'd'],
          ] as const
        ).map((between) => ({ between, type: 'butt', leg: 4, sides: 'both', open: undefined })),
        blocking: [
          { part: 'b', by: ['c', 'd'] },
          { part: 'a', by: ['b', 'c'] },
        ],
        needs: [
          { part: 'c', after: ['b'] },
          { part: 'd', after: ['b', 'c', 'a'] },
        ],
        first: 'b',
        tolerances: [
          { name: 'inner', from: 'b', to: 'c', 'iso-13920': 'B' },
          { name: 'outer', from: 'a', to: 'c', 'iso-13920': 'B' },
        ],
      }),
      [BC],
    );
  });

  it('is said of the group where it reaches out of it', () => {
    const { main } = split;
    expect(main.parts.map(({ id }) => id)).toEqual(['a', 'bc', 'd']);
    expect(main.contacts).toEqual([
      ['a', 'b'],
      ['c', 'd'],
    ]);
    expect(main.joints).toMatchObject([
      { between: ['bc', 'a'], members: ['b', undefined] },
      { between: ['bc', 'd'], members: ['c', undefined] },
    ]);
    expect(main.blocking).toEqual([
      { part: 'bc', by: ['d'] },
      { part: 'a', by: ['bc'] },
    ]);
    expect(main.needs).toEqual([{ part: 'd', after: ['bc', 'a'] }]);
    expect(main.first).toBe('bc');
    expect(main.tolerances).toEqual([
      { name: 'outer', from: 'a', to: 'bc', 'iso-13920': 'B', members: [undefined, 'c'] },
    ]);
    expect(main).not.toHaveProperty('subAssemblies');
    expect(main).not.toHaveProperty('wishes');
  });

  it('is said of the parts in the group where it stays in it', () => {
    const { weldment } = split.groups[0]!;
    expect(weldment.parts.map(({ id }) => id)).toEqual(['b', 'c']);
    expect(weldment.contacts).toEqual([['b', 'c']]);
    expect(weldment.joints?.map(({ between }) => between)).toEqual([['b', 'c']]);
    expect(weldment.blocking).toEqual([{ part: 'b', by: ['c'] }]);
    expect(weldment.needs).toEqual([{ part: 'c', after: ['b'] }]);
    expect(weldment.first).toBe('b');
    expect(weldment.tolerances.map(({ name }) => name)).toEqual(['inner']);
  });

  it('keeps contacts of members apart: only the pairs that are given meet', () => {
    const contacts = [['a', 'b']] as const;
    const scene = sceneOf(splitWeldment(row({ contacts }), [BC]).main);
    expect(scene.contacts.map(({ a, b }) => [a, b])).toEqual([[0, 1]]);
    const faces = scene.contacts[0]!.patches.map(({ faceB }) => faceB);
    expect(new Set(faces)).toEqual(new Set(['b/-x']));
  });

  it('of wishes goes to whom it is about', () => {
    const wishes: Wish[] = [
      { before: ['b', 'c'], ...strength },
      { before: ['d', 'b'], ...strength },
      { grip: 'c', gripper: 'wide', ...strength },
      { held: 'd', ...strength },
      { first: 'b', ...strength, never: true },
      { tack: ['b', 'c'], near: [75, 30, 40], within: 5, ...strength },
      { tack: ['c', 'd'], near: [125, 30, 40], within: 5, ...strength },
    ];
    const { main, groups } = splitSettings({ ...DEFAULT_SETTINGS, wishes }, row(), [{ ...BC, rest: 'b/-x' }]);
    expect(main.wishes).toEqual([
      { before: ['d', 'bc'], ...strength },
      { held: 'd', ...strength },
      { tack: ['bc', 'd'], near: [125, 30, 40], within: 5, ...strength },
    ]);
    const [own] = groups;
    expect(own!.wishes?.slice(0, 3)).toEqual([
      { before: ['b', 'c'], ...strength },
      { grip: 'c', gripper: 'wide', ...strength },
      { first: 'b', ...strength, never: true },
    ]);
    // It stands on the -x face of b: x of the weldment is height there, and what was on top is at one side.
    const near = (own!.wishes![3] as Extract<Wish, { tack: unknown }>).near;
    expect(near[2]).toBeCloseTo(50, 6);
    expect(splitSettings(DEFAULT_SETTINGS, row(), [BC]).main).not.toHaveProperty('wishes');
  });
});

describe('a group as a part is on the safe side', () => {
  const [b, c] = row().parts.slice(1, 3);
  const of = (first: object, second: object) =>
    groupPart(row({ parts: [row().parts[0]!, { ...b!, ...first }, { ...c!, ...second }] }), BC);

  it('by its worst cut and how far its parts may be off', () => {
    expect(of({ cut: 0.2 }, { cut: 0.7 }).cut).toBeCloseTo(1.2, 9);
    expect(groupPart(row(), { ...BC, within: 0.1 }).cut).toBeCloseTo(b!.cut + 0.1, 9);
  });

  it('by the weaker of its steels', () => {
    const part = of({ material: findMaterial('S355')! }, { material: findMaterial('S235')! });
    expect(part.material.name).toBe('S235');
  });

  it('with only the grips that are given as soon as one part gives any', () => {
    const grip = { gripper: 'wide', face: '+z', position: [0, 0] as const, turn: 0 };
    expect(of({}, {}).grips).toBeUndefined();
    expect(of({}, { grips: [grip] }).grips).toEqual([{ ...grip, face: 'c/+z' }]);
  });

  it('and as heavy as its parts are said to be', () => {
    expect(of({}, {}).massGiven).toBeUndefined();
    const derived = 50 * 60 * 40 * b!.material.density * 1e-9;
    expect(of({ massGiven: 3 }, {}).massGiven).toBeCloseTo(3 + derived, 9);
  });
});

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { facePatches } from '../../src/geometry/patches.js';
import { solidsOverlap } from '../../src/geometry/separation.js';
import { placeSolid } from '../../src/geometry/solid.js';
import { readCell } from '../../src/io/read-cell.js';
import { readWeldment } from '../../src/io/read-weldment.js';
import { shapeSolid } from '../../src/model/part-geometry.js';
import type { AbstractWeldment, Weldment } from '../../src/model/weldment.js';
import { told } from './told.js';

const text = (path: string): string =>
  readFileSync(new URL(`../../examples/${path}`, import.meta.url), 'utf8');
const weldment = (name: string) => readWeldment(text(`${name}/${name}.weldment.yaml`), name);

/** Every pair of parts whose faces meet within the fit-up gap, with the gap; parts that overlap are marked. */
function meetings({ parts, fitUp }: Weldment): readonly string[] {
  const solids = parts.map(({ shape, pose }) => placeSolid(shapeSolid(shape), pose));
  return solids.flatMap((a, i) =>
    solids.slice(i + 1).flatMap((b, k) => {
      const names = `${parts[i]!.id} ${parts[i + 1 + k]!.id}`;
      if (solidsOverlap(a, b, 1e-6)) return [`${names} OVERLAP`];
      return facePatches(a, b, fitUp.gap).map(({ gap }) => `${names} ${gap}`);
    }),
  );
}

const WITH_SHAPES = ['roller-stand', 'box-beam', 'ladder-bracket', 'machine-sub-frame'];

describe('the examples', () => {
  it('are read without an issue', () => {
    for (const name of [...WITH_SHAPES, 'ring-of-six']) expect(told(weldment(name))).toEqual([]);
    for (const cell of ['twin-bench', 'long-bench'])
      expect(told(readCell(text(`cells/${cell}.cell.yaml`), 'c'))).toEqual([]);
  });

  it('roller-stand touches where it should, and nothing overlaps', () => {
    expect(meetings(weldment('roller-stand').value as Weldment)).toEqual([
      'base cheek-left 0',
      'base cheek-right 0',
      'base gusset 0',
      'base web 0',
      'cheek-left gusset 0',
      'cheek-left saddle-left 0',
      'cheek-left web 0.5',
      'cheek-right saddle-right 0',
      'cheek-right web 0.5',
    ]);
  });

  it('box-beam touches where it should, and nothing overlaps', () => {
    expect(meetings(weldment('box-beam').value as Weldment)).toEqual([
      'bottom diaphragm 0',
      'bottom rail-left 0',
      'bottom rail-right 0',
      'diaphragm rail-left 0.5',
      'diaphragm rail-right 0.5',
      'lid rail-left 0',
      'lid rail-right 0',
    ]);
  });

  it.each(['ladder-bracket', 'machine-sub-frame'])(
    '%s bears wherever it is joined, and nothing overlaps',
    (name) => {
      const value = weldment(name).value as Weldment;
      const met = new Set(meetings(value));
      const joined = value.joints!.map(({ between }) => `${[...between].sort().join(' ')} 0`);
      expect([...met].sort()).toEqual(joined.sort());
    },
  );

  it('every given joint is between parts that meet', () => {
    for (const name of WITH_SHAPES) {
      const value = weldment(name).value as Weldment;
      const pairs = meetings(value).map((line) => line.split(' ').slice(0, 2).sort().join(' '));
      const joints = value.joints!.map(({ between }) => [...between].sort().join(' '));
      expect(joints.filter((joint) => !pairs.includes(joint))).toEqual([]);
      expect(new Set(joints).size).toBe(joints.length);
    }
  });

  it('ring-of-six is abstract: a ring of six joints, ways by two grippers', () => {
    const ring = weldment('ring-of-six').value as AbstractWeldment;
    expect(ring.kind).toBe('abstract');
    expect(ring.parts.map(({ id }) => id)).toEqual(['a', 'b', 'c', 'd', 'e', 'f']);
    expect(ring.joints.map(({ between }) => between)).toEqual(ring.contacts);
    const grippers = new Set(ring.parts.flatMap(({ ways }) => ways.map(({ gripper }) => gripper)));
    expect([...grippers].sort()).toEqual(['narrow', 'wide']);
  });
});

import { describe, expect, it } from 'vitest';
import { NO_TURN, type Pose } from '../../../src/geometry/pose.js';
import { cleanName, partNames } from '../../../src/io/step/part-names.js';
import { nameSchema } from '../../../src/model/scalars.js';
import { recognisedIn } from '../../support/import-step.js';
import { StepFile } from '../../support/step-file.js';
import { rectangle } from '../../support/step-strokes.js';

const at = (x: number, y = 0, z = 0): Pose => ({ at: [x, y, z], turn: NO_TURN });
const box = (file: StepFile, length: number, name = ''): string =>
  file.prism([rectangle(length, 20)], 5, undefined, name);

async function namesIn(file: StepFile): Promise<string[]> {
  return (await recognisedIn(file.text())).solids.map(({ name }) => name);
}

describe('names of parts', () => {
  it('are those of uses in the assembly, at the right places, however deep and in whatever order', async () => {
    const file = new StepFile();
    const rib = file.part('rib', [box(file, 60)]);
    const foot = file.part('foot', [box(file, 80)]);
    const leg = file.assembly('leg');
    const stand = file.assembly('stand');
    file.use(stand, leg, at(0, 1000), 'leg left');
    file.use(leg, foot, at(0, 0, 100), 'foot below');
    file.use(stand, rib, at(300), 'rib front');
    file.use(leg, rib, at(0, 0, 200), 'rib upper');
    file.use(stand, leg, at(0, 2000), 'leg right');
    const { solids } = await recognisedIn(file.text());
    const seen = solids.map(({ name, within, solid }) =>
      solid.kind === 'part'
        ? [name, within.join(' / '), solid.at, (solid.sizes as { length: number }).length]
        : [],
    );
    expect(seen).toEqual(
      expect.arrayContaining([
        ['foot below', 'stand / leg left', [0, 1000, 102.5], 80],
        ['rib upper', 'stand / leg left', [0, 1000, 202.5], 60],
        ['rib front', 'stand', [300, 0, 2.5], 60],
        ['foot below-2', 'stand / leg right', [0, 2000, 102.5], 80],
        ['rib upper-2', 'stand / leg right', [0, 2000, 202.5], 60],
      ]),
    );
    expect(seen).toHaveLength(5);
  });

  it('are those of solids where a product has several, else of the product', async () => {
    const file = new StepFile();
    file.part('frame', [box(file, 60, 'post'), box(file, 70, 'rail'), box(file, 80, '')]);
    file.part('base', [box(file, 90, 'Solid1')]);
    expect(await namesIn(file)).toEqual(['post', 'rail', 'frame', 'base']);
  });

  it('that are only words of the program that wrote the file count as none', async () => {
    const file = new StepFile();
    const [rib, foot] = ['rib', 'foot'].map((name) => file.part(name, [box(file, 60)]));
    const stand = file.assembly('stand');
    file.use(stand, rib!, at(0), 'Next assembly relationship');
    file.use(stand, foot!, at(100), 'Next assembly relationship');
    file.use(stand, foot!, at(200), 'NAUO3');
    expect(await namesIn(file)).toEqual(['rib', 'foot', 'foot-2']);
  });

  it('that are none at all give parts that are numbered', async () => {
    const file = new StepFile();
    file.part('', [box(file, 60)]);
    file.part('17', [box(file, 60)]);
    expect(await namesIn(file)).toEqual(['part', 'part-2']);
  });

  it('of a hostile file are clean, short and different', async () => {
    const file = new StepFile();
    const names = [
      'a\u001b[2Jb\r\nparts: {}',
      '\u202egnp.evil',
      '__proto__',
      `long ${'x'.repeat(5000)}`,
      '<script>alert(1)</script>',
      `it's "quoted": {#} \\ ü 😀`,
      '../../etc/passwd',
    ];
    for (const name of names) file.part(name, [box(file, 60)]);
    const found = await namesIn(file);
    expect(found.map((name) => name.slice(0, 30))).toEqual([
      'a [2Jb parts: {}',
      'gnp.evil',
      'part',
      `long ${'x'.repeat(25)}`,
      '<script>alert(1)</script>',
      `it's "quoted": {#} \\ ü 😀`,
      '../../etc/passwd',
    ]);
    for (const name of found) expect(nameSchema.safeParse(name).success, name).toBe(true);
    expect(new Set(found).size).toBe(found.length);
  });

  it('are those that the library gives where text and solids do not agree', () => {
    const faces = Array.from({ length: 6 }, (_, i) => ({ first: i, last: i }));
    const mesh = (name: string) => ({
      ...{ name, brep_faces: faces },
      ...{ attributes: { position: { array: [] } }, index: { array: [] } },
    });
    const step = {
      root: { name: '', meshes: [], children: [{ name: 'node', meshes: [0, 1], children: [] }] },
      meshes: [mesh('known'), mesh('SOLID')],
    };
    const named = (product: string, count: number) => ({
      ...{ product, instance: `${product} 1`, solid: '', faces: count },
      ...{ among: false, within: ['all'] },
    });
    const names = (list: readonly ReturnType<typeof named>[]) =>
      partNames(step, list).map(({ name }) => name);
    expect(names([named('known', 6), named('other', 6)])).toEqual(['known 1', 'other 1']);
    const theirs = ['known', 'node'];
    expect(names([named('known', 6)])).toEqual(theirs);
    expect(names([named('known', 6), named('other', 7)])).toEqual(theirs);
    expect(names([named('other', 6), named('known', 6)])).toEqual(theirs);
  });

  it('are cut between characters, not within one', () => {
    expect(cleanName('😀'.repeat(90))).toBe('😀'.repeat(70));
    expect(cleanName('a\ud800b')).toBe('a b');
  });
});

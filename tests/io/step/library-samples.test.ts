import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { stepParts, type StepParts } from '../../../src/io/step/step-parts.js';
import { solidsOf } from '../../support/import-step.js';

/** Samples that come with the import library: read where they are, never copied. */
const SAMPLES = join(import.meta.dirname, '../../../node_modules/occt-import-js/test/testfiles');

async function sample(path: string): Promise<StepParts> {
  const content = readFileSync(join(SAMPLES, path));
  return stepParts(content.toString('latin1'), await solidsOf(content), path);
}

const told = ({ solids }: StepParts): unknown[] =>
  solids.map(({ name, solid }) =>
    solid.kind === 'part' ? [name, solid.key, solid.sizes] : [name, 'unknown'],
  );

describe.skipIf(!existsSync(SAMPLES))("the import library's own samples", () => {
  it('are cubes of one metre, whatever their unit', async () => {
    for (const unit of ['mm', 'm', 'in']) {
      const { solids, issues } = await sample(`cube-units/cube-${unit}.step`);
      expect(solids).toMatchObject([
        {
          name: 'Cube',
          within: ['Part'],
          solid: { key: 'block', sizes: { length: 1000, width: 1000, height: 1000 }, at: [500, 500, 500] },
        },
      ]);
      expect(issues).toEqual([]);
    }
  });

  it('are a cube of which one edge is a quarter of a cylinder: a prism with chords', async () => {
    const { solids } = await sample('rounded-cube/rounded-cube.step');
    expect(solids).toMatchObject([{ name: 'Body', solid: { key: 'prism', sizes: { length: 10 } } }]);
  });

  it('are an assembly of uses of uses: plates, nuts and a rod with their sizes, bolts and brackets not', async () => {
    const parts = await sample('cax-if/as1-tu-203.stp');
    const nut = { length: 20, width: 15, thickness: 3, holes: [{ at: [0, 0], diameter: 10 }] };
    const all = told(parts);
    expect(all.slice(0, 5)).toEqual([
      ['nut', 'plate', nut],
      ['nut-2', 'plate', nut],
      ['rod', 'round-bar', { length: 200, diameter: 10 }],
      ['bolt', 'unknown'],
      ['nut-3', 'plate', nut],
    ]);
    expect(all).toHaveLength(18);
    const plate = parts.solids.find(({ name }) => name === 'plate')!;
    expect(plate.solid).toMatchObject({
      sizes: { length: 180, width: 150, thickness: 20 },
      at: [90, 75, 10],
    });
    const seen = parts.solids.map(({ solid }) => solid.kind);
    expect(parts.issues.map(({ code }) => code)).toEqual(
      seen.filter((kind) => kind === 'unknown').map(() => 'solid-not-recognised'),
    );
  });

  it('are curved parts, which are nothing that is known here', async () => {
    for (const path of [
      'cax-if/sg1-c5-214.stp',
      'cax-if/io1-cm-214.stp',
      'conical-surface/conical-surface.step',
    ]) {
      const { solids, issues } = await sample(path);
      expect(solids.map(({ solid }) => solid.kind)).toEqual(['unknown']);
      expect(issues).toMatchObject([{ code: 'solid-not-recognised', severity: 'error' }]);
    }
  });
});

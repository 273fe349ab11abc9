import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { canonicalText } from '../../src/io/canonical.js';
import { benchSources, tackedPlan } from '../support/tacked-plan.js';

const ROOT = join(import.meta.dirname, '..', '..');
const MAIN = join(ROOT, 'dist', 'cli', 'main.js');
const folder = mkdtempSync(join(tmpdir(), 'tackwright-calibrate-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const at = (name: string): string => join(folder, name);

function write(name: string, text: string): string {
  writeFileSync(at(name), text);
  return at(name);
}

/** As `commands.test.ts`, from a build. */
describe.skipIf(!existsSync(MAIN))('calibrate, from dist', () => {
  const files = { plan: at('p.json'), weldment: at('w.yaml'), cell: at('c.yaml') };

  beforeAll(async () => {
    const sources = benchSources({
      weldment: 'upright-plate',
      parts: {
        base: { plate: { length: 320, width: 220, thickness: 10 }, at: [0, 0, 5] },
        plate: { plate: { length: 200, width: 140, thickness: 8 }, at: [0, 0, 80], turn: [-90, 0, 0] },
      },
      joints: [{ between: ['base', 'plate'], sides: 'both', leg: 4 }],
      first: 'base',
    });
    const plan = tackedPlan(sources, await loadLinearPrograms(), [
      ['base'],
      ['plate', { seam: 'J1.1', start: 10 }, { seam: 'J1.1', start: 150 }],
    ]);
    write('p.json', canonicalText(plan));
    write('w.yaml', sources.weldment.text);
    write('c.yaml', sources.cell!.text);
  });

  const run = (measurements: string, ...more: string[]) => {
    const given = Object.entries(files).flatMap(([name, file]) => [`--${name}`, file]);
    const { status, stdout, stderr } = spawnSync(
      process.execPath,
      [MAIN, 'calibrate', measurements, ...given, ...more],
      { cwd: ROOT, encoding: 'utf8' },
    );
    return { status, stdout, stderr };
  };

  const GOOD = [
    'step,part,direction,millimetres,at_x,at_y,at_z',
    '2,plate,y,-3.1,0,0,150',
    '2,plate,y,-3,90,0,150',
    '2,plate,y,-1.6,,,',
    'J1.1@10,plate,y,-2.5,0,0,150',
  ].join('\n');

  it('prints the fit and writes settings that plan takes', () => {
    const out = at('fitted.yaml');
    const { status, stdout, stderr } = run(write('good.csv', GOOD), '--out', out);
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(stdout).toContain('Shrinkage factors of upright-plate, fitted to 4 measurements');
    expect(stdout).toContain(`Written: ${out}`);
    const written = parse(readFileSync(out, 'utf8')) as { distortion: Record<string, unknown> };
    expect(written.distortion['origin']).toMatch(/^fitted to 4 measurements in good\.csv: /);
  });

  it('prints one JSON value when asked', () => {
    const { status, stdout } = run(write('good.csv', GOOD), '--json', '--out', at('other.yaml'));
    expect(status).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({
      kind: 'calibrated',
      calibration: { weldment: 'upright-plate' },
    });
  });

  it('tells every issue of bad measurements in one run, and writes nothing', () => {
    const bad = write('bad.csv', 'step,part,direction,millimetres\n2,plate,u,0.1\n2,plate,x,much');
    const { status, stdout, stderr } = run(bad, '--out', at('never.yaml'));
    expect({ status, stdout }).toEqual({ status: 10, stdout: '' });
    expect(stderr.trimEnd().split('\n')).toEqual([
      expect.stringContaining(`${bad}:2: direction: `),
      expect.stringContaining(`${bad}:3: millimetres: `),
    ]);
    expect(readdirSync(folder).filter((name) => /never|tmp/.test(name))).toEqual([]);
  });

  it('refuses to write over an input, and to do without one', () => {
    const good = write('good.csv', GOOD);
    expect(run(good, '--out', good).status).toBe(2);
    expect(run(at('none.csv')).status).toBe(10);
    const bare = spawnSync(process.execPath, [MAIN, 'calibrate', good], { encoding: 'utf8' });
    expect(bare.status).toBe(2);
  });
});

import { describe, expect, it } from 'vitest';
import { roundHollowSection } from '../../../src/geometry/sections.js';
import { rectangularHollowSection } from '../../../src/geometry/shapes.js';
import type { RecognisedPart } from '../../../src/io/step/recognised.js';
import { partsIn } from '../../support/import-step.js';
import { StepFile } from '../../support/step-file.js';
import { circle, rectangle } from '../../support/step-strokes.js';

/*
 * Hollow sections by the tables of EN 10219-2:2006 (cold formed) and EN 10210-2:2006 (hot finished), from memory: height,
 * width, wall in mm; area in cm2; mass in kg/m, at 7850 kg/m3. Both say by which corner radii tables are reckoned: cold formed,
 * up to 6 mm of wall, 2 T outside and T inside; hot finished 1.5 T outside and T inside.
 */
const TABLES = [
  {
    norm: 'EN 10219-2',
    outside: 2,
    rows: [
      [40, 40, 3, 4.21, 3.3],
      [50, 50, 4, 6.95, 5.45],
      [60, 60, 4, 8.55, 6.71],
      [100, 50, 4, 10.9, 8.59],
      [120, 60, 5, 16.4, 12.8],
      [100, 100, 5, 18.4, 14.4],
    ],
  },
  {
    norm: 'EN 10210-2',
    outside: 1.5,
    rows: [
      [40, 40, 3, 4.34, 3.41],
      [100, 100, 5, 18.7, 14.7],
    ],
  },
] as const;
/** Round ones are the same in both: diameter, wall in mm; area in cm2; mass in kg/m. */
const ROUND = [
  [48.3, 3.2, 4.53, 3.56],
  [60.3, 4, 7.07, 5.55],
  [88.9, 4, 10.7, 8.38],
  [114.3, 5, 17.2, 13.5],
] as const;

/** Three digits, as the tables have them. */
const threeDigits = (value: number): number => Number(value.toPrecision(3));

/** What the corners of a square have more than those of a circle, outside less than inside, cm2. */
const corners = (outside: number, inside: number): number =>
  ((4 - Math.PI) * (outside ** 2 - inside ** 2)) / 100;

describe('hollow sections by the tables of the standards', () => {
  it('have the area of our sharp-cornered solids less that of the corners', () => {
    for (const { norm, outside, rows } of TABLES)
      for (const [height, width, wall, area, mass] of rows) {
        const sharp = rectangularHollowSection(1000, width, height, wall).volume / 1000 / 100;
        const more = corners(outside * wall, wall);
        const what = `${norm} ${height} x ${width} x ${wall}`;
        expect(threeDigits(sharp - more), what).toBe(area);
        expect(threeDigits((sharp - more) * 0.785), what).toBe(mass);
        // What the sharp corners make heavier: 2 to 6 % of cold formed, 1 to 3 % of hot finished sections.
        const share = more / area;
        const [least, most] = outside === 2 ? [0.02, 0.06] : [0.01, 0.03];
        expect(share, what).toBeGreaterThan(least);
        expect(share, what).toBeLessThan(most);
      }
  });

  it('have the area and mass of our solids where they are round', () => {
    for (const [diameter, wall, area, mass] of ROUND) {
      const ours = roundHollowSection(1000, diameter, wall).volume / 1000 / 100;
      expect(threeDigits(ours)).toBe(area);
      expect(threeDigits(ours * 0.785)).toBe(mass);
    }
  });

  it('come from a STEP file with the sizes and the mass of the table, corners sharp', async () => {
    for (const { norm, outside, rows } of TABLES) {
      const file = new StepFile();
      for (const [height, width, wall] of rows) {
        const hole = rectangle(width - 2 * wall, height - 2 * wall, wall, true);
        file.part(`${height} x ${width} x ${wall}`, [
          file.prism([rectangle(width, height, outside * wall), hole], 1000),
        ]);
      }
      const parts = await partsIn(file.text());
      for (const [height, width, wall, , mass] of rows) {
        const found = parts.get(`${height} x ${width} x ${wall}`)!;
        expect(found.key, norm).toBe('rectangular-hollow-section');
        const { length, width: one, height: other, wall: thick } = found.sizes as Record<string, number>;
        expect([length, thick, ...[one!, other!].sort((a, b) => b - a)]).toEqual([1000, wall, height, width]);
        expect(threeDigits(found.mass!)).toBe(mass);
        expect(found.notes[0]).toBe(`corners of radius ${outside * wall}, ${wall} mm are drawn sharp`);
      }
    }
  });

  it('come from a STEP file as round ones too, whose mass needs no correction', async () => {
    const file = new StepFile();
    for (const [diameter, wall] of ROUND)
      file.part(`tube ${diameter}`, [
        file.prism([circle([0, 0], diameter), circle([0, 0], diameter - 2 * wall, true)], 1000),
      ]);
    const parts = await partsIn(file.text());
    for (const [diameter, wall] of ROUND)
      expect(parts.get(`tube ${diameter}`)).toMatchObject({
        key: 'round-hollow-section',
        sizes: { length: 1000, diameter, wall },
        mass: undefined,
      } satisfies Partial<RecognisedPart>);
  });
});

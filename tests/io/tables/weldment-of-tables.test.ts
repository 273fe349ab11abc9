import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readWeldment } from '../../../src/io/read-weldment.js';
import { readCsvTable } from '../../../src/io/tables/csv-table.js';
import { JOINT_TABLE } from '../../../src/io/tables/joints-table.js';
import { PART_TABLE } from '../../../src/io/tables/parts-table.js';
import { atOrigin, weldmentOfTables } from '../../../src/io/tables/weldment-of-tables.js';
import { weldmentYaml } from '../../../src/io/weldment-yaml.js';
import { issueLine } from '../../../src/model/issue.js';
import type { WeldmentFile } from '../../../src/model/weldment.js';
import { tablesOfWeldment } from '../../support/tables-of-weldment.js';

const tabled = (parts: string, joints?: string, name = 'w') =>
  weldmentOfTables({
    name,
    parts: readCsvTable(parts, 'p.csv', PART_TABLE).table!,
    joints: joints === undefined ? undefined : readCsvTable(joints, 'j.csv', JOINT_TABLE).table!,
  });

/** What is told of tables, and where nothing is, what reading the weldment file tells, at its cells. */
function told(parts: string, joints?: string): readonly string[] {
  const { file, notes, origins, issues } = tabled(parts, joints);
  if (issues.length > 0) return issues.map(issueLine);
  const otherwise = { file: 'p.csv', line: 0, column: '' };
  const { issues: read } = readWeldment(weldmentYaml(file, notes), 'w.yaml');
  return read.map((issue) => issueLine(atOrigin(issue, origins, otherwise)));
}

const number = fc.double({ min: -900, max: 900, noNaN: true }).map((x) => Math.round(x * 1000) / 1000 + 0);
const length = fc.integer({ min: 10, max: 40_000 }).map((x) => x / 10);
const box = fc.tuple(length, length, length);
/** Names as people and worse give them; a table has no space round a name. */
const name = fc
  .oneof(
    fc.constantFrom('007', '1e3', 'yes', '=1+1', 'a,b', 'x: y', "'q'", '-'),
    fc.string({ maxLength: 12 }),
  )
  .map((text) => text.trim().replaceAll(/[^\p{L}\p{N}\p{P}\p{S} ]/gu, ''))
  // A line of a CSV file that starts with # is a remark, and `csvTable` guards what a spreadsheet would work out.
  .filter((text) => !/^(?:$|__proto__$|#|'*[=+\-@])/.test(text) || text === '=1+1');
const shape = fc.oneof(
  box.map(([l, w, t]) => ({ plate: { length: l, width: w, thickness: t } })),
  box.map(([l, w, h]) => ({ block: { length: l, width: w, height: h } })),
  box.map(([l, w, h]) => ({
    'rectangular-hollow-section': { length: l, width: w, height: h, wall: Math.min(w, h) / 4 },
  })),
  box.map(([l, d]) => ({ 'round-hollow-section': { length: l, diameter: d, wall: d / 4 } })),
  box.map(([l, w, h]) => ({ angle: { length: l, width: w, height: h, thickness: Math.min(w, h) / 2 } })),
  box.map(([l, h, w]) => ({ channel: { length: l, height: h, width: w, web: w / 3, flange: h / 5 } })),
  box.map(([l, h, w]) => ({ 'i-section': { length: l, height: h, width: w, web: w / 3, flange: h / 5 } })),
  box.map(([l, w, t]) => ({ 'flat-bar': { length: l, width: w, thickness: t } })),
  box.map(([l, d]) => ({ 'round-bar': { length: l, diameter: d } })),
  box.map(([l, w]) => ({ 'square-bar': { length: l, width: w } })),
  box.map(([l, w, t]) => ({
    plate: {
      thickness: t,
      outline: [
        [0, 0],
        [l, 0],
        [0, w],
      ],
      holes: [{ at: [l / 4, w / 4], diameter: Math.min(l, w) / 16 }],
    },
  })),
  box.map(([l, w, t]) => ({
    prism: {
      length: t,
      outline: [
        [-l, 0],
        [l, 0],
        [0, w],
      ],
    },
  })),
);
const part = fc.record(
  {
    shape,
    at: fc.tuple(number, number, number),
    turn: fc.tuple(number, number, number),
    material: fc.constantFrom('S235', 'S355', '1.4301'),
    mass: length,
  },
  { requiredKeys: ['shape', 'at'] },
);
const weldment = fc
  .uniqueArray(fc.tuple(name, part), { minLength: 2, maxLength: 6, selector: ([one]) => one })
  .chain((parts) =>
    fc
      .uniqueArray(
        fc.record(
          {
            between: fc.subarray(
              parts.map(([one]) => one),
              { minLength: 2, maxLength: 2 },
            ),
            type: fc.constantFrom('fillet', 'butt', 'corner', 'lap', 'edge'),
            leg: length,
            sides: fc.constantFrom('one', 'both', 'all'),
            open: fc.tuple(fc.constant(1), number, number),
          },
          { requiredKeys: ['between'] },
        ),
        { maxLength: 4, selector: ({ between }) => between.join('\n') },
      )
      .map((joints) => ({
        weldment: 'w',
        units: 'mm kg N s deg',
        parts: Object.fromEntries(parts.map(([one, { shape: key, ...rest }]) => [one, { ...key, ...rest }])),
        joints,
      })),
  );

describe('weldmentOfTables', () => {
  it('gives back the weldment whose tables are read', () => {
    fc.assert(
      fc.property(weldment, (file) => {
        const { parts, joints } = tablesOfWeldment(file as unknown as WeldmentFile);
        const back = tabled(parts, joints);
        expect(back.issues).toEqual([]);
        const direct = readWeldment(JSON.stringify(file), 'w.json');
        const read = readWeldment(weldmentYaml(back.file, back.notes), 'w.yaml');
        expect(read.issues.filter(({ severity }) => severity === 'error')).toEqual([]);
        expect(read.value).toEqual(direct.value);
        expect(read.value).toBeDefined();
      }),
      { numRuns: 40 },
    );
  });

  it('tells columns and units that are not right', () => {
    const row = 'a,block,1,2,3,0,0,0\n';
    expect([
      ...told(`part,shape,lenght,width,height,x,y,z,colour\nunits,,mm,mm,mm,mm,mm,mm,\n${row}`),
      ...told('Part,SHAPE,x,y\nunits,,mm,mm\n'),
      ...told(`part,shape,length,width,height,x,y,z\n${row}`),
      ...told(`part,shape,length,width,height,x,y,z\n,,cm,in,,m,mm,furlong\n${row}`),
      ...told('part,shape,length,width,height,x,y,z\n,,mm,mm,mm,mm,mm,mm\n'),
    ]).toMatchInlineSnapshot(`
      [
        "p.csv:1: colour: "colour" is no column here; columns are part, shape, length, width, height, thickness, diameter, wall, web, flange, outline, holes, material, mass, x, y, z, roll, pitch, yaw, rest; strike what is not read",
        "p.csv:1: lenght: "lenght" is no column here; maybe \`length\`; strike what is not read",
        "p.csv:1: z: the column is missing; needed are part, shape, x, y, z",
        "p.csv:2: there is no row of units; write one below the names: mm below length, width, height, x, y, z",
        "p.csv:2: height: the column has no unit; write mm in the row of units, and numbers in it",
        "p.csv:2: length: the unit is "cm"; multiply by 10 in the table and write mm",
        "p.csv:2: width: the unit is "in"; multiply by 25.4 in the table and write mm",
        "p.csv:2: x: the unit is "m"; multiply by 1000 in the table and write mm",
        "p.csv:2: z: the unit is "furlong"; write mm in the row of units, and numbers in it",
        "p.csv:1: there is no part below the column names; write one a row",
      ]
    `);
  });

  it('tells cells that are not right, each by its row and column', () => {
    const head =
      'part,shape,length,width,thickness,diameter,outline,holes,x,y,z,yaw,material,rest,mass\nunits,,mm,mm,mm,mm,mm,mm,mm,mm,mm,deg,,,kg\n';
    expect([
      ...told(
        `${head}a,plate,10,20,"3,5",4,,,0,0,0,,,,\n,plate\na,plat,10,20,3,,,,0,0,,,,,\nb,plt,10,20,3 mm,,0 0; 1,1 2,x,0,0,,,,\n`,
      ),
      ...told(`${head}a,plate,100,200,0,,,0 0 300,0,0,0,,S23,+z,-1\nb,round-bar,100,,,,,,0,0,0,,S235,+q,\n`),
    ]).toMatchInlineSnapshot(`
      [
        "p.csv:3: diameter: a plate has no diameter; empty the cell: it has length, width, thickness, outline, holes",
        "p.csv:3: thickness: "3,5" is no number; write a point for the comma",
        "p.csv:4: part: the cell is empty; fill it in",
        "p.csv:5: part: "a" is there already, in row 3; give every part its own name",
        "p.csv:6: shape: "plt" is no shape; use one of plate, block, rectangular-hollow-section, round-hollow-section, angle, channel, i-section, flat-bar, round-bar, square-bar, prism",
        "p.csv:6: x: "x" is no number; write a number",
        "p.csv:3: mass: got -1; give above 0 (kg; given wins over the mass derived from the shape)",
        "p.csv:3: material: unknown material "S23"; maybe \`S235\`: use one of S235, S275, S355, 1.4301, aluminium",
        "p.csv:3: holes: got [0, 0]; must leave the hole wholly inside the plate, clear of its edge",
        "p.csv:3: thickness: got 0; give above 0",
        "p.csv:4: diameter: is missing; add it, a number",
      ]
    `);
  });

  it('tells joints that are not right', () => {
    const parts =
      'part,shape,length,width,height,x,y,z\nunits,,mm,mm,mm,mm,mm,mm\npost,block,10,20,30,0,0,0\nfoot,block,10,20,30,0,0,30\n';
    const head = 'a,b,type,leg,sides,open\n,,,mm,,\n';
    expect([
      ...told(parts, `${head}post,foot,,,,\nfoot,post,,,,\npost,,,,,\npost,x,,,,1 0\n`),
      ...told(parts, `${head}post,fot,filet,-1,2,0 0 0\n`),
    ]).toMatchInlineSnapshot(`
      [
        "j.csv:4: b: "foot" and "post" are joined already, in row 3; keep one row for a pair of parts",
        "j.csv:5: b: the cell is empty; fill it in",
        "j.csv:6: open: "1 0" is not a direction, as \`0 1 0\`; write a direction, as \`0 1 0\`, with ; between several",
        "j.csv:3: b: no part is named "fot"; maybe \`foot\`",
        "j.csv:3: leg: got -1; give above 0 (leg length of the weld, mm)",
        "j.csv:3: open: got [0, 0, 0]; must not be the zero vector",
        "j.csv:3: sides: got "2"; use one of one, both, all",
        "j.csv:3: type: got "filet"; maybe \`fillet\`: use one of fillet, butt, corner, lap, edge",
      ]
    `);
  });

  it('writes the file for review', () => {
    const parts =
      'part,shape,length,width,wall,height,x,y,z,roll,pitch,yaw,material\nunits,,mm,mm,mm,mm,mm,mm,mm,deg,deg,deg,\nleg 1,RHS,400,60,4,40,0,0,200,,90,,S355\n2,Square bar,100,20,,,0,0,410,,,,S355\n';
    const { file, notes } = tabled(parts, 'a,b,leg\n,,mm\n2,leg 1,3\n', 'stand');
    expect(weldmentYaml(file, notes)).toMatchInlineSnapshot(`
      "# stand, made of p.csv and j.csv by tackwright import.
      # Look it through before it is planned: sizes and places are those of the tables, and all else is at its default.
      # Not in tables: grips, needs, tolerances, fit-up, first (README). What it implies: tackwright inspect THIS-FILE

      weldment: stand
      units: mm kg N s deg
      material: S355

      parts:
        "2": {square-bar: {length: 100, width: 20}, at: [0, 0, 410]}
        leg 1: {rectangular-hollow-section: {length: 400, width: 60, height: 40, wall: 4}, at: [0, 0, 200], turn: [0, 90, 0]}

      # type, leg and sides that a row leaves empty are fillet, 4 mm and both
      joints:
        - {between: ["2", leg 1], leg: 3}
      "
    `);
  });
});

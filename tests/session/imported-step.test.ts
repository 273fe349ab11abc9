import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { readWeldment } from '../../src/io/read-weldment.js';
import { NO_TURN } from '../../src/geometry/pose.js';
import type { Weldment } from '../../src/model/weldment.js';
import { factsOf } from '../../src/planning/plan.js';
import { contradictions } from '../../src/session/contradictions.js';
import { readInputs } from '../../src/session/inputs.js';
import { standInCell } from '../../src/session/stand-in-cell.js';
import { importOf, outcomeOf } from '../support/import-step.js';
import { StepFile } from '../support/step-file.js';
import { stepOfWeldment } from '../support/step-of-weldment.js';
import { rectangle } from '../support/step-strokes.js';

const EXAMPLES = join(import.meta.dirname, '../../examples');
const example = (path: string): string => readFileSync(join(EXAMPLES, path), 'utf8');
const at = (x: number, y: number, z: number) => ({ at: [x, y, z] as const, turn: NO_TURN });

/** Contacts, joints and masses of a weldment, on a stand-in table or in a cell, and what contradicts itself. */
async function meaning(text: string, cell?: string) {
  const sources = {
    weldment: { text, name: 'a.weldment.yaml' },
    cell: cell === undefined ? undefined : { text: cell, name: 'a.cell.yaml' },
  };
  const { inputs, issues } = readInputs(sources, { cellNeeded: false });
  const weldment = inputs!.weldment as Weldment;
  const where = inputs!.cell ?? standInCell(weldment);
  const facts = factsOf(weldment, where, inputs!.settings, await loadLinearPrograms());
  const { parts, contacts } = facts.scene;
  const names = ({ a, b }: { a: number; b: number }): string[] => [a, b].map((part) => parts[part]!.part.id);
  return {
    errors: [...issues, ...contradictions(facts, inputs!.weldmentDocument, cell !== undefined)],
    contacts: contacts.map((contact) => [
      ...names(contact),
      Math.round(contact.patches.reduce((sum, { area }) => sum + area, 0)),
    ]),
    joints: facts.joints.map((joint) => [
      ...[...names(joint), joint.type, joint.leg],
      joint.seams.map(({ length }) => Math.round(length)).sort((a, b) => a - b),
    ]),
    masses: parts.map(({ part, mass }) => [part.id, mass.toFixed(3)]),
  };
}

/** An example without the joints that it gives. */
const jointless = (text: string): string =>
  text.replace(/^joints:.*\n(?:[ -].*\n|\n)*/m, '').replace(/^(?:wishes|first):.*\n(?: .*\n)*/gm, '');

describe('a weldment file made of a STEP file', () => {
  for (const name of ['roller-stand', 'box-beam', 'ladder-bracket', 'machine-sub-frame'])
    it(`of the solids of the example ${name} means the same as it, with the joints that are proposed`, async () => {
      const text = example(`${name}/${name}.weldment.yaml`);
      const weldment = readWeldment(text, name).value as Weldment;
      const made = await importOf(stepOfWeldment(weldment));
      expect(made.issues).toEqual([]);
      const [ours, theirs] = [await meaning(jointless(text)), await meaning(made.text)];
      expect(theirs.errors).toEqual([]);
      expect(theirs.joints.length).toBe(made.inspection.joints.length);
      expect(theirs.contacts).toEqual(ours.contacts);
      expect(theirs.joints).toEqual(ours.joints);
      expect(theirs.masses).toEqual(ours.masses);
    });

  it('is read with a cell without an error', async () => {
    const weldment = readWeldment(example('roller-stand/roller-stand.weldment.yaml'), 'a').value as Weldment;
    const { text } = await importOf(stepOfWeldment(weldment));
    expect((await meaning(text, example('cells/twin-bench.cell.yaml'))).errors).toEqual([]);
  });

  it('is the same text each time, with comments on what to look at', async () => {
    const file = new StepFile();
    const base = file.part('base', [file.prism([rectangle(200, 120)], 10)]);
    const rail = file.part('rail', [file.prism([rectangle(60, 60, 8), rectangle(52, 52, 4, true)], 100)]);
    const knob = file.part('knob', [
      file.polyhedron(
        [
          [0, 0, 0],
          [20, 0, 0],
          [0, 20, 0],
          [0, 0, 20],
        ],
        [
          [0, 2, 1],
          [0, 1, 3],
          [1, 2, 3],
          [2, 0, 3],
        ],
      ),
    ]);
    const stand = file.assembly('stand');
    file.use(stand, base, at(0, 0, 0), 'base');
    file.use(stand, rail, at(-40, 0, 10), 'post');
    file.use(stand, rail, at(40, 0, 10), 'post');
    file.use(stand, knob, at(0, 0, 200), 'knob');
    const made = await importOf(file.text());
    expect((await importOf(file.text())).text).toBe(made.text);
    expect([made.inspection.parts.length, made.inspection.joints.length]).toEqual([3, 2]);
    expect(made.text).toMatchInlineSnapshot(`
      "# Made of the solids of test.step. Look it through before planning:
      # - every part is taken for S235: a STEP file tells no material that is understood here
      # - coordinates are those of the STEP file: z is taken for up, and the lowest part should stand on the table
      # - a plate and a flat bar look alike: each is a plate, which counts as cut all around
      # - how a part lies at the infeed is not in a STEP file: where it lies on another face than its lowest stable one, or of two alike not on -z, set \`rest\`

      weldment: test
      units: mm kg N s deg
      material: S235

      # NOT TAKEN: knob; in stand; 4 faces, 0 of them curved, 20 x 20 x 20 mm, 1.3 cm3, and in no direction nearly one section from end to end
      parts:
        base: {plate: {length: 200, width: 120, thickness: 10}, at: [0, 0, 5]} # in stand
        post: {rectangular-hollow-section: {length: 100, width: 60, height: 60, wall: 4}, at: [-40, 0, 60], turn: [0, 90, 0], mass: 0.671} # in stand; corners of radius 8, 4 mm are drawn sharp; the shape alone would be 4.82 % heavier: the mass is that of the solid in S235
        post-2: {rectangular-hollow-section: {length: 100, width: 60, height: 60, wall: 4}, at: [40, 0, 60], turn: [0, 90, 0], mass: 0.671} # in stand; corners of radius 8, 4 mm are drawn sharp; the shape alone would be 4.82 % heavier: the mass is that of the solid in S235

      # proposed from the contacts: strike what is not welded, and set types, legs and sides by the drawing
      joints:
        - {between: [base, post], type: fillet, leg: 4, sides: both} # 2 seams: 60 mm, 60 mm
        - {between: [base, post-2], type: fillet, leg: 4, sides: both} # 2 seams: 60 mm, 60 mm
      "
    `);
    expect(made.issues.map(({ code, path }) => `${code} ${path}`)).toEqual([
      'solid-simplified post',
      'solid-simplified post-2',
      'solid-not-recognised knob',
    ]);
  });

  it('tells of parts that overlap or stand alone by the lines of the file that is written', async () => {
    const file = new StepFile();
    file.part('one', [file.prism([rectangle(100, 60)], 10)]);
    file.part('two', [file.prism([rectangle(100, 60)], 10, at(50, 0, 2))]);
    file.part('far', [file.prism([rectangle(100, 60)], 10, at(200, 0, 0))]);
    const { text, inspection, issues } = await importOf(file.text());
    expect(inspection.joints).toEqual([]);
    const lines = text.split('\n');
    const told = issues.map(({ code, path, line }) => [code, path, lines[line - 1]!.trim().split(':')[0]]);
    expect(told).toEqual([
      ['parts-overlap', 'parts.two', 'two'],
      ['part-joined-to-nothing', 'parts.far', 'far'],
      ['part-joined-to-nothing', 'parts.one', 'one'],
      ['part-joined-to-nothing', 'parts.two', 'two'],
    ]);
    expect(
      issues.every(({ severity, file: name }) => severity === 'warning' && name === 'test.weldment.yaml'),
    ).toBe(true);
  });

  it('is none where no solid is a part', async () => {
    const file = new StepFile();
    const corners = [0, 1, 2].map((i): [number, number, number] => [
      i === 0 ? 9 : 0,
      i === 1 ? 9 : 0,
      i === 2 ? 9 : 0,
    ]);
    const faces = [
      [0, 2, 1],
      [0, 1, 3],
      [1, 2, 3],
      [2, 0, 3],
    ];
    file.part('spike', [file.polyhedron([[0, 0, 0], ...corners], faces)]);
    expect(await outcomeOf(file.text())).toMatchObject({
      kind: 'bad-input',
      issues: [{ code: 'solid-not-recognised', severity: 'error' }],
    });
  });
});

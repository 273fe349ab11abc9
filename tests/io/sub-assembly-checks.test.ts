import { describe, expect, it } from 'vitest';
import { readWeldment } from '../../src/io/read-weldment.js';
import { told } from './told.js';

/** Three plates on a base, each joined to it, the middle one to both others; our own invention. */
const file = (groups: string, more = ''): string =>
  `weldment: w
units: mm kg N s deg
parts:
  base: { plate: { length: 300, width: 200, thickness: 10 }, at: [0, 0, 5] }
  left: { plate: { length: 100, width: 80, thickness: 8 }, at: [-60, 0, 60], turn: [0, 90, 0] }
  mid: { plate: { length: 112, width: 80, thickness: 8 }, at: [0, 0, 50], turn: [90, 0, 0] }
  right: { plate: { length: 100, width: 80, thickness: 8 }, at: [60, 0, 60], turn: [0, 90, 0] }
joints:
  - { between: [base, left] }
  - { between: [base, mid] }
  - { between: [base, right] }
  - { between: [left, mid] }
  - { between: [mid, right] }
${more}sub-assemblies: ${groups}
`;

const issues = (groups: string, more?: string): readonly string[] =>
  told(readWeldment(file(groups, more), 'w')).map((line) => line.replace(/^w:\d+: /, ''));

describe('sub-assemblies of a weldment file', () => {
  it.each(['off', 'auto', '[{ name: frame, parts: [left, mid, right] }]'])('may be %s', (groups) => {
    expect(issues(groups)).toEqual([]);
  });

  it('are kept as the file has them, and absent where it says nothing', () => {
    const read = (text: string) => readWeldment(text, 'w').value;
    const given = '[{ name: frame, parts: [left, mid], rest: left/-z, within: 0.3 }]';
    expect(read(file(given))).toMatchObject({
      subAssemblies: [{ name: 'frame', parts: ['left', 'mid'], rest: 'left/-z', within: 0.3 }],
    });
    expect(read(file('auto'))).toMatchObject({ subAssemblies: 'auto' });
    expect(read(file('auto').replace(/sub-assemblies.*\n/, ''))).not.toHaveProperty('subAssemblies');
  });

  it.each([
    ['some', 'sub-assemblies: got "some"; use one of off, auto, or give a list'],
    [
      '[{ name: frame, parts: [left] }]',
      'sub-assemblies[0].parts: got ["left"], 1 entry; give at least 2 (two or more that are joined to one another, at least one fewer than there are)',
    ],
    [
      '[{ name: frame, parts: [left, middle] }]',
      'sub-assemblies[0].parts[1]: no part is named "middle"; the parts are base, left, mid, right',
    ],
    [
      '[{ name: mid, parts: [left, mid] }]',
      'sub-assemblies[0].name: a part or another sub-assembly is named "mid"; give it a name of its own',
    ],
    [
      '[{ name: f, parts: [left, mid] }, { name: f, parts: [base, right] }]',
      'sub-assemblies[1].name: a part or another sub-assembly is named "f"; give it a name of its own',
    ],
    [
      '[{ name: f, parts: [left, mid] }, { name: g, parts: [mid, right] }]',
      'sub-assemblies[1].parts[0]: "mid" is in sub-assemblies[0] already; name each part once',
    ],
    [
      '[{ name: f, parts: [left, mid, right, base] }]',
      'sub-assemblies[0].parts: got all 4 parts of the weldment; leave one part out at least, or strike the sub-assembly',
    ],
    [
      '[{ name: f, parts: [left, right] }]',
      'sub-assemblies[0].parts: no joints within it lead from "left" to right; add the part between them, or leave these out',
    ],
  ])('%s: %s', (groups, issue) => {
    expect(issues(groups)).toEqual([issue]);
  });

  it('with a rest that the parts together do not have say which there are', () => {
    const [line, ...others] = issues('[{ name: f, parts: [left, mid], rest: mid/+w }]');
    expect(others).toEqual([]);
    expect(line).toContain('sub-assemblies[0].rest: "f" has no rest "mid/+w"; maybe `mid/+');
  });

  it('do not take parts that a person sets, nor steel with what no magnet holds', () => {
    const groups = '[{ name: f, parts: [left, mid] }]';
    const text = file(groups);
    const told1 = told(readWeldment(text.replace('mid: {', 'mid: { manual: true,'), 'w'));
    expect(told1).toEqual([
      'w:14: sub-assemblies[0].parts[1]: "mid" is `manual`, and robots tack sub-assemblies; leave it out of the sub-assembly, or strike `manual`',
    ]);
    const told2 = told(readWeldment(text.replace('mid: {', 'mid: { material: aluminium,'), 'w'));
    expect(told2).toEqual([
      'w:14: sub-assemblies[0].parts: magnets hold S235, aluminium unlike well; group parts that magnets hold alike',
    ]);
  });

  it('by which needs wait for one another are refused as a cycle', () => {
    const needs = 'needs: [{ part: left, after: [right] }, { part: right, after: [mid] }]\n';
    expect(issues('[{ name: f, parts: [left, mid] }]', needs)).toEqual([
      'sub-assemblies: with these sub-assemblies needs form a cycle: f, right; group other parts, or drop one of the needs',
    ]);
    expect(issues('[{ name: f, parts: [right, mid] }]', needs)).toEqual([]);
  });

  it('are no key of weldments without shapes', () => {
    const text = 'weldment: w\nunits: mm kg N s deg\nparts: { a: {}, b: {} }\nsub-assemblies: auto\n';
    expect(told(readWeldment(text, 'w'))[0]).toContain('unknown key `sub-assemblies`');
  });
});

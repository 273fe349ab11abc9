import { describe, expect, it } from 'vitest';
import { readMeasurements } from '../../src/io/read-measurements.js';
import { issueLine } from '../../src/model/issue.js';

const read = (...lines: string[]) => readMeasurements(lines.join('\n'), 'm.csv');
const issues = (...lines: string[]): string[] => read(...lines).issues.map(issueLine);

const HEAD = 'step,part,direction,millimetres';

describe('measurements', () => {
  it('are read in any order of the columns, with quotes, notes and empty lines', () => {
    const text =
      '\uFEFFpart, step ,millimetres,direction\r\n# laid by hand\r\n\r\n"web, ""left""",3,-0.25,X\r\nbase,tack-1,.5,z\r\n';
    expect(readMeasurements(text, 'm.csv')).toEqual({
      issues: [],
      value: [
        { line: 4, step: '3', part: 'web, "left"', direction: 'x', millimetres: -0.25, at: undefined },
        { line: 5, step: 'tack-1', part: 'base', direction: 'z', millimetres: 0.5, at: undefined },
      ],
    });
  });

  it('may say which point was measured, line by line', () => {
    const { value } = read(`${HEAD},at_x,at_y,at_z`, '2,web,y,0.4,10,-20,1.5e2', '2,web,y,0.3,,,');
    expect(value!.map(({ at }) => at)).toEqual([[10, -20, 150], undefined]);
  });

  it('are refused with one line an issue, all in one run', () => {
    expect(
      issues(`${HEAD},at_x,at_y,at_z`, '2,web,up,0.4,,,', '2,,y,"0,4",1,2,x', '2,web,y', '2,web,y,512,,,'),
    ).toEqual([
      'm.csv:2: direction: "up" is no direction; write x, y, z, bow: an axis of the weldment frame, or the bow of a slender member',
      'm.csv:3: at_z: "x" is no number; write a coordinate in the weldment frame, mm, or leave all three empty',
      'm.csv:3: millimetres: "0,4" is no number; write how far the point is off its nominal place, from -100 to 100 mm',
      'm.csv:3: part: the field is empty; fill it in',
      'm.csv:4: the line has 3 fields; write 7, as in the line of column names',
      'm.csv:5: millimetres: 512 is out of range; write how far the point is off its nominal place, from -100 to 100 mm',
    ]);
  });

  it('need their columns', () => {
    expect(issues('step,part,dirction,part,at_x', '1,a,x,a,0')).toEqual([
      'm.csv:1: at_y: the column is missing; name the columns step,part,direction,millimetres,at_x,at_y,at_z',
      'm.csv:1: at_z: the column is missing; name the columns step,part,direction,millimetres,at_x,at_y,at_z',
      'm.csv:1: dirction: "dirction" is no column; did you mean direction?',
      'm.csv:1: direction: the column is missing; name the columns step,part,direction,millimetres,at_x,at_y,at_z',
      'm.csv:1: millimetres: the column is missing; name the columns step,part,direction,millimetres,at_x,at_y,at_z',
      'm.csv:1: part: the column is given twice; keep one of them',
    ]);
  });

  it.each([
    ['nothing', '', 'm.csv: the file is empty; begin with the column names step,part,direction,millimetres'],
    ['only names', HEAD, 'm.csv:1: there is no measurement below the column names; write one a line'],
    [
      'semicolons',
      'step;part;direction;millimetres\n1;a;x;0,3',
      'm.csv:1: columns are separated by semicolons; save the file with commas, and with points in numbers',
    ],
    [
      'an open quote',
      `${HEAD}\n1,"a,x,0.3\n`,
      'm.csv:2: a quotation mark is not closed or stands inside a plain field; write "..." round the whole field, and two marks for one inside it',
    ],
    [
      'a stray quote',
      `${HEAD}\n1,a"b,x,0.3\n`,
      'm.csv:2: a quotation mark is not closed or stands inside a plain field; write "..." round the whole field, and two marks for one inside it',
    ],
  ])('are refused: %s', (_, text, line) => {
    expect(readMeasurements(text, 'm.csv').issues.map(issueLine)).toEqual([line]);
  });

  it('show no control characters of the file', () => {
    expect(issues('step,part,direction,millimetres,\u001b[31m', '1,a,x,0.1,')[0]).not.toContain('\u001b');
  });
});

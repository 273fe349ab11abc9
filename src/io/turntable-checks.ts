import { rounded } from '../base/order.js';
import type { Issue } from '../model/issue.js';
import type { SourceDocument } from './document.js';
import { issueAt } from './issue-at.js';
import { nearestWord } from './nearest-word.js';
import { entriesAt, membersAt, numberAt, textAt } from './raw-view.js';
import { valueAt } from './schema-at.js';
import { printable, showNames, showValue } from './show.js';

const TABLE = ['stations', 'table'] as const;
const PLACE = [...TABLE, 'turntable'] as const;

/** Angles that differ by less than this, whole turns aside, are one; degrees. */
const SAME = 1e-6;

/** What no schema can tell of a table that turns. */
export const turntableIssues = (document: SourceDocument): readonly Issue[] =>
  [anglesTwice, noZero, axisOffTable, unknownCommander].flatMap((check) => check(document));

const wholeTurns = (degrees: number): number => degrees - 360 * Math.round(degrees / 360);

const anglesOf = ({ value }: SourceDocument) =>
  entriesAt(value, [...PLACE, 'angles']).flatMap(({ path, value: angle }) =>
    typeof angle === 'number' ? [{ path, angle }] : [],
  );

/** Two index angles a whole number of turns apart are one place of the table. */
function anglesTwice(document: SourceDocument): readonly Issue[] {
  const all = anglesOf(document);
  return all.flatMap(({ path, angle }, i) => {
    const same = all.slice(0, i).find((other) => Math.abs(wholeTurns(angle - other.angle)) < SAME);
    if (same === undefined) return [];
    const problem = `got ${angle}, where the table stands as at ${same.angle}`;
    return [issueAt(document, path, { code: 'index-angle-twice', problem, remedy: 'strike one of them' })];
  });
}

/** The file describes the table as it stands at index angle 0. */
function noZero(document: SourceDocument): readonly Issue[] {
  const all = anglesOf(document);
  if (all.length === 0 || all.some(({ angle }) => angle === 0)) return [];
  const problem = `got ${showValue(all.map(({ angle }) => angle))}, without 0`;
  const remedy = 'add 0, the angle at which the file describes table and weldment';
  return [issueAt(document, [...PLACE, 'angles'], { code: 'index-angle-zero', problem, remedy })];
}

/** The axis stands in the table top. */
function axisOffTable(document: SourceDocument): readonly Issue[] {
  const { value } = document;
  const pair = (...path: readonly (string | number)[]): readonly [number, number] | undefined => {
    const [x, y] = [0, 1].map((i) => numberAt(value, [...TABLE, ...path, i]));
    return x === undefined || y === undefined ? undefined : [x, y];
  };
  const [at, centre, size] = [pair('turntable', 'at'), pair('at'), pair('size')];
  if (at === undefined || centre === undefined || size === undefined) return [];
  const turn = ((numberAt(value, [...TABLE, 'turn']) ?? 0) * Math.PI) / 180;
  const [dx, dy] = [at[0] - centre[0], at[1] - centre[1]];
  const along = Math.abs(dx * Math.cos(turn) + dy * Math.sin(turn)) - size[0] / 2;
  const across = Math.abs(dy * Math.cos(turn) - dx * Math.sin(turn)) - size[1] / 2;
  const off = rounded(Math.max(along, across), 3);
  if (!(off > 0)) return [];
  const problem = `got ${showValue(at)}, ${off} mm off the table`;
  const remedy = 'give a point of the table in the cell, or leave it out for the table centre';
  return [issueAt(document, [...PLACE, 'at'], { code: 'axis-off-table', problem, remedy })];
}

function unknownCommander(document: SourceDocument): readonly Issue[] {
  const robots = valueAt(document.value, ['robots']);
  if (typeof robots !== 'object' || robots === null) return [];
  const names = membersAt(document.value, ['robots']).map(({ path }) => String(path.at(-1)));
  return textAt(document.value, [...PLACE, 'commanded-by'])
    .filter(({ value }) => !names.includes(value))
    .map(({ path, value }) => {
      const nearest = nearestWord(value, names);
      return issueAt(document, path, {
        code: 'unknown-robot',
        problem: `no robot is named ${showValue(value)}`,
        remedy:
          nearest === undefined ? `the robots are ${showNames(names)}` : `maybe \`${printable(nearest)}\``,
      });
    });
}

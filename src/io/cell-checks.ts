import { rounded } from '../base/order.js';
import type { Issue } from '../model/issue.js';
import type { SourceDocument } from './document.js';
import { issueAt } from './issue-at.js';
import { nearestWord } from './nearest-word.js';
import { entriesAt, membersAt, numberAt, textAt } from './raw-view.js';
import { valueAt } from './schema-at.js';
import { printable, showNames, showValue, type Path } from './show.js';
import { turntableIssues } from './turntable-checks.js';

type Check = (document: SourceDocument) => readonly Issue[];

const DUTIES = [
  { duty: 'handle', words: 'handling' },
  { duty: 'weld', words: 'welding' },
] as const;

/** What no schema can tell of a cell file: one issue for each defect. */
export const cellIssues: Check = (document) =>
  [
    robotsOfEachDuty,
    noGrippers,
    padsOfGroups,
    padsApart,
    unknownTorches,
    posturesOutsideLimits,
    posturesOutsideElbow,
    turntableIssues,
  ].flatMap((check) => check(document));

const isMap = (value: unknown): boolean =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** One or more handling robots and one or more welding robots. */
function robotsOfEachDuty(document: SourceDocument): readonly Issue[] {
  if (!isMap(valueAt(document.value, ['robots']))) return [];
  const robots = membersAt(document.value, ['robots']);
  return DUTIES.flatMap(({ duty, words }) => {
    if (robots.some(({ path }) => valueAt(document.value, [...path, 'duty']) === duty)) return [];
    const names = showNames(robots.map(({ path }) => String(path.at(-1))));
    const problem = `got no ${words} robot${robots.length === 0 ? '' : ` among ${names}`}`;
    const remedy = `give one robot \`duty: ${duty}\``;
    return [issueAt(document, ['robots'], { code: 'robots', problem, remedy })];
  });
}

function noGrippers(document: SourceDocument): readonly Issue[] {
  const grippers = valueAt(document.value, ['grippers']);
  if (!isMap(grippers) || Object.keys(grippers as object).length > 0) return [];
  return [
    issueAt(document, ['grippers'], {
      code: 'no-grippers',
      problem: 'got no grippers',
      remedy: 'give at least one',
    }),
  ];
}

/** Where the pads of a gripper that has several in a plane stand in its file, and their diameter. */
const PADS_OF = [
  ['magnet', 'pads', 'pad-diameter'],
  ['vacuum', 'cups', 'cup-diameter'],
] as const;

/** A group names pads by their numbers in the list of pads, from 1. */
function padsOfGroups(document: SourceDocument): readonly Issue[] {
  const { value } = document;
  return membersAt(value, ['grippers']).flatMap(({ path: gripper }) =>
    PADS_OF.flatMap(([kind, pads]) => {
      const count = entriesAt(value, [...gripper, kind, pads]).length;
      return membersAt(value, [...gripper, kind, 'groups'])
        .flatMap((group) => entriesAt(value, group.path))
        .flatMap(({ path, value: number }) =>
          typeof number !== 'number' || count === 0 || number <= count
            ? []
            : [
                issueAt(document, path, {
                  code: 'unknown-pad',
                  problem: `there is no pad ${number} among ${count}`,
                  remedy: `give numbers from 1 to ${count}`,
                }),
              ],
        );
    }),
  );
}

/** Two pads cannot be in one place: where they overlap, their pull would be counted twice. */
function padsApart(document: SourceDocument): readonly Issue[] {
  const { value } = document;
  return membersAt(value, ['grippers']).flatMap(({ path: gripper }) =>
    PADS_OF.flatMap(([kind, pads, diameter]) => {
      const wide = numberAt(value, [...gripper, kind, diameter]);
      if (wide === undefined) return [];
      const all = entriesAt(value, [...gripper, kind, pads]).flatMap(({ path }) => {
        const [x, y] = [numberAt(value, [...path, 0]), numberAt(value, [...path, 1])];
        return x === undefined || y === undefined ? [] : [{ path, x, y }];
      });
      return all.flatMap(({ path, x, y }, i) => {
        const met = all.slice(0, i).find((other) => Math.hypot(other.x - x, other.y - y) < wide - 1e-6);
        if (met === undefined) return [];
        const apart = rounded(Math.hypot(met.x - x, met.y - y), 3);
        return [
          issueAt(document, path, {
            code: 'pads-overlap',
            problem: `got ${showValue([x, y])}, ${apart} mm from ${pads}[${String(met.path.at(-1))}]`,
            remedy: `keep them at least ${diameter}, ${wide} mm, apart`,
          }),
        ];
      });
    }),
  );
}

function unknownTorches(document: SourceDocument): readonly Issue[] {
  if (!isMap(valueAt(document.value, ['torches']))) return [];
  const names = membersAt(document.value, ['torches']).map(({ path }) => String(path.at(-1)));
  return membersAt(document.value, ['robots'])
    .flatMap(({ path }) => textAt(document.value, [...path, 'torch']))
    .filter(({ value }) => !names.includes(value))
    .map(({ path, value }) => {
      const nearest = nearestWord(value, names);
      const known =
        names.length === 0 ? 'describe it under `torches`' : `the torches are ${showNames(names)}`;
      return issueAt(document, path, {
        code: 'unknown-torch',
        problem: `no torch is named ${showValue(value)}`,
        remedy: nearest === undefined ? known : `maybe \`${printable(nearest)}\``,
      });
    });
}

/** Where a robot has the joint angles of a posture: its waiting place, and that in which its nozzle is cleaned. */
const POSTURES: readonly Path[] = [['home'], ['cleaning', 'joints']];

/** A posture must be within the joint limits, or the robot could never go there. */
function posturesOutsideLimits(document: SourceDocument): readonly Issue[] {
  return membersAt(document.value, ['robots']).flatMap(({ path }) =>
    anglesOutsideLimits(document, path, (i) => {
      const limits = [...path, 'arm', 'limits', i];
      const low = numberAt(document.value, [...limits, 0]);
      const high = numberAt(document.value, [...limits, 1]);
      return low === undefined || high === undefined || low >= high ? undefined : [low, high];
    }),
  );
}

/** The joints of a robot's postures that are outside the limits (degrees) that `limitsOf` gives for them. */
export const anglesOutsideLimits = (
  document: SourceDocument,
  robot: Path,
  limitsOf: (joint: number) => readonly [number, number] | undefined,
): readonly Issue[] =>
  POSTURES.flatMap((posture) =>
    entriesAt(document.value, [...robot, ...posture])
      .slice(0, 6)
      .map((entry, i) => ({ ...entry, i })),
  ).flatMap(({ path, value, i }) => {
    const limits = limitsOf(i);
    if (typeof value !== 'number' || limits === undefined) return [];
    const [low, high] = limits;
    if (value >= low && value <= high) return [];
    return [
      issueAt(document, path, {
        code: 'outside-limits',
        problem: `joint ${i + 1} at ${value} deg is outside its limits`,
        remedy: `give ${low} to ${high} deg`,
      }),
    ];
  });

/** The elbow of a coupled arm at each posture must be within its range, whole turns aside. */
function posturesOutsideElbow(document: SourceDocument): readonly Issue[] {
  const { value } = document;
  const coupled = membersAt(value, ['robots']).filter(
    ({ path }) => valueAt(value, [...path, 'arm', 'coupled']) === true,
  );
  const postures = coupled.flatMap(({ path }) =>
    POSTURES.map((posture) => ({ robot: path, posture: [...path, ...posture] })),
  );
  return postures.flatMap(({ robot, posture }) => {
    const turned = (i: number): number => {
      const sign = numberAt(value, [...robot, 'arm', 'signs', i]) ?? 1;
      const offset = numberAt(value, [...robot, 'arm', 'offsets', i]) ?? 0;
      return sign * (numberAt(value, [...posture, i]) ?? NaN) - offset;
    };
    const low = numberAt(value, [...robot, 'arm', 'elbow', 0]);
    const high = numberAt(value, [...robot, 'arm', 'elbow', 1]);
    if (low === undefined || high === undefined) return [];
    const middle = (low + high) / 2;
    const off = turned(2) - turned(1) - middle;
    const elbow = rounded(middle + off - 360 * Math.round(off / 360), 6);
    if (!(elbow < low || elbow > high)) return [];
    return [
      issueAt(document, posture, {
        code: 'outside-limits',
        problem: `the elbow at ${elbow} deg is outside its limits`,
        remedy: `give joints 2 and 3 with which it is at ${low} to ${high} deg`,
      }),
    ];
  });
}

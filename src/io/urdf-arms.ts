import { createHash } from 'node:crypto';
import { rounded } from '../base/order.js';
import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import { sixOf, toDegrees, type Arm, type Six } from '../kinematics/arm.js';
import { recogniseArm } from '../kinematics/recognise-arm.js';
import { urdfArmSchema } from '../model/robot-file.js';
import type { Issue } from '../model/issue.js';
import { anglesOutsideLimits } from './cell-checks.js';
import type { SourceDocument } from './document.js';
import { issueAt } from './issue-at.js';
import { membersAt } from './raw-view.js';
import { valueAt } from './schema-at.js';
import { showValue, type Path } from './show.js';
import { readUrdf, type UrdfFault, type UrdfJoint } from './urdf.js';
import { urdfChain } from './urdf-chain.js';

/** The texts of files that a file names, by the paths that it writes for them. */
export type TextsBeside = Readonly<Record<string, string>>;

/** What came of the arms of a cell that are given by URDF files. */
export interface UrdfArms {
  /** By the names of their robots. */
  readonly arms: ReadonlyMap<string, Arm>;
  readonly issues: readonly Issue[];
  /** SHA-256 of each URDF text by its path, for the digest of the cell. */
  readonly digests: Readonly<Record<string, string>>;
}

/** Decimals of a degree to which limits and speeds of a URDF file are rounded: it states radians. */
const DECIMALS = 6;

interface NamedArm {
  readonly robot: string;
  readonly path: Path;
  readonly arm: ReturnType<typeof urdfArmSchema.parse>;
}

/** The arms of a raw cell document that are given by a URDF file, as far as they meet their schema. */
function namedArms(document: SourceDocument): readonly NamedArm[] {
  return membersAt(document.value, ['robots']).flatMap(({ path }) => {
    const parsed = urdfArmSchema.safeParse(valueAt(document.value, [...path, 'arm']));
    return parsed.success ? [{ robot: String(path.at(-1)), path, arm: parsed.data }] : [];
  });
}

/** The paths of the files that a raw cell document names; only plain ones below its folder. */
export const filesNamedBy = (document: SourceDocument): readonly string[] => [
  ...new Set(namedArms(document).map(({ arm }) => arm.urdf)),
];

/** Reads and recognises every arm that is given by a URDF file: one issue for each that is not understood. */
export function urdfArms(document: SourceDocument, texts: TextsBeside): UrdfArms {
  const arms = new Map<string, Arm>();
  const issues: Issue[] = [];
  const named = namedArms(document);
  for (const { robot, path, arm } of named) {
    const read = Object.hasOwn(texts, arm.urdf) ? armOf(texts[arm.urdf]!, arm) : fail(NOT_GIVEN);
    if (read.ok) {
      arms.set(robot, read.value);
      const limits = (i: number) =>
        read.value.limits[i]!.map(degrees) as unknown as readonly [number, number];
      if (arm.limits === undefined) issues.push(...anglesOutsideLimits(document, path, limits));
    } else
      issues.push(
        issueAt(document, [...path, 'arm', 'urdf'], {
          code: 'urdf',
          problem: `${showValue(arm.urdf)}: ${read.error.problem}`,
          remedy: read.error.remedy,
        }),
      );
  }
  const given = named.map(({ arm }) => arm.urdf).filter((name) => Object.hasOwn(texts, name));
  const digests = Object.fromEntries(given.map((name) => [name, sha256(texts[name]!)]));
  return { arms, issues, digests };
}

const NOT_GIVEN: UrdfFault = {
  problem: 'its text was not handed in',
  remedy: 'hand it in `beside` the cell file',
};

const sha256 = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex');

const degrees = (radians: number): number => rounded(toDegrees(radians), DECIMALS);
const radians = (value: number): number => (value * Math.PI) / 180;

function armOf(text: string, file: NamedArm['arm']): Result<Arm, UrdfFault> {
  const robot = readUrdf(text);
  if (!robot.ok) return robot;
  const found = urdfChain(robot.value, file.base, file.tip);
  if (!found.ok) return found;
  const { chain, joints } = found.value;
  const shape = recogniseArm(chain);
  if (!shape.ok) {
    const { before, value, unit, after, needs } = shape.error;
    const what = [before, String(rounded(value, 3)), unit, after].filter((words) => words !== '').join(' ');
    return fail({ problem: what, remedy: needs });
  }
  const lacking = file.limits === undefined ? limitsLacking(joints) : undefined;
  const slow = file.speeds === undefined ? speedLacking(joints) : undefined;
  if (lacking ?? slow) return fail((lacking ?? slow)!);
  return ok({
    ...shape.value,
    limits: sixOf((i) => {
      const [low, high] = file.limits?.[i] ?? [degrees(joints[i]!.lower!), degrees(joints[i]!.upper!)];
      return [radians(low), radians(high)] as const;
    }),
    speeds: sixOf((i) => radians(file.speeds?.[i] ?? degrees(joints[i]!.velocity!))),
    accelerations: sixOf((i) => radians(file.accelerations[i]!)),
  });
}

function limitsLacking(joints: Six<UrdfJoint>): UrdfFault | undefined {
  const remedy = 'give `limits`, degrees, beside `urdf`';
  const endless = joints.find(({ type }) => type === 'continuous');
  if (endless) return { problem: `joint ${showValue(endless.name)} turns without end`, remedy };
  const bad = joints.find(({ lower, upper }) => lower === undefined || upper === undefined || lower >= upper);
  return bad && { problem: `joint ${showValue(bad.name)} has no range between its limits`, remedy };
}

function speedLacking(joints: Six<UrdfJoint>): UrdfFault | undefined {
  const bad = joints.find(({ velocity }) => velocity === undefined || velocity <= 0);
  return (
    bad && {
      problem: `joint ${showValue(bad.name)} has no velocity`,
      remedy: 'give `speeds`, degrees/s, beside `urdf`',
    }
  );
}

import type { Element } from '@xmldom/xmldom';
import { DOMParser } from '@xmldom/xmldom';
import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import { fromRollPitchYaw, type Pose } from '../geometry/pose.js';
import { length, scale, type Vec3 } from '../geometry/vector.js';
import { toDegrees } from '../kinematics/arm.js';
import { printable, showValue } from './show.js';

/** What stops a URDF file from being understood, in the words of an issue. */
export interface UrdfFault {
  readonly problem: string;
  readonly remedy: string;
}

export interface UrdfJoint {
  readonly name: string;
  readonly type: string;
  readonly parent: string;
  readonly child: string;
  /** The joint's frame in the frame of its parent link, mm. */
  readonly frame: Pose;
  /** Unit, in the joint's frame. */
  readonly axis: Vec3;
  /** Radians and rad/s; undefined where the file says nothing. */
  readonly lower: number | undefined;
  readonly upper: number | undefined;
  readonly velocity: number | undefined;
  /** Whether it follows another joint. */
  readonly mimics: boolean;
}

/** A robot of a URDF file: its links by name and the joints between them. */
export interface UrdfRobot {
  readonly links: readonly string[];
  readonly joints: readonly UrdfJoint[];
}

/** Longest text that is read, in characters: a robot of hundreds of links has fewer. */
export const LONGEST_URDF = 2_000_000;
/** Most links, and most joints, of a robot that is read. */
const MOST = 1000;

const NEEDS = 'give a URDF file (XML 1.0, root `robot`)';

/** A fault found deep in the file; caught where reading began. */
class Fault extends Error {
  constructor(
    readonly problem: string,
    readonly remedy: string,
  ) {
    super(problem);
  }
}

/**
 * Reads the links and joints of a URDF file (the open robot description format of ROS, XML 1.0): metres and radians,
 * frames as roll, pitch and yaw about fixed axes. Shapes, masses and whatever else it holds are passed over. A document
 * type or an entity is refused, so that nothing outside the text is ever read.
 */
export function readUrdf(text: string): Result<UrdfRobot, UrdfFault> {
  try {
    return ok(robotOf(rootOf(text)));
  } catch (error) {
    if (error instanceof Fault) return fail({ problem: error.problem, remedy: error.remedy });
    throw error;
  }
}

function rootOf(text: string): Element {
  if (text.length > LONGEST_URDF)
    throw new Fault(`has ${text.length} characters`, `at most ${LONGEST_URDF} are read`);
  const typed = /<!(DOCTYPE|ENTITY)/i.exec(text);
  if (typed) {
    const line = text.slice(0, typed.index).split('\n').length;
    throw new Fault(`line ${line}: has a document type or an entity`, 'remove it; neither is read');
  }
  const root = documentElement(text);
  if (root.tagName !== 'robot') throw new Fault(`the root is ${showValue(root.tagName)}`, NEEDS);
  return root;
}

/** Whatever the parser warns of is refused, with its first complaint: later ones are about that one. */
function documentElement(text: string): Element {
  const complaints: string[] = [];
  const onError = (_level: string, message: string): never => {
    complaints.push(message);
    throw new Error(message);
  };
  try {
    return new DOMParser({ onError }).parseFromString(text, 'text/xml').documentElement!;
  } catch (error) {
    const line = (error as { locator?: { lineNumber?: number } }).locator?.lineNumber ?? 0;
    const complaint = complaints[0] ?? (error as Error).message;
    throw new Fault(`${line > 0 ? `line ${line}: ` : ''}cannot be read: ${showValue(complaint)}`, NEEDS);
  }
}

const childrenOf = (element: Element, name: string): readonly Element[] =>
  Array.from(element.childNodes).filter(
    (node): node is Element => node.nodeType === 1 && (node as Element).tagName === name,
  );

const placeOf = (element: Element): string => `line ${element.lineNumber ?? 0}`;

function robotOf(root: Element): UrdfRobot {
  const macro = Array.from(root.childNodes).find(({ nodeName }) => nodeName.startsWith('xacro:'));
  if (macro) throw new Fault(`has the macro ${showValue(macro.nodeName)}`, 'expand the macros first');
  const found = { links: childrenOf(root, 'link'), joints: childrenOf(root, 'joint') };
  for (const [what, { length: count }] of Object.entries(found))
    if (count > MOST) throw new Fault(`has ${count} ${what}`, `at most ${MOST} are read`);
  const links = found.links.map((link) => attribute(link, 'name'));
  const joints = found.joints.map(jointOf);
  const twice = (names: readonly string[]) => names.find((name, i) => names.indexOf(name) < i);
  const link = twice(links) ?? twice(joints.map(({ name }) => name));
  if (link !== undefined) throw new Fault(`the name ${showValue(link)} is given twice`, 'give each its own');
  for (const { name, parent, child } of joints)
    for (const end of [parent, child])
      if (!links.includes(end))
        throw new Fault(
          `joint ${showValue(name)} names a link ${showValue(end)} that is not there`,
          'add the link',
        );
  return { links, joints };
}

function jointOf(joint: Element): UrdfJoint {
  const one = (name: string): Element | undefined => childrenOf(joint, name)[0];
  const end = (name: string): string => {
    const found = one(name);
    if (!found) throw new Fault(`${placeOf(joint)}: a joint has no ${name}`, `add <${name} link="…"/>`);
    return attribute(found, 'link');
  };
  const [origin, axis, limit] = [one('origin'), one('axis'), one('limit')];
  const at = scale(numbers(origin, 'xyz', [0, 0, 0]), 1000);
  const [roll, pitch, yaw] = numbers(origin, 'rpy', [0, 0, 0]).map(toDegrees) as [number, number, number];
  const way = numbers(axis, 'xyz', [1, 0, 0]);
  if (length(way) === 0)
    throw new Fault(`${placeOf(axis!)}: the axis is the zero vector`, 'give a direction');
  return {
    name: attribute(joint, 'name'),
    type: attribute(joint, 'type'),
    parent: end('parent'),
    child: end('child'),
    frame: { at, turn: fromRollPitchYaw(roll, pitch, yaw) },
    axis: scale(way, 1 / length(way)),
    lower: limit && (oneNumber(limit, 'lower') ?? 0),
    upper: limit && (oneNumber(limit, 'upper') ?? 0),
    velocity: limit && oneNumber(limit, 'velocity'),
    mimics: one('mimic') !== undefined,
  };
}

function attribute(element: Element, name: string): string {
  const value = element.getAttribute(name);
  if (value !== null && value !== '') return value;
  throw new Fault(`${placeOf(element)}: <${printable(element.tagName)}> has no ${name}`, `add ${name}="…"`);
}

/** Three numbers of an attribute; those given where it is absent. */
function numbers(element: Element | undefined, name: string, absent: Vec3): Vec3 {
  const text = element?.getAttribute(name) ?? null;
  if (element === undefined || text === null) return absent;
  const values = text.trim().split(/\s+/).map(plainNumber);
  if (values.length === 3 && values.every(Number.isFinite)) return values as unknown as Vec3;
  throw new Fault(`${placeOf(element)}: ${name} is ${showValue(text)}`, 'give three numbers');
}

function oneNumber(element: Element, name: string): number | undefined {
  const text = element.getAttribute(name);
  if (text === null) return undefined;
  const value = plainNumber(text.trim());
  if (Number.isFinite(value)) return value;
  throw new Fault(`${placeOf(element)}: ${name} is ${showValue(text)}`, 'give a number');
}

/** NaN for anything but a decimal number: no hexadecimal, no empty text. */
const plainNumber = (text: string): number =>
  /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text) ? Number(text) : NaN;

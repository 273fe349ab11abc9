import { madeUnique } from '../../base/identifier.js';
import type { NamedSolid } from './assembly-tree.js';
import type { RawNode, RawStep } from './raw-step.js';

/** A part by the name that the file has for it, and what it is in. */
export interface PartName {
  readonly name: string;
  readonly within: readonly string[];
}

/** Names that programs give what nobody named, and bare numbers. */
const NO_NAME =
  /^(?:[#\d\s._:-]*|none|null|solid|shell|compound|shape|body|part|unnamed|\(unsaved\)|nauo\d*|instance id \d+|r\d+)$/i;
/** Room is left for a number behind it. */
const LONGEST = 70;

const UNPRINTABLE = /[\p{Cc}\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]|\p{Surrogate}/gu;

/** A name of an untrusted file as a weldment file may have it; empty where nothing is left of it. */
export function cleanName(text: string): string {
  const plain = text.replace(UNPRINTABLE, ' ').replace(/\s+/g, ' ').trim();
  const short = Array.from(plain).slice(0, LONGEST).join('').trim();
  return short === '__proto__' ? '' : short;
}

/**
 * A name for each solid that the library hands over, different ones: that of the solid where its product has several, else that of
 * its use in the assembly, else that of the product. The library keeps names of products only, so the others are read from
 * the text, `named`, and taken when numbers of solids, their faces and the names that both have agree.
 */
export function partNames(step: RawStep, named: readonly NamedSolid[]): readonly PartName[] {
  const nodes = nodeOfMesh(step.root);
  const agree =
    named.length === step.meshes.length &&
    step.meshes.every(({ name, brep_faces: faces }, i) => {
      const { product, solid } = named[i]!;
      return (
        faces.length === named[i]!.faces &&
        (NO_NAME.test(name.trim()) || [product, solid].some((one) => cleanName(one) === cleanName(name)))
      );
    });
  const common = agree ? commonNames(named) : new Set<string>();
  const chosen = step.meshes.map(({ name }, i): PartName => {
    const given = (agree ? namesOf(named[i]!, common) : [name, nodes.get(i) ?? '']).map(cleanName);
    const first = given.find((one) => !NO_NAME.test(one)) ?? given.find((one) => /\p{L}/u.test(one));
    const within = agree ? named[i]!.within.map(cleanName).filter((one) => one !== '') : [];
    return { name: first ?? 'part', within };
  });
  const unique = madeUnique(chosen.map(({ name }) => name));
  return chosen.map(({ within }, i) => ({ name: unique[i]!, within }));
}

function namesOf(
  { product, instance, solid, among }: NamedSolid,
  common: ReadonlySet<string>,
): readonly string[] {
  const use = common.has(instance) ? '' : instance;
  return among ? [solid, use, product] : [use, product, solid];
}

/** Names of uses that uses of different products bear: words of the program that wrote the file. */
function commonNames(named: readonly NamedSolid[]): ReadonlySet<string> {
  const products = new Map<string, string>();
  const common = new Set<string>();
  for (const { instance, product } of named) {
    if ((products.get(instance) ?? product) !== product) common.add(instance);
    products.set(instance, product);
  }
  return common;
}

/** Name of the node that a mesh belongs to. */
function nodeOfMesh(root: RawNode): ReadonlyMap<number, string> {
  const names = new Map<number, string>();
  const visit = ({ name, meshes, children }: RawNode): void => {
    for (const mesh of meshes) names.set(mesh, name);
    children.forEach(visit);
  };
  visit(root);
  return names;
}

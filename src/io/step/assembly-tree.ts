import type { StepEntity, StepRef, StepValue } from './part21.js';
import { stepEntities } from './part21.js';

/** What a STEP file calls a solid where it is used once. */
export interface NamedSolid {
  /** Of the product that it is part of. */
  readonly product: string;
  /** Of this use of the product in an assembly; empty for a product by itself. */
  readonly instance: string;
  /** Its own. */
  readonly solid: string;
  readonly faces: number;
  /** Whether the product has other solids beside it. */
  readonly among: boolean;
  /** Names of the assemblies around it, outermost first. */
  readonly within: readonly string[];
}

const SOLIDS = ['MANIFOLD_SOLID_BREP', 'BREP_WITH_VOIDS', 'FACETED_BREP'];
const SHELLS = ['CLOSED_SHELL', 'OPEN_SHELL', 'ORIENTED_CLOSED_SHELL'];
const REPRESENTATIONS = [
  ...['SHAPE_REPRESENTATION', 'ADVANCED_BREP_SHAPE_REPRESENTATION', 'FACETED_BREP_SHAPE_REPRESENTATION'],
  'MANIFOLD_SURFACE_SHAPE_REPRESENTATION',
];
const FORMATIONS = ['PRODUCT_DEFINITION_FORMATION', 'PRODUCT_DEFINITION_FORMATION_WITH_SPECIFIED_SOURCE'];
const DEFINITIONS = ['PRODUCT_DEFINITION', 'PRODUCT_DEFINITION_WITH_ASSOCIATED_DOCUMENTS'];
const WANTED: ReadonlySet<string> = new Set([
  ...SOLIDS,
  ...SHELLS,
  ...REPRESENTATIONS,
  ...FORMATIONS,
  ...DEFINITIONS,
  ...['PRODUCT', 'PRODUCT_DEFINITION_SHAPE', 'SHAPE_DEFINITION_REPRESENTATION'],
  ...['SHAPE_REPRESENTATION_RELATIONSHIP', 'NEXT_ASSEMBLY_USAGE_OCCURRENCE'],
]);

/** More uses of solids, or deeper assemblies, are taken for a trap, and named as the library names them. */
const MOST_SOLIDS = 20_000;
const DEEPEST = 40;

const isRef = (value: StepValue): value is StepRef =>
  typeof value === 'object' && value !== null && 'ref' in value;
const refOf = (value: StepValue): number => (isRef(value) ? value.ref : -1);
const refsOf = (value: StepValue): readonly number[] =>
  Array.isArray(value) ? (value as readonly StepValue[]).filter(isRef).map(({ ref }) => ref) : [];
const textOf = (value: StepValue): string => (typeof value === 'string' ? value : '');

/**
 * All solids of a STEP file, each as often as it is used, in the order in which the library hands them over: product by product
 * down the tree, uses in the order of the file. Empty where the text has no such tree.
 */
export const namedSolids = (text: string): readonly NamedSolid[] =>
  new AssemblyTree(stepEntities(text, WANTED)).solids();

interface Use {
  readonly definition: number;
  readonly name: string;
}

class AssemblyTree {
  /** Uses of other products in a product, by its definition. */
  private readonly uses = new Map<number, Use[]>();
  /** Representations of a product, by its definition. */
  private readonly shapes = new Map<number, number[]>();
  /** Representations that stand for the same shape. */
  private readonly related = new Map<number, number[]>();
  private readonly found: NamedSolid[] = [];

  constructor(private readonly entities: ReadonlyMap<number, StepEntity>) {
    for (const { type, values } of entities.values()) {
      if (type === 'NEXT_ASSEMBLY_USAGE_OCCURRENCE')
        push(this.uses, refOf(values[3]), { definition: refOf(values[4]), name: textOf(values[1]) });
      if (type === 'SHAPE_DEFINITION_REPRESENTATION')
        push(this.shapes, this.definitionOf(refOf(values[0])), refOf(values[1]));
      if (type !== 'SHAPE_REPRESENTATION_RELATIONSHIP') continue;
      push(this.related, refOf(values[2]), refOf(values[3]));
      push(this.related, refOf(values[3]), refOf(values[2]));
    }
  }

  solids(): readonly NamedSolid[] {
    const used = new Set([...this.uses.values()].flat().map(({ definition }) => definition));
    for (const [id, { type }] of this.entities)
      if (DEFINITIONS.includes(type) && !used.has(id)) this.walk({ definition: id, name: '' }, []);
    return this.found.length > MOST_SOLIDS ? [] : this.found;
  }

  private walk({ definition, name }: Use, within: readonly string[]): void {
    if (within.length > DEEPEST || this.found.length > MOST_SOLIDS) return;
    const product = this.productOf(definition);
    const own = this.solidsOf(definition);
    for (const solid of own)
      this.found.push({ product, instance: name, ...solid, among: own.length > 1, within });
    for (const use of this.uses.get(definition) ?? []) this.walk(use, [...within, name || product]);
  }

  private values(id: number, ...types: readonly string[]): readonly StepValue[] {
    const entity = this.entities.get(id);
    return entity !== undefined && types.includes(entity.type) ? entity.values : [];
  }

  private definitionOf(shape: number): number {
    return refOf(this.values(shape, 'PRODUCT_DEFINITION_SHAPE')[2]);
  }

  /** Name of a product, or its id where it has none. */
  private productOf(definition: number): string {
    const formation = refOf(this.values(definition, ...DEFINITIONS)[2]);
    const [id, name] = this.values(refOf(this.values(formation, ...FORMATIONS)[2]), 'PRODUCT');
    return textOf(name).trim() || textOf(id);
  }

  private solidsOf(definition: number): readonly Pick<NamedSolid, 'solid' | 'faces'>[] {
    const reached = new Set(this.shapes.get(definition) ?? []);
    for (const shape of reached) for (const other of this.related.get(shape) ?? []) reached.add(other);
    const items = [...reached].flatMap((id) => refsOf(this.values(id, ...REPRESENTATIONS)[1]));
    return [...new Set(items)].flatMap((id) => {
      const [name, shell, voids] = this.values(id, ...SOLIDS);
      if (shell === undefined) return [];
      const shells = [refOf(shell), ...refsOf(voids)];
      return [{ solid: textOf(name), faces: shells.reduce((sum, one) => sum + this.facesOf(one), 0) }];
    });
  }

  private facesOf(shell: number): number {
    const values = this.values(shell, ...SHELLS);
    const oriented = this.entities.get(shell)?.type === 'ORIENTED_CLOSED_SHELL';
    return oriented ? this.facesOf(refOf(values[2])) : refsOf(values[1]).length;
  }
}

function push<T>(map: Map<number, T[]>, key: number, value: T): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}

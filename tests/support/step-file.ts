import type { Point2 } from '../../src/geometry/outline.js';
import { IDENTITY, place, rotate, type Pose } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { cross, perpendicular, subtract, unit } from '../../src/geometry/vector.js';
import type { Stroke } from './step-strokes.js';

export type StepUnit = 'mm' | 'm' | 'inch' | 'none';

/** How many mm a unit has. */
const UNIT_SIZE: Readonly<Record<StepUnit, number>> = { mm: 1, m: 1000, inch: 25.4, none: 1 };

/**
 * Writes STEP files (ISO 10303-21, AP214) of prisms and polyhedra: our own, so that what is imported is known exactly. Sizes are
 * given in mm and written in the unit of the file.
 */
export class StepFile {
  private readonly lines: string[] = [];
  private readonly context: string;
  private readonly application: string;
  private readonly product: string;

  constructor(private readonly unit: StepUnit = 'mm') {
    this.application = this.add(`APPLICATION_CONTEXT('automotive design')`);
    this.product = this.add(`PRODUCT_CONTEXT('',${this.application},'mechanical')`);
    this.context = this.contextOf();
  }

  add(entity: string): string {
    this.lines.push(entity);
    return `#${this.lines.length}`;
  }

  private contextOf(): string {
    const millimetre = () => this.add('(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))');
    const length = (): string => {
      if (this.unit === 'm') return this.add('(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT($,.METRE.))');
      if (this.unit === 'mm') return millimetre();
      const inch = this.add(`LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(25.4),${millimetre()})`);
      const powers = this.add('DIMENSIONAL_EXPONENTS(1.,0.,0.,0.,0.,0.,0.)');
      return this.add(`(CONVERSION_BASED_UNIT('INCH',${inch})LENGTH_UNIT()NAMED_UNIT(${powers}))`);
    };
    const angle = this.add('(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))');
    const units = this.unit === 'none' ? angle : `${length()},${angle}`;
    return this.add(
      `(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNIT_ASSIGNED_CONTEXT((${units}))REPRESENTATION_CONTEXT('',''))`,
    );
  }

  private point(at: Vec3): string {
    const scale = UNIT_SIZE[this.unit];
    return this.add(`CARTESIAN_POINT('',(${at.map((x) => real(x / scale)).join(',')}))`);
  }

  private direction(along: Vec3): string {
    return this.add(`DIRECTION('',(${along.map(real).join(',')}))`);
  }

  private frame(at: Vec3, z: Vec3, x: Vec3): string {
    return this.add(`AXIS2_PLACEMENT_3D('',${this.point(at)},${this.direction(z)},${this.direction(x)})`);
  }

  private vertex(at: Vec3): string {
    return this.add(`VERTEX_POINT('',${this.point(at)})`);
  }

  private line(from: Vertex, to: Vertex): string {
    const along = this.direction(unit(subtract(to.at, from.at)));
    const vector = this.add(`VECTOR('',${along},1.)`);
    const line = this.add(`LINE('',${this.point(from.at)},${vector})`);
    return this.add(`EDGE_CURVE('',${from.id},${to.id},${line},.T.)`);
  }

  private arc(from: Vertex, to: Vertex, centre: Vec3, axis: Vec3): string {
    const out = subtract(from.at, centre);
    const radius = Math.hypot(...out) / UNIT_SIZE[this.unit];
    const curve = this.add(`CIRCLE('',${this.frame(centre, axis, unit(out))},${real(radius)})`);
    return this.add(`EDGE_CURVE('',${from.id},${to.id},${curve},.T.)`);
  }

  private loop(edges: readonly Directed[]): string {
    const ordered = edges.map(({ id, back }) =>
      this.add(`ORIENTED_EDGE('',*,*,${id},${back ? '.F.' : '.T.'})`),
    );
    return this.add(`EDGE_LOOP('',(${ordered.join(',')}))`);
  }

  private face(surface: string, loops: readonly (readonly Directed[])[], sense = true): string {
    const bounds = loops.map((edges, i) =>
      this.add(`${i === 0 ? 'FACE_OUTER_BOUND' : 'FACE_BOUND'}('',${this.loop(edges)},.T.)`),
    );
    return this.add(`ADVANCED_FACE('',(${bounds.join(',')}),${surface},${sense ? '.T.' : '.F.'})`);
  }

  private plane(at: Vec3, normal: Vec3): string {
    return this.add(`PLANE('',${this.frame(at, normal, perpendicular(normal))})`);
  }

  /**
   * A section in x and y drawn out along z from 0 to `depth`, then put in place: the outline counter-clockwise, then holes
   * clockwise.
   */
  prism(loops: readonly (readonly Stroke[])[], depth: number, pose: Pose = IDENTITY, name = ''): string {
    const up = rotate(pose.turn, [0, 0, 1]);
    const sides = loops.map((loop) => this.sides(loop, depth, pose, up));
    const [top, bottom] = [place(pose, [0, 0, depth]), place(pose, [0, 0, 0])];
    const down: Vec3 = [-up[0], -up[1], -up[2]];
    const faces = [
      this.face(
        this.plane(top, up),
        sides.map(({ upper }) => upper.map((id) => ({ id, back: false }))),
      ),
      this.face(
        this.plane(bottom, down),
        sides.map(({ lower }) => lower.map((id) => ({ id, back: true })).reverse()),
      ),
      ...sides.flatMap((side) => side.faces),
    ];
    return this.solid(faces, name);
  }

  private sides(loop: readonly Stroke[], depth: number, pose: Pose, up: Vec3) {
    const at = ([x, y]: Point2, z: number): Vec3 => place(pose, [x, y, z]);
    const ring = (z: number): Vertex[] =>
      loop.map(({ to }) => ({ at: at(to, z), id: this.vertex(at(to, z)) }));
    const [low, high] = [ring(0), ring(depth)];
    const edge = (vertices: readonly Vertex[], i: number, z: number): string => {
      const [from, to] = [vertices.at(i - 1)!, vertices[i]!];
      const { about, clockwise = false } = loop[i]!;
      if (about === undefined) return this.line(from, to);
      return this.arc(from, to, at(about, z), clockwise ? [-up[0], -up[1], -up[2]] : up);
    };
    const lower = loop.map((_, i) => edge(low, i, 0));
    const upper = loop.map((_, i) => edge(high, i, depth));
    const rising = loop.map((_, i) => this.line(low[i]!, high[i]!));
    const faces = loop.map(({ about, clockwise = false }, i) => {
      const before = (i + loop.length - 1) % loop.length;
      const around: Directed[] = [
        { id: lower[i]!, back: false },
        { id: rising[i]!, back: false },
        { id: upper[i]!, back: true },
        { id: rising[before]!, back: true },
      ];
      const [from, to] = [low[before]!.at, low[i]!.at];
      if (about === undefined)
        return this.face(this.plane(from, unit(cross(subtract(to, from), up))), [around]);
      const centre = at(about, 0);
      const out = subtract(from, centre);
      const radius = Math.hypot(...out) / UNIT_SIZE[this.unit];
      const surface = this.add(
        `CYLINDRICAL_SURFACE('',${this.frame(centre, up, unit(out))},${real(radius)})`,
      );
      return this.face(surface, [around], !clockwise);
    });
    return { lower, upper, faces };
  }

  /** A solid of flat faces, each by the numbers of its corners, counter-clockwise from outside. */
  polyhedron(corners: readonly Vec3[], faces: readonly (readonly number[])[], name = ''): string {
    const vertices = corners.map((at): Vertex => ({ at, id: this.vertex(at) }));
    const edges = new Map<string, string>();
    const directed = (a: number, b: number): Directed => {
      const key = `${Math.min(a, b)} ${Math.max(a, b)}`;
      const id = edges.get(key) ?? this.line(vertices[Math.min(a, b)]!, vertices[Math.max(a, b)]!);
      edges.set(key, id);
      return { id, back: a > b };
    };
    const made = faces.map((face) => {
      const [a, b, c] = face.map((i) => corners[i]!) as [Vec3, Vec3, Vec3];
      const normal = unit(cross(subtract(b, a), subtract(c, a)));
      return this.face(this.plane(a, normal), [
        face.map((i, k) => directed(i, face[(k + 1) % face.length]!)),
      ]);
    });
    return this.solid(made, name);
  }

  solid(faces: readonly string[], name = ''): string {
    const shell = this.add(`CLOSED_SHELL('',(${faces.join(',')}))`);
    return this.add(`MANIFOLD_SOLID_BREP(${stepQuoted(name)},${shell})`);
  }

  /** A product of solids; what is given back is used by `use`. */
  part(name: string, solids: readonly string[]): StepProduct {
    return this.productOf(name, 'ADVANCED_BREP_SHAPE_REPRESENTATION', solids);
  }

  assembly(name: string): StepProduct {
    return this.productOf(name, 'SHAPE_REPRESENTATION', []);
  }

  private productOf(name: string, kind: string, items: readonly string[]): StepProduct {
    const base = this.frame([0, 0, 0], [0, 0, 1], [1, 0, 0]);
    const product = this.add(`PRODUCT(${stepQuoted(name)},${stepQuoted(name)},'',(${this.product}))`);
    const formation = this.add(`PRODUCT_DEFINITION_FORMATION('','',${product})`);
    const within = this.add(`PRODUCT_DEFINITION_CONTEXT('part definition',${this.application},'design')`);
    const definition = this.add(`PRODUCT_DEFINITION('design','',${formation},${within})`);
    const shape = this.add(`PRODUCT_DEFINITION_SHAPE('','',${definition})`);
    const representation = this.add(`${kind}('',(${[base, ...items].join(',')}),${this.context})`);
    this.add(`SHAPE_DEFINITION_REPRESENTATION(${shape},${representation})`);
    return { definition, representation, base };
  }

  /** Puts a product into an assembly, at a pose. */
  use(assembly: StepProduct, product: StepProduct, pose: Pose, name: string): void {
    const z = rotate(pose.turn, [0, 0, 1]);
    const to = this.frame(pose.at, z, rotate(pose.turn, [1, 0, 0]));
    const change = this.add(`ITEM_DEFINED_TRANSFORMATION('','',${product.base},${to})`);
    const relation = this.add(
      `(REPRESENTATION_RELATIONSHIP('','',${product.representation},${assembly.representation})REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(${change})SHAPE_REPRESENTATION_RELATIONSHIP())`,
    );
    const occurrence = this.add(
      `NEXT_ASSEMBLY_USAGE_OCCURRENCE('${this.lines.length}',${stepQuoted(name)},'',${assembly.definition},${product.definition},$)`,
    );
    const shape = this.add(`PRODUCT_DEFINITION_SHAPE('','',${occurrence})`);
    this.add(`CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(${relation},${shape})`);
  }

  text(): string {
    const data = this.lines.map((entity, i) => `#${i + 1}=${entity};`);
    const header = [
      ...['ISO-10303-21;', 'HEADER;', "FILE_DESCRIPTION((''),'2;1');"],
      ...["FILE_NAME('','',(''),(''),'','','');", "FILE_SCHEMA(('AUTOMOTIVE_DESIGN'));", 'ENDSEC;', 'DATA;'],
    ];
    return [...header, ...data, 'ENDSEC;', 'END-ISO-10303-21;', ''].join('\n');
  }
}

export interface StepProduct {
  readonly definition: string;
  readonly representation: string;
  readonly base: string;
}

interface Vertex {
  readonly at: Vec3;
  readonly id: string;
}

/** An edge, run through backwards or not. */
interface Directed {
  readonly id: string;
  readonly back: boolean;
}

/** A number with the point that the standard asks for. */
function real(value: number): string {
  const [digits, power] = String(value).split('e') as [string, string?];
  return `${digits.includes('.') ? digits : `${digits}.`}${power === undefined ? '' : `E${power}`}`;
}

/** A text in quotes, with what is no plain letter written by its code. */
const stepQuoted = (text: string): string =>
  `'${text
    .replaceAll('\\', '\\\\')
    .replaceAll("'", "''")
    .replace(/[^\x20-\x7e]+/gs, (run) => {
      const units = Array.from({ length: run.length }, (_, i) =>
        run.charCodeAt(i).toString(16).toUpperCase().padStart(4, '0'),
      );
      return `\\X2\\${units.join('')}\\X0\\`;
    })}'`;

import { type Color, Group, Mesh } from 'three';
import type { PagePart } from '../../../report/page/page-data.js';
import type { PartRole, ShownPart } from '../moment/shown-moment.js';
import type { Batches } from './batches.js';
import { mixed, type Colours } from './colours.js';
import type { Shading } from './materials.js';
import { matrixOf } from './matrices.js';
import { solidGeometry, type SolidGeometry } from './solid-geometry.js';

interface DrawnPart {
  readonly faces: number;
  readonly edges: number;
  readonly solid: SolidGeometry;
  /** Not drawn: what a ray can meet. */
  readonly target: Mesh;
}

/** The parts, the outline of the newcomer and that of a picked part. */
export class Parts {
  /** The outlines. */
  readonly group = new Group();
  private readonly drawn: readonly DrawnPart[];
  private readonly colours: Readonly<Record<PartRole, Color>>;
  private readonly outlines: { readonly newcomer: Mesh; readonly picked: Mesh };

  constructor(
    parts: readonly PagePart[],
    private readonly batches: Batches,
    shading: Shading,
    colours: Colours,
  ) {
    this.colours = {
      newcomer: colours.newcomer,
      joined: colours.part,
      waiting: mixed(colours.part, colours.ground, 0.55),
    };
    const ink = mixed(colours.ink, colours.part, 0.75);
    this.drawn = parts.map(({ mesh }, part) => {
      const solid = solidGeometry([mesh]);
      const target = new Mesh(solid.faces);
      target.userData = { part };
      target.matrixWorldAutoUpdate = false;
      return {
        faces: batches.faces.add(solid.faces, colours.part),
        edges: batches.lines.add(solid.edges, ink),
        solid,
        target,
      };
    });
    this.outlines = {
      newcomer: new Mesh(undefined, shading.outline(colours.held)),
      picked: new Mesh(undefined, shading.outline(colours.accent)),
    };
    for (const outline of Object.values(this.outlines)) {
      outline.matrixAutoUpdate = false;
      this.group.add(outline);
    }
  }

  /** Of the parts that are shown. */
  get targets(): readonly Mesh[] {
    return this.drawn.filter(({ target }) => target.visible).map(({ target }) => target);
  }

  show(parts: readonly ShownPart[], picked: number | undefined): void {
    let newcomer: number | undefined;
    parts.forEach(({ pose, role }, i) => {
      const { faces, edges, target } = this.drawn[i]!;
      const matrix = pose && matrixOf(pose);
      this.batches.faces.put(faces, matrix, this.colours[role]);
      this.batches.lines.put(edges, matrix);
      target.visible = matrix !== undefined;
      if (matrix) target.matrixWorld.copy(matrix);
      if (role === 'newcomer') newcomer = i;
    });
    this.outline(this.outlines.newcomer, newcomer === picked ? undefined : newcomer, parts);
    this.outline(this.outlines.picked, picked, parts);
  }

  private outline(mesh: Mesh, part: number | undefined, parts: readonly ShownPart[]): void {
    const pose = part === undefined ? undefined : parts[part]?.pose;
    mesh.visible = pose !== undefined;
    if (!pose) return;
    mesh.matrix.copy(matrixOf(pose));
    mesh.matrixWorldNeedsUpdate = true;
    mesh.geometry = this.drawn[part!]!.solid.hull;
  }
}

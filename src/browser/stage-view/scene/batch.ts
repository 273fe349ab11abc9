import {
  BufferAttribute,
  BufferGeometry,
  type Color,
  DynamicDrawUsage,
  LineSegments,
  Matrix4,
  Mesh,
} from 'three';
import type { ShaderMaterial } from 'three';

/** One thing in a batch: its shape, where its corners are in the whole, and how it was put last. */
interface Slot {
  readonly shape: BufferGeometry;
  readonly first: number;
  readonly matrix: Matrix4;
  readonly colour: Color;
  shown: boolean;
}

/**
 * Many things in one draw. Without a graphics card a draw costs much more than a corner, and while only the view turns
 * nothing of this changes; when things move, only their own corners are written again.
 */
export class Batch {
  readonly object: Mesh | LineSegments;
  private readonly slots: Slot[] = [];
  private readonly index: number[] = [];
  private corners = 0;
  private positions = new BufferAttribute(new Float32Array(0), 3);
  private normals = new BufferAttribute(new Float32Array(0), 3);
  private tints = new BufferAttribute(new Float32Array(0), 3);
  private built = false;

  constructor(
    material: ShaderMaterial,
    private readonly kind: 'faces' | 'lines',
  ) {
    const geometry = new BufferGeometry();
    this.object = kind === 'faces' ? new Mesh(geometry, material) : new LineSegments(geometry, material);
    this.object.frustumCulled = false;
    this.object.matrixAutoUpdate = false;
  }

  /** Makes room for a thing of this shape, which is not shown yet; to be called before anything is put. */
  add(shape: BufferGeometry, colour: Color): number {
    const count = shape.getAttribute('position').count;
    const order = shape.getIndex()?.array ?? Array.from({ length: count }, (_, i) => i);
    for (const i of order) this.index.push(this.corners + i);
    const matrix = new Matrix4();
    this.slots.push({ shape, first: this.corners, matrix, colour: colour.clone(), shown: false });
    this.corners += count;
    return this.slots.length - 1;
  }

  /** Shows a thing there in this colour; without a matrix, not at all. */
  put(place: number, matrix: Matrix4 | undefined, colour?: Color): void {
    this.build();
    const slot = this.slots[place]!;
    if (!matrix && !slot.shown) return;
    const same = matrix !== undefined && slot.shown && slot.matrix.equals(matrix);
    if (same && (!colour || slot.colour.equals(colour))) return;
    slot.shown = matrix !== undefined;
    if (colour) slot.colour.copy(colour);
    if (matrix) slot.matrix.copy(matrix);
    this.write(slot);
  }

  private build(): void {
    if (this.built) return;
    this.built = true;
    const made = (): BufferAttribute =>
      new BufferAttribute(new Float32Array(3 * this.corners), 3).setUsage(DynamicDrawUsage);
    [this.positions, this.tints] = [made(), made()];
    const { geometry } = this.object;
    geometry.setAttribute('position', this.positions);
    geometry.setAttribute('tint', this.tints);
    if (this.kind === 'faces') geometry.setAttribute('normal', (this.normals = made()));
    geometry.setIndex(this.index);
    this.object.visible = this.corners > 0;
  }

  private write({ shape, first, matrix, colour, shown }: Slot): void {
    const from = shape.getAttribute('position').array;
    const [to, tint] = [this.positions.array, this.tints.array];
    // Corners that are all at one place draw nothing.
    if (shown) transform(from, to, 3 * first, matrix.elements, 1);
    else to.fill(0, 3 * first, 3 * first + from.length);
    for (let i = 0; i < from.length; i += 3) {
      tint[3 * first + i] = colour.r;
      tint[3 * first + i + 1] = colour.g;
      tint[3 * first + i + 2] = colour.b;
    }
    this.positions.needsUpdate = this.tints.needsUpdate = true;
    if (this.kind !== 'faces') return;
    transform(shape.getAttribute('normal').array, this.normals.array, 3 * first, matrix.elements, 0);
    this.normals.needsUpdate = true;
  }
}

/** Points, or with `moved` 0 directions, through a matrix by columns. */
function transform(
  from: ArrayLike<number>,
  to: { [i: number]: number },
  offset: number,
  m: readonly number[],
  moved: 0 | 1,
): void {
  for (let i = 0; i < from.length; i += 3) {
    const [x, y, z] = [from[i]!, from[i + 1]!, from[i + 2]!];
    for (let k = 0; k < 3; k += 1)
      to[offset + i + k] = m[k]! * x + m[4 + k]! * y + m[8 + k]! * z + m[12 + k]! * moved;
  }
}

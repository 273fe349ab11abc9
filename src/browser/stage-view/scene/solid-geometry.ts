import { BufferAttribute, BufferGeometry, Vector3 } from 'three';
import type { PageMesh } from '../../../report/page/page-data.js';

/** What is drawn of a solid. */
export interface SolidGeometry {
  /** Flat faces, each triangle with its own corners. */
  readonly faces: BufferGeometry;
  readonly edges: BufferGeometry;
  /** The corners with the mean of the directions of their faces, to be grown into an outline. */
  readonly hull: BufferGeometry;
}

export function solidGeometry(meshes: readonly PageMesh[]): SolidGeometry {
  const corners: number[] = [];
  const triangles: number[] = [];
  const edges: number[] = [];
  for (const mesh of meshes) {
    const first = corners.length / 3;
    for (const value of mesh.corners) corners.push(value);
    for (const index of mesh.triangles) triangles.push(first + index);
    for (const index of mesh.edges) edges.push(first + index);
  }
  const faces = geometry(triangles.flatMap((i) => corners.slice(3 * i, 3 * i + 3)));
  faces.computeVertexNormals();
  const positions = new Float32Array(corners);
  const lines = new BufferGeometry();
  lines.setAttribute('position', new BufferAttribute(positions, 3));
  lines.setIndex(edges);
  return { faces, edges: lines, hull: hullOf(positions, triangles) };
}

const geometry = (positions: readonly number[]): BufferGeometry => {
  const made = new BufferGeometry();
  made.setAttribute('position', new BufferAttribute(new Float32Array(positions), 3));
  return made;
};

/** Corners at the same place, hundredths of a mm, are one. */
function hullOf(positions: Float32Array, triangles: readonly number[]): BufferGeometry {
  const sums = new Map<string, Vector3>();
  const keyOf = (i: number): string => [0, 1, 2].map((k) => Math.round(positions[3 * i + k]! * 100)).join();
  const [a, b, c] = [new Vector3(), new Vector3(), new Vector3()];
  for (let t = 0; t < triangles.length; t += 3) {
    const [i, j, k] = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!];
    a.fromArray(positions, 3 * i);
    const normal = b
      .fromArray(positions, 3 * j)
      .sub(a)
      .cross(c.fromArray(positions, 3 * k).sub(a))
      .normalize();
    for (const corner of [i, j, k]) {
      const key = keyOf(corner);
      const sum = sums.get(key) ?? new Vector3();
      if (sum.dot(normal) < 0.999 * sum.length() || sum.length() === 0) sum.add(normal);
      sums.set(key, sum);
    }
  }
  const normals = new Float32Array(positions.length);
  for (let i = 0; i * 3 < positions.length; i += 1)
    (sums.get(keyOf(i)) ?? a.set(0, 0, 1))
      .clone()
      .normalize()
      .toArray(normals, 3 * i);
  const made = new BufferGeometry();
  made.setAttribute('position', new BufferAttribute(positions, 3));
  made.setAttribute('normal', new BufferAttribute(normals, 3));
  made.setIndex([...triangles]);
  return made;
}

import { CylinderGeometry, type Color } from 'three';
import { place } from '../../../geometry/pose.js';
import { distance } from '../../../geometry/vector.js';
import type { ShownMoment } from '../moment/shown-moment.js';
import type { Batch } from './batch.js';
import { poseToward } from './capsule.js';
import { matrixOf } from './matrices.js';

/** Seams as thin rods. */
export class Seams {
  private readonly slots: readonly number[];

  constructor(
    count: number,
    private readonly batch: Batch,
    colour: Color,
  ) {
    const rod = new CylinderGeometry(1, 1, 1, 5, 1, true);
    rod.rotateX(Math.PI / 2);
    rod.translate(0, 0, 0.5);
    this.slots = Array.from({ length: count }, () => batch.add(rod, colour));
  }

  /** `radius` in mm. */
  show(seams: ShownMoment['seams'], radius: number): void {
    this.slots.forEach((slot, i) => {
      const seam = seams[i];
      if (!seam) return this.batch.put(slot, undefined);
      const [from, to] = [place(seam.moved, seam.ends[0]), place(seam.moved, seam.ends[1])];
      this.batch.put(slot, matrixOf(poseToward(from, to), [radius, radius, distance(from, to)]));
    });
  }
}

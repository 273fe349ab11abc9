import { ConeGeometry, CylinderGeometry } from 'three';
import { along } from '../../../geometry/vector.js';
import type { ShownMoment } from '../moment/shown-moment.js';
import type { Batch } from './batch.js';
import { poseToward } from './capsule.js';
import type { Colours } from './colours.js';
import { matrixOf } from './matrices.js';

/** An arrow along the way in which the newcomer comes to its place. */
export class ApproachArrow {
  private readonly shaft: number;
  private readonly tip: number;

  constructor(
    /** Radius of the shaft, mm. */
    private readonly radius: number,
    private readonly batch: Batch,
    colours: Colours,
  ) {
    const shaft = new CylinderGeometry(radius, radius, 1, 12);
    shaft.rotateX(Math.PI / 2);
    shaft.translate(0, 0, 0.5);
    const tip = new ConeGeometry(radius * 2.6, radius * 6, 16);
    tip.rotateX(Math.PI / 2);
    tip.translate(0, 0, radius * 3);
    this.shaft = batch.add(shaft, colours.held);
    this.tip = batch.add(tip, colours.held);
  }

  /** Undefined: no arrow. */
  show(arrow: ShownMoment['arrow']): void {
    const long = arrow ? Math.max(this.radius, arrow.distance - 6 * this.radius) : 1;
    const toward = arrow && poseToward(arrow.from, along(arrow.from, arrow.direction, 1));
    this.batch.put(this.shaft, toward && matrixOf(toward, [1, 1, long]));
    const end = arrow && along(arrow.from, arrow.direction, long);
    this.batch.put(this.tip, toward && end && matrixOf({ at: end, turn: toward.turn }));
  }
}

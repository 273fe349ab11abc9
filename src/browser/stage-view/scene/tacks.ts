import { type Color, ConeGeometry, CylinderGeometry, type Matrix4 } from 'three';
import { place, rotate } from '../../../geometry/pose.js';
import { add, along, distance, scale } from '../../../geometry/vector.js';
import type { PageStage, Pick } from '../../../report/page/page-data.js';
import type { Batches } from './batches.js';
import { poseToward } from './capsule.js';
import type { Colours } from './colours.js';
import type { ShownTackPlace } from '../moment/shown-moment.js';
import { matrixOf } from './matrices.js';

/** Radius of a bead that lies, and share of it for one that comes later, which is drawn as a thin line. */
const THIN = 0.35;

/** Tacks as beads, and torch directions as cones that point at where the arc burns. */
export class Tacks {
  private readonly beads: readonly number[];
  private readonly cones: readonly { readonly plain: number; readonly hidden: number }[];

  constructor(
    stages: readonly PageStage[],
    /** Radius of a bead and length of a cone, mm. */
    private readonly sizes: { readonly bead: number; readonly cone: number },
    private readonly batches: Batches,
    private readonly colours: Colours,
  ) {
    const bead = new CylinderGeometry(1, 1, 1, 6, 1, true);
    bead.rotateX(Math.PI / 2);
    bead.translate(0, 0, 0.5);
    const cone = new ConeGeometry(1, 1, 8);
    cone.rotateX(Math.PI / 2);
    cone.translate(0, 0, -0.5);
    const counts = stages.map(({ tacks }) => tacks.length);
    const all = counts.reduce((sum, count) => sum + count, 0);
    this.beads = Array.from({ length: all }, () => batches.faces.add(bead, colours.arc));
    // Only those of one stage are seen at a time.
    this.cones = Array.from({ length: Math.max(0, ...counts) }, () => ({
      plain: batches.faces.add(cone, colours.arc),
      hidden: batches.through.add(cone, colours.arc),
    }));
  }

  /** A picked tack is drawn thicker and in another colour. */
  show(tacks: readonly ShownTackPlace[], picked: Pick | undefined): void {
    const { faces, through } = this.batches;
    const isPicked = ({ tack }: ShownTackPlace): boolean => tack.pick === picked;
    this.beads.forEach((bead, i) => {
      const shown = tacks[i];
      if (shown)
        faces.put(bead, this.beadMatrix(shown, isPicked(shown)), this.colourOf(shown, isPicked(shown)));
      else faces.put(bead, undefined);
    });
    const present = tacks.filter((one) => one.present);
    this.cones.forEach(({ plain, hidden }, i) => {
      const shown = present[i];
      const direction = shown && this.coneMatrix(shown);
      const colour = shown && this.colourOf(shown, isPicked(shown));
      faces.put(plain, direction, colour);
      through.put(hidden, direction, colour);
    });
  }

  private beadMatrix({ tack, state, moved }: ShownTackPlace, picked: boolean): Matrix4 {
    const [from, to] = [place(moved, tack.from), place(moved, tack.to)];
    const radius = this.sizes.bead * (picked ? 1.7 : state === 'later' ? THIN : 1);
    return matrixOf(poseToward(from, to), [radius, radius, distance(from, to)]);
  }

  /** Of a tack that a robot lays. */
  private coneMatrix({ tack, state, moved }: ShownTackPlace): Matrix4 | undefined {
    if (!tack.torch) return undefined;
    const torch = rotate(moved.turn, tack.torch);
    const middle = place(moved, scale(add(tack.from, tack.to), 0.5));
    const tip = along(middle, torch, -this.sizes.bead);
    const thick = this.sizes.cone * (state === 'laid' ? 0.05 : 0.09);
    return matrixOf(poseToward(tip, along(tip, torch, 1)), [thick, thick, this.sizes.cone]);
  }

  private colourOf({ state }: ShownTackPlace, picked: boolean): Color {
    const { accent, arc, held } = this.colours;
    return picked ? accent : state === 'now' ? held : arc;
  }
}

import { compose, type Pose } from '../../../geometry/pose.js';
import { distance, ORIGIN, type Vec3 } from '../../../geometry/vector.js';
import type { Joints } from '../../../kinematics/arm.js';
import { posture, type LinkPoints } from '../../../kinematics/forward.js';
import type { PageRobot } from '../../../report/page/page-data.js';
import { poseOf } from '../moment/poses.js';
import type { Batches } from './batches.js';
import { capsule, poseToward } from './capsule.js';
import { mixed, type Colours } from './colours.js';
import { matrixOf } from './matrices.js';
import { solidGeometry } from './solid-geometry.js';

type Link = readonly [from: keyof LinkPoints | 'foot', to: keyof LinkPoints, radius: number];

const linksOf = ({ radii }: PageRobot): readonly Link[] => [
  ['foot', 'shoulder', radii.column],
  ['shoulder', 'elbow', radii.upperArm],
  ['elbow', 'wrist', radii.forearm],
  ['wrist', 'flange', radii.wrist],
  ...(radii.dressPack === undefined ? [] : [['flange', 'elbow', radii.dressPack] as const]),
];

/** One arm as capsules, with the tool on its flange. */
export class DrawnArm {
  private readonly base: Pose;
  private readonly links: readonly { readonly slot: number; readonly link: Link; readonly size: number }[];
  private readonly tools: readonly { readonly faces: number; readonly edges: number }[];

  constructor(
    private readonly robot: PageRobot,
    private readonly batches: Batches,
    colours: Colours,
  ) {
    const colour = mixed(robot.duty === 'weld' ? colours.arc : colours.accent, colours.ground, 0.42);
    const points = { foot: ORIGIN, ...posture(robot.arm, [0, 0, 0, 0, 0, 0]).points };
    this.base = poseOf(robot.base);
    this.links = linksOf(robot).map((link) => {
      const size = Math.max(1, distance(points[link[0]], points[link[1]]));
      return { slot: batches.arms.add(capsule(link[2], size), colour), link, size };
    });
    const face = mixed(colours.ink, colours.ground, 0.55);
    this.tools = robot.tools.map(({ mesh }) => {
      const made = solidGeometry([mesh]);
      return {
        faces: batches.faces.add(made.faces, face),
        edges: batches.lines.add(made.edges, colours.ink),
      };
    });
  }

  /** `tool`: index of what is on the flange; without joints nothing is shown. */
  show(joints: Joints | undefined, tool: number): void {
    const stance = joints && posture(this.robot.arm, joints);
    const points = stance && { foot: ORIGIN, ...stance.points };
    for (const { slot, link, size } of this.links) {
      const ends = points && ([points[link[0]], points[link[1]]] as const);
      // Only the hoses change their length.
      const stretch: Vec3 = [1, 1, ends ? distance(...ends) / size : 1];
      this.batches.arms.put(slot, ends && matrixOf(compose(this.base, poseToward(...ends)), stretch));
    }
    this.tools.forEach(({ faces, edges }, i) => {
      const flange = stance && { at: stance.points.flange, turn: stance.turn };
      const matrix = flange && i === tool ? matrixOf(compose(this.base, flange)) : undefined;
      this.batches.faces.put(faces, matrix);
      this.batches.lines.put(edges, matrix);
    });
  }
}

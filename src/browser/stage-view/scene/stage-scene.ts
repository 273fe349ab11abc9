import {
  type BufferGeometry,
  type Camera,
  LineSegments,
  Mesh,
  Raycaster,
  Scene,
  type ShaderMaterial,
  Vector2,
} from 'three';
import { place, type Pose } from '../../../geometry/pose.js';
import { dot, type Vec3 } from '../../../geometry/vector.js';
import type { PageData, Pick } from '../../../report/page/page-data.js';
import { nearestLine, type ScreenLine, type ScreenPoint } from '../camera/nearest-line.js';
import type { Rig } from '../camera/rig.js';
import type { LookState } from '../look.js';
import { planeOf } from '../moment/section-plane.js';
import type { Moments, ShownMoment } from '../moment/shown-moment.js';
import { ApproachArrow } from './approach-arrow.js';
import { batchesOf } from './batches.js';
import { DrawnArm } from './arms.js';
import { mixed, type Colours } from './colours.js';
import { Fixtures, type Floor } from './fixtures.js';
import { Shading } from './materials.js';
import { Parts } from './parts.js';
import { Seams } from './seams.js';
import { Tacks } from './tacks.js';

/** Length of the cone that shows a torch direction, as a share of the size of the weldment. */
export const CONE = 0.16;

/** A tack or seam this near to where somebody points is meant, pixels; and it may lie so deep in a part, mm. */
const [REACH, COVER] = [9, 8];

const lastNumber = (pick: Pick | undefined, kind: string): number | undefined =>
  pick?.startsWith(`${kind}:`) ? Number(pick.slice(kind.length + 1)) : undefined;

/** Below everything, in the middle between the robots and the weldment. */
function floorOf({ robots, fixtures }: PageData, { room }: Moments): Floor {
  const heights = [0, ...robots.map(({ base }) => base[2])];
  for (const { mesh } of fixtures)
    for (let i = 2; i < mesh.corners.length; i += 3) heights.push(mesh.corners[i]!);
  return {
    x: (room.low[0] + room.high[0]) / 2,
    y: (room.low[1] + room.high[1]) / 2,
    z: Math.min(...heights),
  };
}

/** All that is drawn, in one set of colours. */
export class StageScene {
  readonly scene = new Scene();
  readonly shading = new Shading();
  private readonly batches = batchesOf(this.shading);
  private readonly parts: Parts;
  private readonly arms: readonly DrawnArm[];
  private readonly fixtures: Fixtures;
  private readonly tacks: Tacks;
  private readonly seams: Seams;
  private readonly pickedSeams: Seams;
  private readonly arrow: ApproachArrow;
  private moment: ShownMoment | undefined;
  private plane: readonly [Vec3, number] | undefined;

  constructor(
    data: PageData,
    private readonly moments: Moments,
    colours: Colours,
  ) {
    const { shading } = this;
    const { size } = moments;
    const seams = data.joints.map((joint) => joint.seams.length);
    const { batches } = this;
    const floor = floorOf(data, moments);
    this.parts = new Parts(data.parts, batches, shading, colours);
    this.fixtures = new Fixtures(data.fixtures, floor, batches, colours);
    this.arms = data.robots.map((robot) => new DrawnArm(robot, batches, colours));
    this.tacks = new Tacks(
      data.stages,
      { bead: Math.max(2.5, size * 0.007), cone: size * CONE },
      batches,
      colours,
    );
    this.seams = new Seams(
      seams.reduce((a, b) => a + b, 0),
      batches.faces,
      mixed(colours.arc, colours.part, 0.5),
    );
    this.pickedSeams = new Seams(Math.max(0, ...seams), batches.faces, colours.accent);
    this.arrow = new ApproachArrow(size * 0.008, batches.above, colours);
    this.scene.add(this.parts.group, ...Object.values(batches).map(({ object }) => object));
  }

  show(moment: ShownMoment, look: LookState, picked: Pick | undefined): void {
    this.moment = moment;
    this.plane = look.section && planeOf(look.section, this.moments.room);
    this.shading.section(this.plane);
    this.parts.show(moment.parts, lastNumber(picked, 'part'));
    this.fixtures.show(look.fixtures ? moment.table : undefined);
    // Arms hold parts where they belong, not where an exploded picture shows them.
    const hidden = look.exploded > 0 || look.arms === 'hidden';
    this.arms.forEach((arm, i) =>
      arm.show(hidden ? undefined : moment.arms[i]!.joints, moment.arms[i]!.tool),
    );
    this.shading.seeThrough(this.batches.arms.object.material as ShaderMaterial, look.arms === 'through');
    this.tacks.show(look.tacks ? moment.tacks : [], picked);
    const joint = lastNumber(picked, 'joint');
    const reach = this.moments.size;
    this.seams.show(moment.seams, reach * 0.0018);
    this.pickedSeams.show(
      moment.seams.filter((seam) => seam.joint === joint),
      reach * 0.007,
    );
    this.arrow.show(look.exploded > 0 ? undefined : moment.arrow);
  }

  /** Gives back what the graphics card keeps for it; it cannot be shown after. */
  dispose(): void {
    this.scene.traverse((object) => {
      if (object instanceof Mesh || object instanceof LineSegments)
        (object.geometry as BufferGeometry).dispose();
    });
    this.shading.dispose();
  }

  /** What somebody means who points there: a tack before a seam before a part. */
  pickAt(point: ScreenPoint, rig: Rig, look: LookState): Pick | undefined {
    const { moment } = this;
    if (!moment) return undefined;
    const hit = this.hit(rig.normalised(point), rig.camera);
    const cover = (hit?.depth ?? Infinity) + COVER;
    const line = <T>(what: T, from: Vec3, to: Vec3, moved: Pose): ScreenLine<T>[] => {
      const ends = [place(moved, from), place(moved, to)] as const;
      if (ends.some((end) => this.cutAway(end))) return [];
      const [[x, y, near], [u, v, far]] = [rig.project(ends[0]), rig.project(ends[1])];
      return [{ what, from: [x, y], to: [u, v], depths: [near, far] }];
    };
    const tacks = look.tacks
      ? moment.tacks.flatMap(({ tack, moved }) => line(tack.pick, tack.from, tack.to, moved))
      : [];
    const seams = moment.seams.flatMap(({ ends, joint, moved }) =>
      line<Pick>(`joint:${joint}`, ends[0], ends[1], moved),
    );
    return (
      nearestLine(point, tacks, REACH, cover) ??
      nearestLine(point, seams, REACH * 0.6, cover) ??
      (hit ? `part:${hit.part}` : undefined)
    );
  }

  private cutAway(point: Vec3): boolean {
    return this.plane !== undefined && dot(this.plane[0], point) > this.plane[1];
  }

  private hit(
    [x, y]: readonly [number, number],
    camera: Camera,
  ): { readonly part: number; readonly depth: number } | undefined {
    const ray = new Raycaster();
    ray.setFromCamera(new Vector2(x, y), camera);
    const found = ray
      .intersectObjects([...this.parts.targets], false)
      .find(({ point }) => !this.cutAway([point.x, point.y, point.z]));
    return found && { part: Number(found.object.userData['part']), depth: found.distance };
  }
}

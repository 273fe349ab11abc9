import { robotsOf } from '../model/cell.js';
import { has, type PartSet } from '../base/part-set.js';
import { solidsOverlap } from '../geometry/separation.js';
import { stationSolids } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import { sceneAnyhow } from '../model/table-turn.js';
import type { Refusal } from '../model/verdict.js';
import { ArmRoom, gripperAlone, torchLoad, type ArmHits } from './arm-room.js';

interface Standing {
  readonly name: string;
  /** What it is in the way of: whether of the table itself, and of which parts. */
  readonly table: boolean;
  readonly parts: readonly number[];
}

/**
 * What is in the way of a work table that turns with parts on it, each in the room that it needs for the whole round:
 * keep-outs and stations by the touch tolerance, arms at home by the clearance, handling arms with all grippers.
 */
export class TurnRoom {
  private readonly around: readonly Standing[];

  constructor(
    private readonly scene: Scene,
    settings: Settings,
  ) {
    const anyhow = sceneAnyhow(scene);
    const { cell, keepOuts, table, parts } = anyhow;
    const tolerance = settings.motion['touch-tolerance'];
    const fixed = [
      ...keepOuts.map((solid, i) => ({ name: `keep-out ${i + 1}`, solid })),
      ...stationSolids(cell).map((solid) => ({ name: 'a station', solid })),
    ];
    const allGrippers = cell.grippers.flatMap(gripperAlone);
    const arms = robotsOf(cell).map((robot) => ({
      name: `${robot.id} at home`,
      met: new ArmRoom(anyhow, robot, settings).hits(robot.duty === 'weld' ? torchLoad(robot) : allGrippers, [
        robot.home,
      ]),
    }));
    const metParts = ({ parts: met }: ArmHits): readonly number[] =>
      parts.flatMap((_, i) => (has(met, i) ? [i] : []));
    this.around = [
      ...fixed.map(({ name, solid }) => ({
        name,
        table: solidsOverlap(table, solid, tolerance),
        parts: parts.flatMap((one, i) => (solidsOverlap(one.solid, solid, tolerance) ? [i] : [])),
      })),
      ...arms.map(({ name, met }) => ({ name, table: met.fixed !== undefined, parts: metParts(met) })),
    ];
  }

  /** The first thing in the way of the table or of a part on it; undefined where there is none. */
  blocked(inPlace: PartSet): Refusal | undefined {
    for (const { name, table, parts } of this.around) {
      const met = parts.find((part) => has(inPlace, part));
      if (!table && met === undefined) continue;
      const turning = table || met === undefined ? 'the work table' : this.scene.parts[met]!.part.id;
      return { code: 'turn-blocked', subjects: [turning, name] };
    }
    return undefined;
  }
}

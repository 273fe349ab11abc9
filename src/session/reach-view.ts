import { rounded } from '../base/order.js';
import type { Facts } from '../facts/facts.js';
import { isNeeded, targetName, type TargetReach } from '../facts/reach-survey.js';
import { targetsOf, type ReachTarget } from '../facts/reach-tries.js';
import { toRollPitchYaw, type Pose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import { robotsOf, type Cell } from '../model/cell.js';
import { movedCell, moveSize, type CellMove } from '../model/cell-move.js';
import type { ChangeView, MissedTarget, ReachRow, ReachView } from '../report/reach-view.js';
import type { CellAdvice } from './cell-advice.js';

const whatOf = (target: ReachTarget): ReachRow['what'] =>
  'seam' in target ? 'seams' : target.station === 'stand' ? 'grippers' : 'parts';

/** Entries of a survey by robot, place and kind, in the order of the survey. */
function grouped(survey: readonly TargetReach[]): readonly (readonly TargetReach[])[] {
  const groups = new Map<string, TargetReach[]>();
  for (const entry of survey) {
    const key = JSON.stringify([entry.robot, entry.target.station, whatOf(entry.target)]);
    groups.set(key, [...(groups.get(key) ?? []), entry]);
  }
  return [...groups.values()];
}

/** Turns advice on a cell into plain data. */
class Viewer {
  constructor(private readonly facts: Facts) {}

  name(target: ReachTarget): string {
    return targetName(this.facts.scene, target);
  }

  rows(survey: readonly TargetReach[], unmet: readonly ReachTarget[]): readonly ReachRow[] {
    const lacking = new Set(unmet.map((target) => this.key(target)));
    return grouped(survey).map((entries) => ({
      robot: entries[0]!.robot,
      place: entries[0]!.target.station,
      what: whatOf(entries[0]!.target),
      targets: { reached: entries.filter(({ reached }) => reached).length, of: entries.length },
      ways: {
        reached: entries.reduce((sum, { ways }) => sum + ways.reached, 0),
        of: entries.reduce((sum, { ways }) => sum + ways.of, 0),
      },
      worst: this.worst(entries),
      missed: entries
        .filter(({ reached }) => !reached)
        .map(({ target, ways, nearest }): MissedTarget => ({
          target: this.name(target),
          needed: lacking.has(this.key(target)),
          ways,
          nearest: nearest ?? null,
        })),
    }));
  }

  private key(target: ReachTarget): string {
    return JSON.stringify([target.station, whatOf(target), this.name(target)]);
  }

  private worst(entries: readonly TargetReach[]): ReachRow['worst'] {
    let worst: ReachRow['worst'] = null;
    for (const { target, reached, margin } of entries) {
      if (!reached || !margin) continue;
      const degrees = rounded(margin.degrees, 3);
      if (worst === null || degrees < worst.degrees)
        worst = { target: this.name(target), degrees, joint: margin.joint };
    }
    return worst;
  }

  change(move: CellMove): ChangeView {
    return {
      moved: move.moved,
      shift: move.shift,
      turn: move.degrees,
      size: rounded(moveSize(move), 1),
      write: writtenOf(movedCell(this.facts.scene.cell, move), move),
    };
  }
}

const stated = (at: Vec3): Vec3 => [rounded(at[0], 4), rounded(at[1], 4), rounded(at[2], 4)];
const yawOf = ({ turn }: Pose): number => rounded(toRollPitchYaw(turn)[2], 5);

/** What to write in the cell file for a change; turns only where something is turned. */
function writtenOf(cell: Cell, { moved, degrees }: CellMove): ChangeView['write'] {
  if (moved.what === 'table') {
    const { pose } = cell.table;
    return [
      { path: 'stations.table.at', value: stated(pose.at) },
      { path: 'stations.table.weldment-at', value: stated(cell.weldmentPose.at) },
      ...(degrees === 0
        ? []
        : [
            { path: 'stations.table.turn', value: yawOf(pose) },
            { path: 'stations.table.weldment-turn', value: yawOf(cell.weldmentPose) },
          ]),
    ];
  }
  const [path, pose] =
    moved.what === 'infeed'
      ? ['stations.infeed', cell.infeed.pose]
      : [`robots.${moved.id}`, robotsOf(cell).find(({ id }) => id === moved.id)!.base];
  return [
    { path: `${path}.at`, value: stated(pose.at) },
    ...(degrees === 0
      ? []
      : [{ path: `${path}.turn`, value: toRollPitchYaw(pose.turn).map((angle) => rounded(angle, 5)) }]),
  ];
}

/** What robots get to in a cell, and advice on it, as plain data. */
export function reachView(facts: Facts, { survey, unmet, better, tried, of }: CellAdvice): ReachView {
  const viewer = new Viewer(facts);
  const needed = targetsOf(facts).filter(isNeeded).length;
  const outcome =
    unmet.length === 0
      ? 'none-needed'
      : better === undefined
        ? 'none-found'
        : better.unmet.length === 0
          ? 'cured'
          : 'better';
  return {
    rows: viewer.rows(survey, unmet),
    needed: { reached: needed - unmet.length, of: needed },
    advice: {
      outcome,
      change: better ? viewer.change(better.move) : null,
      left: (better?.unmet ?? []).map((target) => ({ place: target.station, target: viewer.name(target) })),
      rows: better ? viewer.rows(better.survey, better.unmet) : [],
      tried,
      of,
    },
  };
}

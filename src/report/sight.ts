import type { Solid } from '../geometry/solid.js';
import { along, dot, subtract, type Vec3 } from '../geometry/vector.js';

/** Matter that begins this near, or is this thin, hides nothing, mm: a seam lies on its own parts. */
const SKIN = 0.05;

/** Whether any of the solids stands between a point and the viewer. */
export const isHidden = (point: Vec3, toward: Vec3, solids: readonly Solid[]): boolean =>
  solids.some((solid) =>
    solid.pieces.some(({ planes }) => {
      let [enter, leave] = [SKIN, Infinity];
      for (const { normal, offset } of planes) {
        const speed = dot(normal, toward);
        const room = offset - dot(normal, point);
        if (Math.abs(speed) < 1e-9) {
          if (room < SKIN) return false;
        } else if (speed > 0) leave = Math.min(leave, room / speed);
        else enter = Math.max(enter, room / speed);
      }
      return leave - enter > SKIN;
    }),
  );

/** A stretch of a line that is seen or hidden throughout. */
export interface Run {
  readonly from: Vec3;
  readonly to: Vec3;
  readonly hidden: boolean;
}

const SAMPLES = 48;

/** A straight line cut where it goes out of or into sight, to a forty-eighth of its length. */
export function sightRuns(from: Vec3, to: Vec3, toward: Vec3, solids: readonly Solid[]): readonly Run[] {
  const way = subtract(to, from);
  const runs: Run[] = [];
  for (let i = 0; i < SAMPLES; i += 1) {
    const hidden = isHidden(along(from, way, (i + 0.5) / SAMPLES), toward, solids);
    const end = along(from, way, (i + 1) / SAMPLES);
    const last = runs.at(-1);
    if (last?.hidden === hidden) runs[runs.length - 1] = { ...last, to: end };
    else runs.push({ from: last?.to ?? from, to: end, hidden });
  }
  return runs;
}

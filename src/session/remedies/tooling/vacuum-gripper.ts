import type { Change } from '../../../model/tried-remedy.js';
import type { Ladder } from '../ladder.js';
import { hasCode, type Trouble } from '../trouble.js';
import type { GripperFileOf } from './flat-gripper.js';

/** Below the air outside, kPa: what an ejector gives on sealed steel (common practice). */
const PRESSURE = 60;
/** How far its stand is beside that of the magnet, mm. */
const BESIDE = 120;
/** Cups as large as the pads of the magnet, and larger ones farther apart: air presses less than a magnet pulls. */
const LARGER = [1, 1.5, 2];

/** The file of a gripper with cups in the places of a magnet's pads, all larger by a factor; no more in height. */
function withCups(
  { magnet, envelope, mass, slip, reach, stand }: GripperFileOf,
  by: number,
  seconds: number,
) {
  const [x, y, z] = stand;
  const size = { length: envelope.length * by, width: envelope.width * by, height: envelope.height };
  return {
    ...{ mass, slip, reach, envelope: size, stand: [x + BESIDE * by, y, z] },
    vacuum: {
      'pressure-kpa': PRESSURE,
      cups: magnet!.pads.map((centre) => centre.map((one) => one * by)),
      'cup-diameter': magnet!['pad-diameter'] * by,
      'reserve-seconds': seconds,
    },
  };
}

/** A vacuum gripper of its own, in the form of a magnet of the cell, for a part that no magnet holds. */
export function vacuumGripper(trouble: Trouble): readonly Ladder[] {
  if (!hasCode(trouble, 'not-magnetic')) return [];
  const { cell, settings } = trouble;
  return Object.entries(cell.grippers).flatMap(([id, gripper]): Ladder[] => {
    const name = `${id}-vacuum`;
    if (gripper.magnet === undefined || name in cell.grippers) return [];
    const changes = LARGER.map((by, i): Change => {
      const to = withCups(gripper, by, settings.loads['power-loss-seconds']);
      return {
        words: `add a vacuum gripper with ${to.vacuum.cups.length} cups of ${to.vacuum['cup-diameter']} mm and a reservoir, formed like ${id}, that stands beside it`,
        edits: [{ file: 'cell', path: ['grippers', name], to }],
        size: (i + 1) / LARGER.length,
      };
    });
    return [{ kind: 'vacuum-gripper', cost: 'tooling', changes, monotone: false }];
  });
}

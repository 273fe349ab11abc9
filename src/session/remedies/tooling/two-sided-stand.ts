import { singleChange } from '../number-ladder.js';
import type { Change } from '../../../model/tried-remedy.js';
import type { Ladder } from '../ladder.js';
import { stuckParts, type Trouble } from '../trouble.js';

/** How much wider than the smallest part its opening is narrower, and the stand larger, mm. */
const RIM = 40;
/** Height of its top above that of the regrip table, mm: an arm gets under it (our choice). */
const RAISED = 800;

/** Extents of a part along its own axes, smallest first, mm. */
function extents({ facts }: Trouble, part: string): readonly number[] {
  const { low, high } = facts.scene.parts[facts.scene.index.get(part)!]!.solid.bounds;
  return [0, 1, 2].map((axis) => high[axis as 0 | 1 | 2] - low[axis as 0 | 1 | 2]).sort((a, b) => a - b);
}

/** A stand with an opening behind the regrip table, on which a part may be taken from below: it gets turned over. */
export const twoSidedStand = (trouble: Trouble): readonly Ladder[] => {
  const { regrip, 'two-sided': given } = trouble.cell.stations;
  if (given !== undefined) return [];
  return stuckParts(trouble, 'no-handling').flatMap((part): Ladder[] => {
    if (!trouble.facts.scene.index.has(part)) return [];
    const [, across = 0, along = 0] = extents(trouble, part).map(Math.round);
    if (across <= RIM) return [];
    const robot = Object.values(trouble.cell.robots).find(({ duty }) => duty === 'handle')!;
    const [dx, dy] = [regrip.at[0] - robot.at[0], regrip.at[1] - robot.at[1]];
    const far = Math.hypot(dx, dy) || 1;
    const deep = (regrip.size[1] + across) / 2;
    const at = [
      Math.round(regrip.at[0] + (dx / far) * deep),
      Math.round(regrip.at[1] + (dy / far) * deep),
      regrip.at[2] + RAISED,
    ];
    const turn = Math.round((Math.atan2(dy, dx) * 180) / Math.PI);
    const stand = (bridged: number): Change => ({
      words: `add a two-sided stand behind the regrip table, so that ${part} can be turned over`,
      edits: [
        {
          ...{ file: 'cell', path: ['stations', 'two-sided'] },
          to: {
            ...{ at, turn, size: [2 * bridged, bridged + 2 * RIM] },
            opening: [2 * bridged, Math.max(20, bridged - RIM)],
          },
        },
      ],
      size: 1,
    });
    return [across, along]
      .filter((bridged, i, all) => all.indexOf(bridged) === i)
      .map((bridged) => singleChange('two-sided-stand', 'tooling', stand(bridged)));
  });
};

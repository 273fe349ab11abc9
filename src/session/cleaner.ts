import { members } from '../base/part-set.js';
import { ArmRoom, torchLoad } from '../facts/arm-room.js';
import type { SourceDocument } from '../io/document.js';
import { issueAt } from '../io/issue-at.js';
import { robotsOf, type Cell, type Welder } from '../model/cell.js';
import type { Issue } from '../model/issue.js';
import { CLEANED_BY_HAND_EVERY } from '../model/robot-file.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import { sceneAnyhow } from '../model/table-turn.js';

const weldersOf = (cell: Cell): readonly Welder[] =>
  robotsOf(cell).filter((robot): robot is Welder => robot.duty === 'weld');

/**
 * What keeps a robot from its cleaner, in words; undefined for nothing. The way there is one joint move from home; that
 * its end is within the limits of the arm, the reading of the cell makes sure of.
 */
function hindrance(scene: Scene, settings: Settings, robot: Welder): string | undefined {
  const { joints } = robot.cleaning!;
  const met = new ArmRoom(sceneAnyhow(scene), robot, settings).hits(torchLoad(robot), [robot.home, joints]);
  const names =
    met.fixed === undefined ? members(met.parts).map((i) => scene.parts[i]!.part.id) : [met.fixed];
  return names.length === 0 ? undefined : `on the joint move from home the arm meets ${names.join(', ')}`;
}

/** Cleaners of nozzles that their robots do not get to, whatever is in place and however the table stands. */
export const cleanerIssues = (scene: Scene, settings: Settings, document: SourceDocument): readonly Issue[] =>
  weldersOf(scene.cell).flatMap((robot) => {
    const why = robot.cleaning && hindrance(scene, settings, robot);
    if (why === undefined) return [];
    return [
      issueAt(document, ['robots', robot.id, 'cleaning', 'joints'], {
        code: 'cleaner-not-reached',
        problem: `the cleaner is not reached: ${why}`,
        remedy: 'give another posture or `home`, or leave out `cleaning`',
      }),
    ];
  });

/** What a plan says of robots that have no cleaner. */
export const cleanedByHand = (cell: Cell): readonly string[] =>
  weldersOf(cell)
    .filter(({ cleaning }) => cleaning === undefined)
    .map(
      ({ id }) =>
        `${id} has no \`cleaning\`: its nozzle is cleaned by hand, after every ${CLEANED_BY_HAND_EVERY} arcs at the latest (our choice)`,
    );

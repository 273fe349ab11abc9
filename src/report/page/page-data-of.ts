import type { StageView } from '../../rules/stage-views.js';
import { stageViews } from '../../rules/stage-views.js';
import { plain } from '../plain.js';
import { pageDetails } from './data/details/details.js';
import type { TimedStage } from './data/details/stage-detail.js';
import { stageMoved } from './data/distortion.js';
import { pageFixtures } from './data/fixtures.js';
import { pageJoints } from './data/joints.js';
import { meshOf } from './data/mesh.js';
import { arrivals, placesOf } from './data/places.js';
import { robotPrograms, type RobotProgram } from './data/robot-program.js';
import { pageRobot } from './data/robots.js';
import { pagePose, seconds } from './data/rounding.js';
import { stageTimes } from './data/stage-times.js';
import { pageStage } from './data/stages.js';
import { TackMaker } from './data/tacks.js';
import { pageTurns } from './data/turns.js';
import type { GeometricContext } from './page-context.js';
import type { PageData, PagePart } from './page-data.js';

function pageParts(
  { scene }: GeometricContext,
  programs: readonly RobotProgram[],
  views: readonly StageView[],
): readonly PagePart[] {
  const arrived = arrivals(programs);
  const byPart = new Map(views.map((view) => [view.part, view]));
  return scene.parts.map(({ part, own, pose }, i) => {
    const view = byPart.get(i);
    return {
      name: plain(part.id),
      mesh: meshOf(own),
      final: pagePose(pose),
      stage: view?.stage.number ?? 0,
      places: view === undefined ? [] : placesOf(programs, arrived, view),
    };
  });
}

/** What the script of the page is told of a plan. Stages whose part no program brings are left out. */
export function pageData(context: GeometricContext): PageData {
  const { plan } = context;
  const programs = robotPrograms(context);
  const views = stageViews(context);
  const timed = views.flatMap((view): TimedStage[] => {
    const times = stageTimes(programs, view);
    return times === undefined ? [] : [{ view, times }];
  });
  const tacks = new TackMaker(context, programs);
  return {
    weldment: plain(plan.weldment.name),
    parts: pageParts(context, programs, views),
    robots: programs.map((program) => pageRobot(context, program)),
    fixtures: pageFixtures(context, views),
    stages: timed.map(({ view, times }) => pageStage(context, programs, tacks, view, times)),
    joints: pageJoints(context),
    turns: pageTurns(context),
    distortion: timed
      .flatMap(({ view, times }) => stageMoved(context, programs, view, times))
      .sort((a, b) => a.time - b.time),
    makespan: seconds(plan.timeline.makespan),
    details: pageDetails(context, programs, timed),
  };
}

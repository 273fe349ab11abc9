import { place } from '../../geometry/pose.js';
import type { Vec3 } from '../../geometry/vector.js';
import { linkPoints } from '../../kinematics/forward.js';
import type { PageData, PageRobot } from '../../report/page/page-data.js';
import type { Clock } from '../clock.js';
import type { Frames } from './camera/frames.js';
import type { Rig } from './camera/rig.js';
import { fitted, orbited, panned, STANDARD_VIEWS, zoomed, type View } from './camera/view.js';
import type { Commands } from './controls/commands.js';
import type { Look } from './look.js';
import type { Flight } from './flight.js';
import { poseOf } from './moment/poses.js';
import { cornersOf } from './moment/section-plane.js';
import { pointsOf } from './moment/points.js';
import type { Moments } from './moment/shown-moment.js';
import { neighbourStage, stageMoment } from './moment/stages.js';
import { neighbourMoment, stepMoments } from './moment/steps.js';
import { Player } from './player.js';

type TimeCommand = 'stage' | 'step' | 'toEnd' | 'play';

/** Lets the clock run, on the frames of the picture, or on the browser's own where there is none. */
export function playerOf(data: PageData, clock: Clock, frames: Frames | undefined): Player {
  const steps = stepMoments(data.robots, data.makespan);
  const player = new Player({
    clock,
    next: {
      stages: () => {
        const stage = neighbourStage(data.stages, clock.now, 1);
        return stage && stageMoment(stage);
      },
      steps: () => neighbourMoment(steps, clock.now, 1),
    },
  });
  // One motion, and one run of frames, also where play is stopped and started again within a frame.
  let running = false;
  player.listen((playing) => {
    if (!playing) return;
    if (frames) return frames.start(player.pass);
    if (running) return;
    running = true;
    let last: number | undefined;
    const tick = (now: number): void => {
      running = player.pass((now - (last ?? now)) / 1000);
      if (running) requestAnimationFrame(tick);
      last = now;
    };
    requestAnimationFrame(tick);
  });
  return player;
}

export function timeCommands(data: PageData, clock: Clock, player: Player): Pick<Commands, TimeCommand> {
  const steps = stepMoments(data.robots, data.makespan);
  return {
    stage: (way) => {
      player.playing = false;
      const stage = neighbourStage(data.stages, clock.now, way);
      if (stage) clock.set(stageMoment(stage));
    },
    step: (way) => {
      player.playing = false;
      clock.set(neighbourMoment(steps, clock.now, way) ?? clock.now);
    },
    toEnd: (way) => {
      player.playing = false;
      clock.set(way === 1 ? data.makespan : 0);
    },
    play: () => {
      player.playing = !player.playing;
    },
  };
}

/** What is seen, and how. */
export interface SeenParts {
  readonly data: PageData;
  readonly moments: Moments;
  readonly clock: Clock;
  readonly look: Look;
}

/** Where the bends of an arm are at the ends of all its steps. */
function armPoints({ base, arm, steps }: PageRobot): Vec3[] {
  const pose = poseOf(base);
  const postures = steps.flatMap(({ way }) => (way.length === 0 ? [] : [linkPoints(arm, way.at(-1)!)]));
  return [
    pose.at,
    ...postures.flatMap((points) => Object.values(points) as Vec3[]).map((point) => place(pose, point)),
  ];
}

/** Nothing happens where there is no picture. */
export function viewCommands(
  { data, moments, clock, look }: SeenParts,
  rig: Rig,
  flight: Flight | undefined,
): Omit<Commands, TimeCommand | 'pickNothing'> {
  const all = cornersOf(moments.room);
  // Pulled apart it takes more room.
  const weldment = (): readonly Vec3[] => {
    const shown = moments.placedCorners(clock.now, look.state);
    return look.state.exploded > 0 && shown.length > 0 ? shown : all;
  };
  const cell = [
    ...all,
    ...data.fixtures.flatMap(({ mesh }) => pointsOf(mesh.corners)),
    ...data.robots.flatMap(armPoints),
  ];
  const fly = (view: View): void => flight?.to(view);
  return {
    orbit: (azimuth, elevation) => fly(orbited(rig.view, azimuth, elevation)),
    pan: (right, above) => fly(panned(rig.view, right, above)),
    zoom: (factor) => fly(zoomed(rig.view, factor)),
    look: (from) => {
      const [azimuth, elevation] = STANDARD_VIEWS[from];
      fly({ ...rig.view, azimuth, elevation });
    },
    fit: (what) =>
      fly(fitted(rig.view, what === 'cell' ? cell : weldment(), rig.aspect, what === 'cell' ? 1.12 : 1.5)),
  };
}

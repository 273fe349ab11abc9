import { rounded } from '../base/order.js';
import { rotate, transpose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import type { PlanDistortion, StageDistortion } from '../model/plan.js';
import type { MovedPart } from '../model/plan-distortion.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import { memberBows } from './distortion-bows.js';
import { farthestCorner } from './stage-deviation.js';
import { DistortionRun, runStage, type DistortionEvent, type DistortionStage } from './distortion-run.js';

/** What a prediction comes to, as a plan states it. */
export interface DistortionAccount {
  readonly stages: readonly StageDistortion[];
  readonly features: PlanDistortion['features'];
  readonly bows: PlanDistortion['bows'];
  readonly worst: PlanDistortion['worst'];
  /** What happened in each stage, unrounded. */
  readonly events: readonly (readonly DistortionEvent[])[];
}

const DIGITS = 3;
const DEGREE_DIGITS = 4;
const DEGREES = 180 / Math.PI;

const roundedVector = (v: Vec3, digits: number): [number, number, number] => [
  rounded(v[0], digits),
  rounded(v[1], digits),
  rounded(v[2], digits),
];

/** Keeps what was stated last of each part, so that only changes are stated, and the greatest movement of all. */
class MotionLog {
  private readonly last = new Map<number, string>();
  private readonly still = JSON.stringify([
    [0, 0, 0],
    [0, 0, 0],
  ]);
  worst: PlanDistortion['worst'] = null;

  constructor(
    private readonly scene: Scene,
    private readonly run: DistortionRun,
  ) {}

  /** The parts of those in place that are now stated to be elsewhere. */
  changes(inPlace: readonly number[], stage: number, after: string): MovedPart[] {
    const back = transpose(this.scene.cell.weldmentPose.turn);
    return inPlace.flatMap((part) => {
      const { move, turn } = this.run.motion(part);
      const stated = {
        part: this.scene.parts[part]!.part.id,
        move: roundedVector(rotate(back, move), DIGITS),
        turn: roundedVector(
          rotate(back, [turn[0] * DEGREES, turn[1] * DEGREES, turn[2] * DEGREES]),
          DEGREE_DIGITS,
        ),
      };
      const key = JSON.stringify([stated.move, stated.turn]);
      if (key === (this.last.get(part) ?? this.still)) return [];
      this.last.set(part, key);
      this.measure(part, stage, after);
      return [stated];
    });
  }

  private measure(part: number, stage: number, after: string): void {
    const { solid, part: of } = this.scene.parts[part]!;
    const mm = rounded(
      farthestCorner(solid, (at) => this.run.displacement(part, at)),
      DIGITS,
    );
    if (mm > (this.worst?.mm ?? 0)) this.worst = { part: of.id, mm, stage, after };
  }
}

/** What a step is called in a plan. */
export function stepName(scene: Scene, event: DistortionEvent): string {
  return event.kind === 'tack'
    ? `tack ${event.tack.id}`
    : `${event.kind} ${scene.parts[event.part]!.part.id}`;
}

/** Replays stages from the beginning and states what moves, what opens and how far off the tolerance features are. */
export function distortionAccount(
  scene: Scene,
  settings: Settings,
  stages: readonly DistortionStage[],
): DistortionAccount {
  const run = new DistortionRun(scene, settings);
  const log = new MotionLog(scene, run);
  const inPlace: number[] = [];
  const events: (readonly DistortionEvent[])[] = [];
  const stated = stages.map((stage, i): StageDistortion => {
    inPlace.push(stage.part);
    const steps: StageDistortion['steps'] = [];
    const told = runStage(run, stage, (event) => {
      const after = stepName(scene, event);
      steps.push({ after, moved: log.changes(inPlace, i + 1, after) });
    });
    events.push(told);
    return { steps, openings: openingsOf(told) };
  });
  return {
    stages: stated,
    features: run.deviations().map(({ deviation, nominal, limit, ...rest }) => ({
      ...rest,
      nominal: rounded(nominal, DIGITS),
      deviation: rounded(deviation, DIGITS),
      limit: rounded(limit, DIGITS),
      within: rounded(deviation, DIGITS) <= rounded(limit, DIGITS),
    })),
    bows: memberBows(
      scene,
      settings,
      stages.flatMap(({ securing, completing }) => [...securing, ...completing]),
    ),
    worst: log.worst,
    events,
  };
}

const openingsOf = (events: readonly DistortionEvent[]): StageDistortion['openings'] =>
  events.flatMap((event) =>
    event.kind === 'tack' ? [{ tack: event.tack.id, before: rounded(event.before, DIGITS) }] : [],
  );

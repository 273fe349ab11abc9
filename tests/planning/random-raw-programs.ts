import { grant } from '../../src/planning/grants.js';
import { seededRandom } from '../../src/base/random.js';
import { stringPrograms, type RawPrograms, type StrungStage } from '../../src/planning/programs.js';
import type { StageSteps } from '../../src/planning/stage-steps.js';
import type { StepDraft } from '../../src/planning/steps.js';

const NAMES = ['web', 'Träger 2', '4711', 'web ', '板', 'cheek/left', 'rib', "o'ne"];

/** Programs of random stages with random times, strung as a plan's are; arms take up no room in them. */
export function randomRawPrograms(seed: number, handlers: number, stages: number): RawPrograms {
  const random = seededRandom(seed);
  const pick = (n: number): number => Math.floor(random() * n);
  const draft = (step: object, stage: number): StepDraft => ({
    step: { ...step, stage } as StepDraft['step'],
    milliseconds: pick(4) * 500,
    room: undefined as never,
  });
  const zone = (what: 'enter' | 'leave', name: 'work' | 'stations', stage: number): StepDraft =>
    draft({ do: what, zone: name }, stage);
  const strung = Array.from({ length: stages }, (_, i): StrungStage => {
    const stage = i + 1;
    const part = NAMES[i % NAMES.length]!;
    const tacks = (count: number, phase: string): StepDraft[] =>
      count === 0
        ? []
        : [
            zone('enter', 'work', stage),
            ...Array.from({ length: count }, (__, k) =>
              draft({ do: 'tack', tack: `${i} ${phase} ${k}` }, stage),
            ),
            zone('leave', 'work', stage),
          ];
    const held = i > 0;
    const steps = {
      fetch: [
        ...(handlers > 1 ? [zone('enter', 'stations', stage)] : []),
        draft({ do: 'grip', part, gripper: 'g' }, stage),
        ...(handlers > 1 ? [zone('leave', 'stations', stage)] : []),
      ],
      place: [zone('enter', 'work', stage), ...(held ? [draft({ do: 'hold', part }, stage)] : [])],
      letGo: [draft({ do: 'let-go', part }, stage), zone('leave', 'work', stage)],
      takeOther: [],
      letGoOther: [],
      securing: [held ? tacks(1 + pick(2), 'securing') : []],
      completing: [held ? tacks(pick(3), 'completing') : []],
    } as unknown as StageSteps;
    return { part, robot: pick(handlers), heldOn: false, other: undefined, steps };
  });
  const raw = stringPrograms({ handlers, welders: 1 }, strung);
  const granted = grant(
    raw,
    [],
    raw.programs.map((_, i) => `robot ${i}`),
  );
  if (!granted.ok) throw new Error('no meeting could have failed');
  return granted.value;
}

import { fail } from '../base/result.js';
import { digest } from '../io/digest.js';
import { readFrame } from '../io/read-frame.js';
import { showValue } from '../io/show.js';
import { frameChoicesSchema, type FrameChoices } from '../model/frame.js';
import { FRAME_TERMS, frameProblem } from '../planning/frame-problem.js';
import { judgeFrameOrder } from '../rules/frame-order.js';
import type { Source } from '../session/inputs.js';
import type { InstanceReading } from './instance.js';

/** A frame of bars as an instance: its order and what stands, nothing else. Bars are `bar-0`, `bar-1`, ... as in the file. */
export function frameInstance(
  source: Source,
  choices: FrameChoices = frameChoicesSchema.parse({}),
): InstanceReading {
  const { value: frame, digest: content, issues } = readFrame(source.text, source.name, choices);
  if (frame === undefined) return { value: undefined, issues };
  const { bars } = frame;
  const indexOf = new Map(bars.map(({ name }, bar) => [name, bar]));
  return {
    issues,
    value: {
      kind: 'frame',
      name: source.name.replace(/^.*[/\\]/, '').replace(/(\.frame)?\.(json|ya?ml)(\.gz)?$/i, ''),
      digest: digest({ content, choices }),
      parts: bars.length,
      terms: FRAME_TERMS,
      problem: () => frameProblem(frame),
      order: (moves) => moves.map((bar) => bars[bar]!.name),
      judge: (order) => {
        const unknown = order.find((name) => !indexOf.has(name));
        if (unknown !== undefined) return fail(`there is no bar ${showValue(unknown)}`);
        return judgeFrameOrder(
          frame,
          order.map((name) => indexOf.get(name)!),
        );
      },
    },
  };
}

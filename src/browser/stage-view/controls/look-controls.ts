import { amount } from '../../../report/numbers.js';
import type { ArmStyle, Look } from '../look.js';
import { EXPLODE_WAYS, type ExplodeWay } from '../moment/explode.js';
import { planeAt, type Axis, type Room } from '../moment/section-plane.js';
import { choice, make, slider, tick } from './element.js';

/** How many times the predicted distortion can be drawn. */
const FACTORS = [0, 1, 5, 10, 20, 50, 100, 200] as const;

const WAY_TEXTS: Readonly<Record<ExplodeWay, string>> = {
  approach: 'back the way they came',
  base: 'away from the base',
};

/** Cutting, pulling apart, distortion, and what is shown at all. */
export function lookControls(look: Look, room: Room, predicted: boolean): HTMLElement {
  return make(
    'details',
    { class: 'look', open: matchMedia('(min-width: 64rem)').matches },
    make('summary', {}, 'Cut, pull apart, distortion, what is shown'),
    ...sectionControls(look, room),
    ...explodeControls(look),
    ...(predicted ? [distortionControl(look)] : []),
    ...shownControls(look),
  );
}

function sectionControls(look: Look, room: Room): HTMLElement[] {
  const axis = choice(
    'Section',
    [
      ['', 'none'],
      ['x', 'across x'],
      ['y', 'across y'],
      ['z', 'across z (level)'],
    ],
    () => set(),
  );
  const at = slider('Cut at', { max: 1, step: 0.005, value: 0.5 }, () => set());
  const other = tick('other side', false, () => set());
  const set = (): void => {
    const section =
      axis.select.value === ''
        ? undefined
        : { axis: axis.select.value as Axis, at: Number(at.range.value), flipped: other.input.checked };
    at.range.disabled = other.input.disabled = section === undefined;
    at.say(section ? `${section.axis} ${amount(planeAt(section, room))} mm` : '');
    look.set({ section });
  };
  set();
  return [make('div', { class: 'pair' }, axis.box, other.box), at.box];
}

function explodeControls(look: Look): HTMLElement[] {
  const way = choice(
    'Pull parts',
    EXPLODE_WAYS.map((one) => [one, WAY_TEXTS[one]]),
    (value) => look.set({ explodeWay: value as ExplodeWay }),
  );
  const far = slider('How far', { max: 100, step: 1, value: 0 }, (value) => {
    look.set({ exploded: value / 100 });
    far.say(value === 0 ? 'together' : `${value} %, arms hidden`);
  });
  far.say('together');
  return [way.box, far.box];
}

function distortionControl(look: Look): HTMLElement {
  const control = slider('Distortion', { max: FACTORS.length - 1, step: 1, value: 0 }, (value) => {
    const factor = FACTORS[value]!;
    look.set({ factor });
    control.say(factor === 0 ? 'not drawn' : `x ${factor}: predicted, a screening estimate`);
  });
  control.say('not drawn');
  return control.box;
}

function shownControls(look: Look): HTMLElement[] {
  const arms = choice(
    'Arms',
    [
      ['solid', 'solid'],
      ['through', 'see-through'],
      ['hidden', 'hidden'],
    ],
    (value) => look.set({ arms: value as ArmStyle }),
  );
  arms.select.value = look.state.arms;
  return [
    arms.box,
    make(
      'div',
      { class: 'pair' },
      tick('tables', look.state.fixtures, (fixtures) => look.set({ fixtures })).box,
      tick('tacks', look.state.tacks, (tacks) => look.set({ tacks })).box,
      tick('names', look.state.names, (names) => look.set({ names })).box,
    ),
  ];
}

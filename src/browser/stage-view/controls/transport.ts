import { amount, tenthsOf } from '../../../report/numbers.js';
import type { PageData } from '../../../report/page/page-data.js';
import type { Clock } from '../../clock.js';
import type { Moments } from '../moment/shown-moment.js';
import { stageMoment } from '../moment/stages.js';
import { PLAY_WAYS, SPEEDS, type Player, type PlayWay } from '../player.js';
import type { Commands } from './commands.js';
import { button, choice, make, write } from './element.js';

export interface TransportParts {
  readonly data: PageData;
  readonly moments: Moments;
  readonly clock: Clock;
  readonly player: Player;
  readonly commands: Commands;
}

/** Nearer than this share of the whole time to the next, the number of a stage has no room on a narrow screen. */
const CLOSE = 0.06;

const WAY_TEXTS: Readonly<Record<PlayWay, string>> = {
  evenly: 'evenly',
  stages: 'by stages',
  steps: 'by steps',
};

/** Stepping and playing. */
export function transport(parts: TransportParts): HTMLElement {
  const { player, commands } = parts;
  const play = button('Play', () => commands.play(), 'Space');
  play.className = 'play';
  player.listen((playing) => write(play, playing ? 'Pause' : 'Play'));
  return make(
    'div',
    { class: 'row', role: 'group', 'aria-label': 'Stepping and playing' },
    button('\u2039 Stage', () => commands.stage(-1), 'Page up'),
    button('\u2039 Step', () => commands.step(-1), 'Comma'),
    play,
    button('Step \u203a', () => commands.step(1), 'Full stop'),
    button('Stage \u203a', () => commands.stage(1), 'Page down'),
    stageChoice(parts),
    ...playChoices(player),
  );
}

function stageChoice({ data, moments, clock }: TransportParts): HTMLElement {
  const stages = choice(
    'Stage',
    data.stages.map(({ number, part }, i) => [String(i), `${number}: ${data.parts[part]?.name ?? ''}`]),
    (value) => clock.set(stageMoment(data.stages[Number(value)]!)),
  );
  stages.select.className = 'stages';
  clock.listen((time) => {
    const present = String(data.stages.indexOf(moments.stageAt(time)!));
    if (stages.select.value !== present) stages.select.value = present;
  });
  return stages.box;
}

function playChoices(player: Player): HTMLElement[] {
  const ways = choice(
    'Play',
    PLAY_WAYS.map((way) => [way, WAY_TEXTS[way]]),
    (value) => (player.way = value as PlayWay),
  );
  const speeds = choice(
    'Speed',
    SPEEDS.map((speed) => [String(speed), `x ${speed}`]),
    (value) => (player.speed = Number(value)),
  );
  speeds.select.value = String(player.speed);
  return [ways.box, speeds.box];
}

/** The clock as a slider, with the numbers of the stages where they begin. */
export function clockSlider({ data, moments, clock }: TransportParts): HTMLElement {
  const range = make('input', { type: 'range', min: 0, max: data.makespan, step: 0.1, 'aria-label': 'Time' });
  range.addEventListener('input', () => clock.set(Number(range.value)));
  const said = make('span', { class: 'time' });
  const marks = data.stages.map(({ number }, i) => {
    const mark = make('span', {}, String(number));
    const next = moments.begins[i + 1] ?? data.makespan;
    if (next - moments.begins[i]! < CLOSE * data.makespan) mark.className = 'close';
    mark.style.left = `${(100 * moments.begins[i]!) / Math.max(data.makespan, 1)}%`;
    return mark;
  });
  clock.listen((time) => {
    range.value = String(time);
    const stage = moments.stageAt(time);
    write(said, `${amount(time, 1)} of ${amount(tenthsOf(data.makespan) / 10, 1)} s`);
    range.setAttribute(
      'aria-valuetext',
      `${amount(time, 1)} seconds${stage ? `, stage ${stage.number}` : ''}`,
    );
    marks.forEach((mark, i) => mark.classList.toggle('present', data.stages[i] === stage));
  });
  return make(
    'div',
    { class: 'clock' },
    make('div', { class: 'scale' }, range, make('div', { class: 'marks', 'aria-hidden': 'true' }, ...marks)),
    said,
  );
}

import type { PageData } from '../../../report/page/page-data.js';
import type { Clock } from '../../clock.js';
import { describe, robotLines, stageTitle } from '../moment/describe.js';
import type { Moments } from '../moment/shown-moment.js';
import type { Player } from '../player.js';
import { make, write } from './element.js';

/** The moment in sentences, in place of the picture for who does not see it. */
export function momentText(data: PageData, clock: Clock, id: string): HTMLElement {
  const box = make('div', { class: 'moment', id });
  clock.listen((time) => {
    const lines = describe(data, time);
    while (box.children.length > lines.length) box.lastElementChild!.remove();
    while (box.children.length < lines.length) box.append(make('p'));
    lines.forEach((line, i) => write(box.children[i]!, line));
  });
  return box;
}

/** Says stage and steps as they change; while it plays evenly, only stages, since nobody could listen to more. */
export function announcer(data: PageData, moments: Moments, clock: Clock, player: Player): HTMLElement {
  const said = make('p', { class: 'unseen', 'aria-live': 'polite' });
  let last: string | undefined;
  clock.listen((time) => {
    const stage = moments.stageAt(time);
    const title = stage ? `${stageTitle(data, stage)}.` : '';
    const steps = player.playing && player.way !== 'steps' ? [] : robotLines(data, time);
    const text = [title, ...steps].join(' ');
    if (last !== undefined && text !== last) write(said, text);
    last = text;
  });
  return said;
}

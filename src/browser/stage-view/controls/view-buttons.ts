import { STANDARD_VIEWS, type StandardView } from '../camera/view.js';
import type { Commands } from './commands.js';
import { button, make } from './element.js';

/** Radians for one press. */
const NUDGE = Math.PI / 12;

/** Where to look from, and how near. */
export function viewButtons(commands: Commands): HTMLElement {
  const names = Object.keys(STANDARD_VIEWS) as StandardView[];
  return make(
    'div',
    { class: 'row', role: 'group', 'aria-label': 'View' },
    ...names.map((name, i) =>
      button(`${name[0]!.toUpperCase()}${name.slice(1)}`, () => commands.look(name), String(i + 1)),
    ),
    button('Fit', () => commands.fit('weldment'), 'Fit the weldment: F'),
    button('Cell', () => commands.fit('cell'), 'Fit the whole cell: C'),
    named('Nearer', '+', () => commands.zoom(1.25)),
    named('Farther', '\u2212', () => commands.zoom(0.8)),
    named('Turn left', '\u2190', () => commands.orbit(-NUDGE, 0)),
    named('Turn right', '\u2192', () => commands.orbit(NUDGE, 0)),
    named('Turn up', '\u2191', () => commands.orbit(0, NUDGE)),
    named('Turn down', '\u2193', () => commands.orbit(0, -NUDGE)),
  );
}

/** A button that shows a sign and is called by a name. */
function named(name: string, sign: string, pressed: () => void): HTMLButtonElement {
  const made = button(sign, pressed, name);
  made.setAttribute('aria-label', name);
  return made;
}

import { STANDARD_VIEWS, type StandardView } from '../camera/view.js';
import type { Commands } from './commands.js';
import { make } from './element.js';

interface KeyUse {
  /** As `KeyboardEvent.key` names them. */
  readonly keys: readonly string[];
  readonly shift?: boolean;
  readonly shown: string;
  readonly does: string;
  readonly run: (commands: Commands, key: string) => void;
}

const TURN = Math.PI / 24;
const ARROWS: Readonly<Record<string, readonly [right: number, up: number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};
const VIEWS = Object.keys(STANDARD_VIEWS) as readonly StandardView[];

/** Every key of the view; they work while the picture has the focus, and nowhere else on the page. */
const USES: readonly KeyUse[] = [
  {
    keys: Object.keys(ARROWS),
    shown: 'Arrows',
    does: 'turn the view',
    run: ({ orbit }, key) => orbit(ARROWS[key]![0] * TURN, ARROWS[key]![1] * TURN),
  },
  {
    keys: Object.keys(ARROWS),
    shift: true,
    shown: 'Shift and arrows',
    does: 'move the view',
    run: ({ pan }, key) => pan(ARROWS[key]![0] * 0.08, ARROWS[key]![1] * 0.08),
  },
  { keys: ['+', '='], shown: '+', does: 'nearer', run: ({ zoom }) => zoom(1.2) },
  { keys: ['-', '_'], shown: '-', does: 'farther', run: ({ zoom }) => zoom(1 / 1.2) },
  { keys: ['PageDown'], shown: 'Page down', does: 'next stage', run: ({ stage }) => stage(1) },
  { keys: ['PageUp'], shown: 'Page up', does: 'stage before', run: ({ stage }) => stage(-1) },
  { keys: ['.', ']'], shown: '. or ]', does: 'next step of any robot', run: ({ step }) => step(1) },
  { keys: [',', '['], shown: ', or [', does: 'step before', run: ({ step }) => step(-1) },
  { keys: ['Home'], shown: 'Home', does: 'start of the plan', run: ({ toEnd }) => toEnd(-1) },
  { keys: ['End'], shown: 'End', does: 'end of the plan', run: ({ toEnd }) => toEnd(1) },
  { keys: [' '], shown: 'Space', does: 'play or pause', run: ({ play }) => play() },
  { keys: ['f', 'F'], shown: 'F', does: 'fit the weldment', run: ({ fit }) => fit('weldment') },
  { keys: ['c', 'C'], shown: 'C', does: 'fit the whole cell', run: ({ fit }) => fit('cell') },
  {
    keys: VIEWS.map((_, i) => String(i + 1)),
    shown: `1 to ${VIEWS.length}`,
    does: `look from: ${VIEWS.join(', ')}`,
    run: ({ look }, key) => look(VIEWS[Number(key) - 1]!),
  },
  { keys: ['Escape'], shown: 'Esc', does: 'pick nothing', run: ({ pickNothing }) => pickNothing() },
];

export function listenToKeys(canvas: HTMLElement, commands: Commands): void {
  canvas.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const fits = ({ keys, shift }: KeyUse): boolean =>
      keys.includes(event.key) && (!(event.key in ARROWS) || (shift === true) === event.shiftKey);
    const use = USES.find(fits);
    if (!use) return;
    use.run(commands, event.key);
    event.preventDefault();
  });
}

/** The list of the keys, to be opened. */
export const keyList = (): HTMLElement =>
  make(
    'details',
    { class: 'keys' },
    make('summary', {}, 'Keys'),
    make('p', {}, 'They work while the picture has the focus.'),
    make('dl', {}, ...USES.flatMap(({ shown, does }) => [make('dt', {}, shown), make('dd', {}, does)])),
  );

import type { ScreenPoint } from './nearest-line.js';
import type { Rig } from './rig.js';
import { orbited, panned, zoomed } from './view.js';

export interface PointerParts {
  readonly canvas: HTMLElement;
  readonly rig: Rig;
  /** Called after the view has changed. */
  readonly moved: () => void;
  /** Called where somebody has pointed without dragging. */
  readonly clicked: (point: ScreenPoint) => void;
}

/** Radians for each pixel dragged. */
const TURN = 0.008;
/** A pointer that moves less than this, pixels, has clicked. */
const STILL = 5;

/** Drags orbit; with the right or middle button, Shift or two fingers they pan; the wheel and two fingers zoom. */
export function followPointer({ canvas, rig, moved, clicked }: PointerParts): void {
  const down = new Map<number, ScreenPoint>();
  let travelled = 0;
  const at = ({ clientX, clientY }: MouseEvent): ScreenPoint => {
    const { left, top } = canvas.getBoundingClientRect();
    return [clientX - left, clientY - top];
  };
  canvas.addEventListener('pointerdown', (event) => {
    canvas.setPointerCapture(event.pointerId);
    canvas.focus({ preventScroll: true });
    if (down.size === 0) travelled = 0;
    down.set(event.pointerId, at(event));
    event.preventDefault();
  });
  canvas.addEventListener('pointermove', (event) => {
    const before = down.get(event.pointerId);
    if (!before) return;
    const now = at(event);
    const [dx, dy] = [now[0] - before[0], now[1] - before[1]];
    travelled += Math.hypot(dx, dy);
    down.set(event.pointerId, now);
    if (travelled <= STILL) return;
    const other = [...down].find(([id]) => id !== event.pointerId)?.[1];
    if (other) pinch(rig, before, now, other, canvas.clientHeight);
    else if (event.shiftKey || event.buttons > 1) pan(rig, dx, dy, canvas.clientHeight);
    else rig.view = orbited(rig.view, -dx * TURN, dy * TURN);
    moved();
  });
  const up = (event: PointerEvent): void => {
    if (!down.delete(event.pointerId)) return;
    if (event.type === 'pointerup' && travelled <= STILL && event.button === 0) clicked(at(event));
  };
  canvas.addEventListener('pointerup', up);
  canvas.addEventListener('pointercancel', up);
  canvas.addEventListener('contextmenu', (event) => event.preventDefault());
  canvas.addEventListener(
    'wheel',
    (event) => {
      // Without the focus the wheel scrolls the page, as everywhere else on it.
      if (document.activeElement !== canvas && !event.ctrlKey) return;
      event.preventDefault();
      rig.view = zoomed(rig.view, Math.exp(-event.deltaY * 0.0015), ...rig.inHeights(at(event)));
      moved();
    },
    { passive: false },
  );
}

function pan(rig: Rig, dx: number, dy: number, height: number): void {
  rig.view = panned(rig.view, -dx / height, dy / height);
}

function pinch(rig: Rig, before: ScreenPoint, now: ScreenPoint, other: ScreenPoint, height: number): void {
  const apart = (point: ScreenPoint): number =>
    Math.max(1, Math.hypot(point[0] - other[0], point[1] - other[1]));
  const middle: ScreenPoint = [(now[0] + other[0]) / 2, (now[1] + other[1]) / 2];
  rig.view = zoomed(rig.view, apart(now) / apart(before), ...rig.inHeights(middle));
  pan(rig, (now[0] - before[0]) / 2, (now[1] - before[1]) / 2, height);
}

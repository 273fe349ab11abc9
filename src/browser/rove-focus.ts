/** Where the focus goes from one of several things; undefined: the key means nothing here. */
function goesTo(key: string, at: number, count: number): number | undefined {
  switch (key) {
    case 'ArrowRight':
    case 'ArrowDown':
      return Math.min(count - 1, at + 1);
    case 'ArrowLeft':
    case 'ArrowUp':
      return Math.max(0, at - 1);
    case 'Home':
      return 0;
    case 'End':
      return count - 1;
    default:
      return undefined;
  }
}

/** Makes everything in a drawing that can be picked one stop of the Tab key; arrow keys, Home and End go on from there. */
export function roveFocus(drawing: Element): void {
  const things = [...drawing.querySelectorAll<SVGElement>('[data-pick]')];
  things.forEach((thing, i) => thing.setAttribute('tabindex', i === 0 ? '0' : '-1'));
  const stop = (at: number): void =>
    things.forEach((thing, i) => thing.setAttribute('tabindex', i === at ? '0' : '-1'));
  drawing.addEventListener('focusin', ({ target }) => {
    const at = things.findIndex((thing) => thing === target);
    if (at >= 0) stop(at);
  });
  drawing.addEventListener('keydown', (event) => {
    const { key, target } = event as KeyboardEvent;
    const at = things.findIndex((thing) => thing === target);
    const next = at < 0 ? undefined : goesTo(key, at, things.length);
    if (next === undefined) return;
    event.preventDefault();
    things[next]?.focus();
  });
}

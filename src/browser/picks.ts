import type { Pick } from '../report/page/page-data.js';

const PICKED = 'picked';
/** What makes a click of a key by itself. */
const BUTTONS = ':is(button, a, input, select, summary)';

/**
 * What is picked on the page. Every element with `data-pick` is made a button that picks: by a click, and by Enter or Space where it
 * has the focus; all elements of one pick are marked together. An element with `data-at` also says to which second it
 * belongs.
 */
export class Picks {
  private pick: Pick | undefined;
  private readonly listeners: ((pick: Pick | undefined, at: number | undefined) => void)[] = [];

  constructor(private readonly page: Document) {
    for (const element of page.querySelectorAll(`[data-pick]:not(${BUTTONS})`)) {
      element.setAttribute('role', 'button');
      element.setAttribute('tabindex', '0');
    }
    page.addEventListener('click', ({ target }) => this.from(target));
    page.addEventListener('keydown', (event) => {
      if (event.key !== 'Enter' && event.key !== ' ') return;
      if (event.target instanceof Element && event.target.closest(BUTTONS)) return;
      if (this.from(event.target)) event.preventDefault();
    });
  }

  get picked(): Pick | undefined {
    return this.pick;
  }

  /** `at`: the second that the pick was made for, where it was. */
  set(pick: Pick | undefined, at?: number): void {
    for (const element of this.page.querySelectorAll(`.${PICKED}`)) element.classList.remove(PICKED);
    this.pick = pick;
    if (pick !== undefined)
      for (const element of this.page.querySelectorAll(`[data-pick="${CSS.escape(pick)}"]`))
        element.classList.add(PICKED);
    for (const listener of this.listeners) listener(pick, at);
  }

  listen(listener: (pick: Pick | undefined, at: number | undefined) => void): void {
    this.listeners.push(listener);
  }

  private from(target: EventTarget | null): boolean {
    const element = target instanceof Element ? target.closest('[data-pick]') : null;
    const pick = element?.getAttribute('data-pick');
    if (!element || !pick) return false;
    const at = element.getAttribute('data-at');
    this.set(pick as Pick, at === null ? undefined : Number(at));
    return true;
  }
}

type Attributes = Readonly<Record<string, string | number | boolean | undefined>>;

/** An element with attributes and content; text becomes text nodes, whatever is in it. */
export function make<K extends keyof HTMLElementTagNameMap>(
  name: K,
  attributes: Attributes = {},
  ...content: readonly (Node | string)[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes))
    if (value !== undefined && value !== false) made.setAttribute(key, value === true ? '' : String(value));
  made.append(...content);
  return made;
}

export function button(text: string, pressed: () => void, title?: string): HTMLButtonElement {
  const made = make('button', { type: 'button', title }, text);
  made.addEventListener('click', pressed);
  return made;
}

/** A choice with its label before it. */
export function choice(
  label: string,
  options: readonly (readonly [value: string, text: string])[],
  chosen: (value: string) => void,
): { readonly box: HTMLLabelElement; readonly select: HTMLSelectElement } {
  const select = make('select', {}, ...options.map(([value, text]) => make('option', { value }, text)));
  select.addEventListener('change', () => chosen(select.value));
  return { box: make('label', {}, make('span', {}, label), select), select };
}

/** A slider with its label before it and what it says behind it, which is no part of its name. */
export function slider(
  label: string,
  span: { readonly max: number; readonly step: number; readonly value: number },
  moved: (value: number) => void,
): { readonly box: HTMLElement; readonly range: HTMLInputElement; say(text: string): void } {
  const range = make('input', { type: 'range', min: 0, ...span });
  const said = make('span', { class: 'said', 'aria-hidden': 'true' });
  range.addEventListener('input', () => moved(Number(range.value)));
  return {
    box: make('div', { class: 'slider' }, make('label', {}, make('span', {}, label), range), said),
    range,
    say: (text) => {
      said.textContent = text;
      range.setAttribute('aria-valuetext', text);
    },
  };
}

/** A box to tick with its label behind it. */
export function tick(
  label: string,
  checked: boolean,
  changed: (checked: boolean) => void,
): { readonly box: HTMLLabelElement; readonly input: HTMLInputElement } {
  const input = make('input', { type: 'checkbox', checked });
  input.addEventListener('change', () => changed(input.checked));
  return { box: make('label', { class: 'tick' }, input, label), input };
}

/** Writes only what has changed, so that nothing is laid out again for nothing. */
export function write(element: Element, text: string): void {
  if (element.textContent !== text) element.textContent = text;
}

import { readXml, type XmlNode } from '../report/xml.js';

/** A place/transition net as read back from PNML text. */
export interface ReadNet {
  readonly places: readonly string[];
  /** Tokens of each place at the start. */
  readonly initial: readonly number[];
  readonly transitions: readonly ReadTransition[];
}

export interface ReadTransition {
  readonly id: string;
  readonly name: string;
  /** Places, one entry for each arc. */
  readonly takes: readonly number[];
  readonly gives: readonly number[];
}

const child = (node: XmlNode, name: string): XmlNode | undefined =>
  node.children.find((one) => one.name === name);

const textIn = (node: XmlNode, label: string): string | undefined => {
  const found = child(node, label);
  return found && child(found, 'text')?.text;
};

/** Reads a net of one page and arcs of weight one; throws an Error on anything that it would misread. */
export function readNet(pnml: string): ReadNet {
  const page = child(child(readXml(pnml), 'net')!, 'page')!;
  const all = (name: string): XmlNode[] => page.children.filter((one) => one.name === name);
  const id = (node: XmlNode): string => node.attributes.get('id')!;
  const ids = page.children.filter(({ attributes }) => attributes.has('id')).map(id);
  if (new Set(ids).size !== ids.length) throw new Error('an id twice');
  const places = all('place').map(id);
  const transitions = all('transition').map((node) => ({
    ...{ id: id(node), name: textIn(node, 'name') ?? '' },
    ...{ takes: [] as number[], gives: [] as number[] },
  }));
  for (const arc of all('arc')) {
    if (child(arc, 'inscription')) throw new Error('an arc with a weight');
    const [source, target] = [arc.attributes.get('source')!, arc.attributes.get('target')!];
    const [from, to] = [transitions.find((t) => t.id === source), transitions.find((t) => t.id === target)];
    if (to && !from && places.includes(source)) to.takes.push(places.indexOf(source));
    else if (from && !to && places.includes(target)) from.gives.push(places.indexOf(target));
    else throw new Error(`an arc from ${source} to ${target}`);
  }
  const initial = all('place').map((node) => Number(textIn(node, 'initialMarking') ?? 0));
  return { places, initial, transitions };
}

export interface MarkingGraph {
  readonly markings: number;
  /** Most tokens on any place in any marking. */
  readonly bound: number;
  /** Marked places of every marking in which nothing can happen. */
  readonly ends: readonly (readonly string[])[];
  /** Ids of transitions that never happen. */
  readonly dead: readonly string[];
}

const MOST = 1_000_000;

/** Walks every marking that can be reached; throws an Error beyond a million, or where a place takes three tokens. */
export function markingGraph({ places, initial, transitions }: ReadNet): MarkingGraph {
  const seen = new Set<string>();
  const open: number[][] = [[...initial]];
  seen.add(initial.join(''));
  const fired = new Set<string>();
  const ends: string[][] = [];
  let bound = 0;
  for (let marking = open.pop(); marking !== undefined; marking = open.pop()) {
    bound = Math.max(bound, ...marking);
    if (bound > 2 || seen.size > MOST) throw new Error(`bound ${bound}, ${seen.size} markings`);
    let stands = true;
    for (const { id, takes, gives } of transitions) {
      const next = [...marking];
      for (const place of takes) next[place]! -= 1;
      if (next.some((tokens) => tokens < 0)) continue;
      for (const place of gives) next[place]! += 1;
      stands = false;
      fired.add(id);
      const key = next.join('');
      if (seen.has(key)) continue;
      seen.add(key);
      open.push(next);
    }
    if (stands) ends.push(places.filter((_, i) => marking[i]! > 0));
  }
  const dead = transitions.filter(({ id }) => !fired.has(id)).map(({ id }) => id);
  return { markings: seen.size, bound, ends, dead };
}

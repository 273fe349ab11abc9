import type { GeometricPlan } from '../model/plan.js';
import { rounded } from '../base/order.js';
import {
  programNet,
  type NetPlace,
  type NetTransition,
  type ProgramNet,
  type StepOfRobot,
} from './program-net.js';
import { element, escaped, type Attributes } from './xml.js';

const PNML = 'http://www.pnml.org/version-2009/grammar/pnml';
const PLACE_TRANSITION = 'http://www.pnml.org/version-2009/grammar/ptnet';

/** The version of our own data in the file, which counts up with every change that a reader would not survive. */
const DATA_VERSION = '1';
const DATA = 'urn:tackwright:pnml:1';

/**
 * The robot programs of a plan as a place/transition net in PNML (ISO/IEC 15909-2): see `programNet` for what stands
 * for what. The net itself says what comes before what and nothing of time; beside it, as data of the tool
 * `tackwright`, stand for the net the inputs of the plan, its cautions and the final marking, and for each step its
 * robot, number, kind, stage, `start` and `end` on the timeline and `duration`, all in seconds. The duration of a wait
 * is 0: what it waits for is an arc. A wait also has its time limit and the reaction to it. A step of a rework has a
 * number such as 8.1, and its times count from the start of the step that accepts.
 *
 * Equal plans give equal bytes. Names are only ever content, never identifiers.
 */
export function programsPnml(plan: GeometricPlan): string {
  const net = programNet(plan);
  const title = `Robot programs of ${plan.weldment.name} in ${plan.cell.name}`;
  const objects = [...net.places.map(place), ...net.transitions.map(transition), ...net.arcs.map(arc)];
  return `<?xml version="1.0" encoding="UTF-8"?>\n${lines(
    'pnml',
    { xmlns: PNML },
    lines(
      'net',
      { id: 'net', type: PLACE_TRANSITION },
      label('name', title),
      planData(plan, net),
      lines('page', { id: 'page' }, ...objects),
    ),
  )}\n`;
}

/** How far labels are from what they name: those of places below, those of transitions above. */
const LABEL = 24;

/** An element with each part of its content on a line of its own. */
const lines = (name: string, attributes: Attributes, ...content: readonly string[]): string =>
  element(name, attributes, '\n', ...content.map((part) => `${part}\n`));

const label = (name: string, text: string, graphics = ''): string =>
  element(name, {}, element('text', {}, escaped(text)), graphics);

const data = (...content: readonly string[]): string =>
  element('toolspecific', { tool: 'tackwright', version: DATA_VERSION }, ...content);

const planData = ({ weldment, cell, timeline, cautions }: GeometricPlan, { places }: ProgramNet): string =>
  data(
    lines(
      'plan',
      {
        ...{ xmlns: DATA, weldment: weldment.name, 'weldment-digest': weldment.digest },
        ...{ cell: cell.name, 'cell-digest': cell.digest, makespan: seconds(timeline.makespan) },
      },
      ...cautions.map((caution) => element('caution', {}, escaped(caution))),
      ...places.filter(({ atEnd }) => atEnd).map(({ id }) => element('final', { place: id, tokens: 1 })),
    ),
  );

const seconds = (value: number): string => String(rounded(value, 3));

const named = (name: string, y: number): string =>
  label('name', name, element('graphics', {}, element('offset', { x: 0, y })));

const drawnAt = ([x, y]: readonly [number, number]): string =>
  element('graphics', {}, element('position', { x, y }));

const place = ({ id, name, at, atStart }: NetPlace): string =>
  element(
    'place',
    { id },
    named(name, LABEL),
    drawnAt(at),
    ...(atStart ? [element('initialMarking', {}, element('text', {}, '1'))] : []),
  );

const transition = ({ id, name, at, step }: NetTransition): string =>
  element('transition', { id }, named(name, -LABEL), drawnAt(at), ...(step ? [data(stepData(step))] : []));

function stepData({ robot, number, entry, outcome, handshake }: StepOfRobot): string {
  const { stage, start, end } = entry;
  const waits = entry.do === 'await';
  const attributes = {
    ...{ xmlns: DATA, robot, n: number, do: entry.do, stage, start: seconds(start), end: seconds(end) },
    duration: seconds(waits ? 0 : end - start),
    outcome,
  };
  if (!waits || handshake === undefined) return element('step', attributes);
  const { timeLimit, reaction } = handshake;
  return element(
    'step',
    attributes,
    element('wait', { 'time-limit': seconds(timeLimit) }, escaped(reaction)),
  );
}

const arc = ({ from, to }: ProgramNet['arcs'][number], i: number): string =>
  element('arc', { id: `a${i + 1}`, source: from, target: to });

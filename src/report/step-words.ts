import type { GeometricPlan, Step } from '../model/plan.js';
import { amount, counted } from './numbers.js';
import { plain } from './plain.js';

/** A step in a few words, and what to watch while it is done for the first time. */
export interface StepWords {
  readonly what: string;
  readonly watch: string;
}

const COMMANDS: Readonly<Record<string, string>> = {
  'magnet-on': 'switch the magnets on',
  'vacuum-on': 'switch the vacuum on',
  'jaw-close': 'close the jaw',
  demagnetise: 'demagnetise',
  'blow-off': 'blow off',
  vent: 'vent the cups',
  'jaw-open': 'open the jaw',
};
const told = (action: string): string => COMMANDS[action] ?? plain(action);

/** The words of every kind of step; what comes from files is made safe to show. */
export function stepWords(step: Step, handshakes: GeometricPlan['handshakes']): StepWords {
  const meaning = (id: string): string =>
    `${plain(id)} (${plain(handshakes.find((one) => one.id === id)?.meaning ?? '')})`;
  switch (step.do) {
    case 'move':
      return {
        what: `${step.via ? 'pass through' : step.path === 'straight' ? 'go straight to' : 'go to'} ${plain(step.place)}`,
        watch: step.path === 'straight' ? 'runs straight, meets nothing' : 'arm, hoses and load keep clear',
      };
    case 'change-gripper':
      return { what: `change to gripper ${plain(step.to)}`, watch: 'locked before it is lifted' };
    case 'part-present':
      return { what: `is ${plain(step.part)} there?`, watch: 'take the part away once: it must stop' };
    case 'grip':
      return {
        what: `take ${plain(step.part)}: ${told(step.action)}`,
        watch: 'it says that it holds; where the pads sit',
      };
    case 'set-down':
      return { what: `set ${plain(step.part)} down: ${told(step.action)}`, watch: 'it lies still' };
    case 'locate':
      return { what: `push ${plain(step.part)} against the stops`, watch: 'touches both stops' };
    case 'seat':
      return {
        what: `press ${plain(step.part)} into place, at most ${amount(step.force, 1)} N and ${amount(step.travel, 1)} mm`,
        watch: 'contact is told; the neighbours do not move',
      };
    case 'seam-search':
      return { what: `search the seam of ${plain(step.joint)}`, watch: 'touches both parts' };
    case 'clamp':
      return { what: `clamp ${plain(step.part)} with ${plain(step.clamp)}`, watch: 'it does not shift' };
    case 'hold':
      return { what: `hold ${plain(step.part)} still`, watch: 'gaps are closed; measure them' };
    case 'proof-pull':
      return {
        what: `pull at ${plain(step.part)} with ${amount(step.force, 1)} N`,
        watch: 'it must not move; nobody near',
      };
    case 'let-go':
      return {
        what: `let go of ${plain(step.part)}: ${told(step.action)}`,
        watch: 'secured before? nobody under or beside it',
      };
    case 'tack':
      return {
        what: `tack ${plain(step.tack)}, ${amount(step.length, 1)} mm, ${step.position}`,
        watch: 'without arc: the wire runs on the seam; with arc: shield and extraction',
      };
    case 'wire-check':
      return { what: `is the wire free of ${plain(step.tack)}?`, watch: 'frozen: stop, cut it by hand' };
    case 'accept':
      return {
        what: `is ${plain(step.tack)} good?`,
        watch:
          step.rework.length === 0
            ? 'bad: keep holding, stop, call a person'
            : 'bad: it is laid again beside; try that way once without arc',
      };
    case 'cool':
      return { what: `hold ${plain(step.part)} while its tacks cool`, watch: 'it does not move' };
    case 'earth-check':
      return { what: 'is the earth path closed?', watch: 'clamp on bright metal' };
    case 'clean-nozzle':
      return { what: 'clean the nozzle', watch: 'the cleaner stands where it was taught' };
    case 'turn':
      return {
        what: `turn the table to ${amount(step.to, 1)} degrees`,
        watch: 'nobody and nothing in its way',
      };
    case 'enter':
      return { what: `enter the zone ${step.zone}`, watch: 'no other robot moves in it' };
    case 'leave':
      return { what: `leave the zone ${step.zone}`, watch: 'arm and load are out of it' };
    case 'signal':
      return { what: `signal ${meaning(step.handshake)}`, watch: 'it is true' };
    case 'await':
      return { what: `wait for ${meaning(step.handshake)}`, watch: 'it waits until the signal comes' };
    case 'manual': {
      const clamp = step.clamp === undefined ? '' : `, clamp it with ${plain(step.clamp)}`;
      const tacks = step.tacks.length === 0 ? '' : `, lay ${counted(step.tacks.length, 'tack')}`;
      return {
        what: `a person: set ${plain(step.part)} by hand${clamp}${tacks}, leave, confirm`,
        watch: 'all robots at home, stopped and locked out; nobody inside when it is confirmed',
      };
    }
    case 'hand-over':
      return { what: 'hand over the finished tack-up', watch: 'all robots at home and stopped' };
  }
}

import type { CodeTable } from './code-words.js';

/** Reasons that together rule every plan out; each is a condition that a plan must keep. */
export const REASONS: CodeTable = {
  'no-approach': {
    title: 'a straight way into place',
    meaning: 'The part must come along a straight way that nothing in place blocks.',
    remedy: 'Give another `approach`, leave more room to slide in, or split or shorten what is in the way.',
  },
  'no-contact': {
    title: 'something to join or stand on',
    meaning: 'The part must be joined to a part in place or stand on one or on the table.',
    remedy: 'Add the joint that is missing, or let another part be first.',
  },
  'no-handling': {
    title: 'a grip that is reached and clear',
    meaning: 'The part must be taken, regripped and brought by a grip that the arm reaches.',
    remedy: 'See its nearest miss: another gripper, rest, station or place of the weldment.',
  },
  'no-accuracy': {
    title: 'place within tolerance',
    meaning: 'The part must meet those in place within gap, place and seam tolerance.',
    remedy: 'See its nearest miss; locate, seat or search, or allow more.',
  },
  'no-securing': {
    title: 'held while tacked, carried once let go',
    meaning: 'The part must be held while it is tacked and carried by its tacks afterwards.',
    remedy: 'See its nearest miss: larger or more tacks, another grip, a stronger clamp.',
  },
  'no-turning': {
    title: 'room for the table to turn',
    meaning: 'The work table must turn before the part comes, with nothing in its way.',
    remedy: 'Move what is in the way, or give another index angle.',
  },
  contact: {
    title: 'contact with a part in place',
    meaning: 'Without shapes: the part must touch one in place, unless it is the first.',
    remedy: 'Add the contact that is missing, or let another part be first.',
  },
  first: {
    title: 'wished as the first part',
    meaning: 'The file asks for this part to be placed first.',
    remedy: 'Drop `first`, or name another part.',
  },
  needs: {
    title: 'comes only after another part',
    meaning: 'The file asks for it under `needs`.',
    remedy: 'Drop the line.',
  },
  blocking: {
    title: 'cannot come once another part is in place',
    meaning: 'The file says so under `blocking`.',
    remedy: 'Drop the line, or leave room for the part.',
  },
  unexplained: {
    title: 'no order left',
    meaning: 'It is proved that no order exists; which conditions rule it out was not found.',
    remedy: 'Plan a part of the weldment by itself to find which parts stand against each other.',
  },
  'only-way': {
    title: 'the only gripper that the file gives',
    meaning: 'A weldment without shapes names no other gripper for the part.',
    remedy: 'Add another entry to its `ways`.',
  },
  'only-grip': {
    title: 'the only grip that can be used',
    meaning: 'Every candidate but this grip is refused for the part.',
    remedy: 'See `inspect` for what is against the others.',
  },
};

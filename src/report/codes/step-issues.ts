import type { CodeTable } from './code-words.js';

/** Issues of STEP files and of the solids in them. */
export const STEP_ISSUES: CodeTable = {
  'step-library': {
    title: 'library for STEP files not installed',
    meaning: 'STEP files are read by a library that is not installed with Tackwright.',
    remedy: 'Install it once, as the issue says.',
  },
  'step-unreadable': {
    title: 'not a STEP file, or broken',
    meaning: 'The file does not begin as a STEP file, breaks its grammar, or the library gave up over it.',
    remedy: 'Export the solids anew as STEP (ISO 10303-21), AP203 or AP214.',
  },
  'step-without-solids': {
    title: 'STEP file without solids',
    meaning: 'The file has nothing that could be a part.',
    remedy: 'Export solids.',
  },
  'step-without-unit': {
    title: 'STEP file without a unit of length',
    meaning: 'The file does not say in which unit its lengths are; millimetres are taken.',
    remedy: 'Compare a size that you know.',
  },
  'solid-not-recognised': {
    title: 'solid is none of the shapes',
    meaning:
      'A solid is no plate, bar, section or prism, nor nearly one, and is left out of the weldment file; a comment there says so.',
    remedy: 'Add it by hand as the shape that comes nearest, or leave it out.',
  },
  'solid-simplified': {
    title: 'solid was simplified',
    meaning:
      'The part differs from the solid: round corners drawn sharp, arcs as chords, or chamfers, notches and cross holes left out.',
    remedy: 'Look whether this is near enough; a mass is given where that of the shape would be off.',
  },
};

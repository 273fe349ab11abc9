/**
 * The colours of the pictures. Kinds differ in lightness and in line or pattern as well as in hue, so that they are
 * told apart without colour.
 */
export const PALETTE = {
  ground: '#ffffff',
  ink: '#20303b',
  faint: '#5a6a74',
  /** Faces of parts in place, by how much they face up: darkest first. */
  part: ['#a9b8ba', '#c3cfcf', '#e2e9e7'],
  newcomer: ['#d9ad58', '#eaca86', '#f7e6bf'],
  bearing: '#1c4f7c',
  adjacent: '#4c7ea3',
  seam: '#a8321a',
  halo: '#ffffff',
} as const;

/** The same for charts in files of their own: on white paper, with black words. */
export const PAPER = {
  ground: '#ffffff',
  ink: '#000000',
  faint: '#3d4a52',
  line: '#46545c',
  rule: '#cfd5d3',
  band: '#e8ecea',
  carry: '#dbe3e4',
  secure: '#f7e6bf',
  release: '#d6eadf',
  tack: '#f6d9d0',
  base: '#f7e6bf',
  bar: '#c9dbe9',
  hatch: '#a8321a',
  hold: '#8a5a00',
  good: '#1d6b52',
  blue: '#1c4f7c',
  red: '#a8321a',
} as const;

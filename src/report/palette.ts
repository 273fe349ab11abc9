/**
 * The colours of the pictures. Kinds differ in lightness and in line or pattern as well as in hue, so that they are
 * told apart without colour.
 */
export const PALETTE = {
  ground: '#fcfbf8',
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

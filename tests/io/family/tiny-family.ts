/** Our own invention: posts of two heights on a foot, with a cap or without. */
export const tinyFamily = `family: posts
units: mm kg N s deg
parameters:
  height: { unit: mm, range: [60, 140], resolution: 5 }
  capped: { default: true }
base:
  parts:
    foot: { block: { length: 100, width: 100, height: 20 }, at: [0, 0, 10] }
    post: { block: { length: 60, width: 60, height: =height }, at: [0, 0, =20 + height / 2] }
    cap:  { when: =capped, block: { length: 80, width: 80, height: 10 }, at: [0, 0, =20 + height + 5] }
  joints:
    - { between: [foot, post], type: fillet }
    - { between: [post, cap], type: fillet }
  first: foot
variants:
  - { name: low, height: 80 }
  - { name: high, height: 120, capped: false }
`;

/** A family of two heights with these parts, and perhaps more at its top. */
export const familyText = ({
  parts,
  more = '',
  variants = '[{ name: low, height: 80 }, { name: high, height: 120 }]',
  lists = '',
}: {
  readonly parts: string;
  readonly more?: string;
  readonly variants?: string;
  readonly lists?: string;
}): string => `family: tries
units: mm kg N s deg
parameters: { height: {}, capped: { default: true } }
${more}
base:
  parts:
${parts}
${lists}
variants: ${variants}
`;

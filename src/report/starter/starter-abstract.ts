/** A weldment without shapes to begin from, with a word on every field; `quoted` is its name as YAML writes it. */
export const starterAbstract = (quoted: string, about: string): string => `# ${about}
# A weldment without shapes: you say what touches, blocks and needs what, and Tackwright finds the best order, proved.
# It needs no cell:  tackwright plan THIS-FILE
weldment: ${quoted}

# The units of every number in the file; there are no others.
units: mm kg N s deg

# Each part with the ways to bring it: by which gripper, how often it is regripped on its way, and how long that takes.
# A part without ways is brought by any gripper, in no time.
parts:
  base: { ways: [{ gripper: wide, seconds: 14 }] }
  left: { ways: [{ gripper: narrow, seconds: 16 }, { gripper: wide, regrips: 1, seconds: 24 }] }
  right: { ways: [{ gripper: narrow, seconds: 16 }] }
  # Mass in kg, for your own use:
  lid: { mass: 2.4, ways: [{ gripper: wide, seconds: 15 }] }

# Which parts touch: a part only joins when it touches one in place. Leave the list out, and any part may follow any other.
contacts: [[base, left], [base, right], [left, lid], [right, lid]]

# Which parts are tacked to each other, and by how many tacks, when the later one of them joins.
joints:
  - { between: [base, left], tacks: 2 }
  - { between: [base, right], tacks: 2 }
  - { between: [left, lid], tacks: 3 }
  - { between: [right, lid], tacks: 3 }

# A part that comes only after others:
needs:
  - { part: lid, after: [left, right] }

# A part that cannot come once any of some others is in place:
# blocking: [{ part: left, by: [right] }]

# The part to be placed first:
# first: base

# Seconds for one tack and for one change of gripper.
# times: { tack: 4, tool-change: 12 }
`;

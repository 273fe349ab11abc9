/**
 * A weldment to begin from, with a word on every field; `quoted` is its name as YAML writes it. It is planned in the cell
 * of `starter-cell.ts` as it stands. Of a commented-out line each may be put in by taking the `# ` away.
 */
export const starterWeldment = (quoted: string, about: string): string => `# ${about}
# A weldment: which parts, where they end up, and how they are welded together. What begins with a # is a comment.
# Look at what it implies:  tackwright inspect THIS-FILE --cell CELL-FILE
weldment: ${quoted}

# The units of every number in the file. There are no others: a drawing in inches or metres must be converted.
units: mm kg N s deg

# Material of all parts, unless a part gives its own: S235, S275, S355, 1.4301 (stainless) or aluminium.
material: S235

# How far a cut edge may be off its nominal place, +- mm.
# cut: 0.2

# Each part has a name, exactly one shape, and its place in the finished weldment.
#   at:   the middle of the shape, [x, y, z]; z points up, and z = 0 is here the top of the work table
#   turn: rotation about the fixed x, y and z axes, in this order, degrees; left out: none
parts:
  # A plate: length along x, width along y, thickness along z. It is 10 thick and lies on the table: its middle is at z = 5.
  base:
    plate: { length: 320, width: 220, thickness: 10 }
    at: [0, 0, 5]
    # A material of its own:
    # material: S355

  # Turned by 90 degrees about y the plate stands up: its length now runs along z, its thickness along x.
  # It stands on the base, so its middle is at 10 + 180 / 2 = 100.
  upright:
    plate: { length: 180, width: 160, thickness: 8 }
    at: [-60, 0, 100]
    turn: [0, 90, 0]
    # Mass in kg, where it is not that of the shape, because something is mounted on the part:
    # mass: 1.9
    # The face that it lies on when it comes to the cell (README, Shapes, names the faces); left out: its lowest stable one:
    # rest: -z

  # A rib against the upright. The right side of that is at x = -60 + 4 = -56, and the rib is 100 long: its middle is at -6.
  rib:
    plate: { length: 100, width: 120, thickness: 8 }
    at: [-6, 0, 70]
    turn: [-90, 0, 0]
    # A further way to bring it into place, as the direction of travel; straight ways along contacts are tried by themselves:
    # approach: [[-1, 0, -1]]

  # A solid block; there are also flat, round and square bars, hollow sections, angles, channels, I-sections and prisms.
  block:
    block: { length: 60, width: 40, height: 40 }
    at: [90, -60, 30]
    turn: [0, 0, 90] # so its two seams face away from the arm that holds it
    # The only grips to consider: gripper of the cell, face, and how far from the middle of the face, mm. Left out: many are tried.
    # grips: [{ gripper: magnet, face: +z, position: [0, 0] }]
    # A person sets, clamps and tacks it; robots wait at home meanwhile:
    # manual: true

# Which parts are welded to each other. Leave the whole list out, and a joint is proposed wherever parts meet.
#   type:  fillet (a corner), lap (flat on flat), corner, butt or edge
#   leg:   leg length of the weld, mm
#   sides: one, both (the seam opposite too) or all; open: which way the seam of a one-sided joint opens
joints:
  - { between: [base, upright], type: fillet, leg: 5, sides: both }
  - { between: [base, rib], type: fillet, leg: 4, sides: both }
  - { between: [upright, rib], type: fillet, leg: 4, sides: both }
  - { between: [base, block], type: fillet, leg: 4, sides: both }

# Gaps: the largest that may still be tacked, and the room a side that a part needs to slide in between two others, mm.
# fit-up: { gap: 1, insertion: 0.5 }

# How far tacking may shift one part as seen from another: a tolerance class of ISO 13920.
# tolerances: [{ name: upright to block, from: upright, to: block, iso-13920: B }]

# The part to be placed first; left out: whichever stands best.
# first: base

# What you know and shapes do not show: a part that comes only after others, and one that cannot come once others are there.
# needs: [{ part: block, after: [upright] }]
# blocking: [{ part: rib, by: [block] }]
`;

/**
 * A cell to begin from, with a word on every field; `quoted` is its name as YAML writes it. No robot, gripper or torch
 * that exists is meant.
 */
export const starterCell = (quoted: string, about: string): string => `# ${about}
# A cell: robots, grippers, torch and stations. No robot, gripper or torch that exists is meant: replace every number by one
# that you measured or that its maker states. Places are [x, y, z] in one frame for the whole cell, z up; turns are degrees.
# Which robot gets where:  tackwright inspect WELDMENT-FILE --cell THIS-FILE --reach
#
#            y
#            ^        regrip table
#            |
#   handler o---> x          [ work table ]          <---o welder
#
#                     infeed
cell: ${quoted}
units: mm kg N s deg

robots:
  # At least one that handles parts and one that welds.
  handler:
    duty: handle
    at: [-1250, 0, 0] # middle of its foot
    # Turn of the foot: roll, pitch, yaw. All 0: looks along x.
    # turn: [0, 0, 0]
    # The arm, mm and degrees; a name after & lets *name repeat it below. With all joints at 0 the upper arm points up, the
    # forearm level and forward. A robot description in the open URDF format will do instead: arm: { urdf: FILE, accelerations: [...] }
    arm: &arm
      a1: 260 # from axis 1 forward to axis 2
      a2: -35 # from the forearm axis to axis 3, as its data sheet says, with this sign
      b: 0 # sideways offset of the arm
      c1: 620 # height of axis 2 over the foot
      c2: 800 # upper arm
      c3: 840 # forearm, axis 3 to wrist centre
      c4: 120 # wrist centre to flange
      offsets: [0, 0, -90, 0, 0, 0] # of the zero of each joint
      limits: [[-175, 175], [-100, 110], [-130, 80], [-200, 200], [-125, 125], [-355, 355]]
      speeds: [150, 140, 150, 260, 260, 360] # degrees/s
      accelerations: [450, 420, 450, 900, 900, 1200] # degrees/s2
    home: [0, -35, 25, 0, 100, 0] # joint angles where it waits, clear of everything
    # Radii round its links, for clearances; left out: shares of the arm's lengths. Measure them.
    links: &links { column: 100, upper-arm: 95, forearm: 75, wrist: 50 }
    # Mass of gripper and part, kg, and their static moment about the wrist centre, N·mm.
    payload: { mass: 20, moment: 60000 }
    # How far the flange may be off a taught pose, +- mm:
    # accuracy: 0.1
    # Pressing a part against its neighbours with limited force, N, where the arm or gripper can:
    # seating: { force: 60 }
  welder:
    duty: weld
    at: [1250, 0, 0]
    turn: [0, 0, 180] # looks at the table
    arm: *arm
    home: [0, -45, 25, 0, 65, 0]
    links: *links
    torch: torch # one of those below
    # Touching both parts to find a seam before its first tack, where the source can:
    # seam-search: { accuracy: 0.3, seconds: 4 }

grippers:
  # A magnet here; README, Grippers, has vacuum and jaw as well. Several grippers are changed at their stands.
  magnet:
    magnet:
      pull-per-pad: 750 # rated breakaway pull of one pad, N
      pads: [[-14, 0], [14, 0]] # middles of the pads, x and y on the gripper
      pad-diameter: 28
      rated-thickness: 6 # thickness of steel from which the rated pull is reached
      # Share of the pull along the face; left out 0.2, oily steel:
      friction: 0.25
      # Nearest that an arc may come to a pad that is on (arc blow, heat), mm; left out 60:
      arc-distance: 25
    mass: 1.9
    reach: 250 # from the flange to the pads
    envelope: { length: 60, width: 36, height: 250 } # box that all of it stays within
    stand: [-650, 700, 700] # flange position where it is put down
  wide-magnet:
    magnet: { pull-per-pad: 450, pads: [[-40, 0], [40, 0]], pad-diameter: 45, rated-thickness: 8 }
    mass: 3.4
    reach: 200
    envelope: { length: 140, width: 60, height: 200 }
    stand: [-650, -700, 700]

torches:
  # From the flange to the wire tip along the flange axis, how far the tip is aside of it, and the angle of the wire to it.
  torch: { length: 340, offset: 60, bend: 35, body-length: 140, body-radius: 25 }

stations:
  # Where parts come to the cell: one place, one part at a time. How far off its place one may lie, +- mm.
  infeed: { at: [-1250, -1000, 300], accuracy: 0.3 }
  # A small table on which a part is set down and taken again by another grip.
  regrip: { at: [-1250, 1000, 300], size: [240, 180], accuracy: 0.3 }
  table:
    at: [0, 0, 500] # middle of its top; the frame of the weldment is there too, unless weldment-at says otherwise
    size: [240, 340]
    friction: 0.2 # of the first part on it
    weldment-turn: 90 # of the weldment about the vertical
    # Where the frame of the weldment is in the cell:
    # weldment-at: [0, 0, 500]
    # What presses the first part to the table, N; without it that part must stand and stay by its weight.
    first-part: { clamp: table-magnets, force: 1500 }

# Boxes that nothing may enter, as posts, fences and cabinets, each by its middle and size:
# keep-outs: [{ at: [0, 1500, 500], size: [100, 100, 1000] }]

# Arc of the tacks: A, V, and mm/s along the seam.
process: { current: 190, voltage: 23, speed: 8, arc: mag }

# Seconds of what robots do beside moving; see shared/cell.schema.json for all of them:
# times: { grip: 0.8, release: 1.2, tool-change: 8 }
`;

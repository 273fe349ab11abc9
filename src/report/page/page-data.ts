/**
 * What the page of a plan tells its own script, as JSON inside the page: mm, seconds, radians, and indices instead of
 * names. Texts are plain and become text nodes in the browser, never markup. Numbers are rounded where nobody could
 * see the rest: 0.01 mm, 0.01 s, 0.00001 rad, distortion to 0.001 mm.
 */
export interface PageData {
  readonly weldment: string;
  /** By their indices in the scene. */
  readonly parts: readonly PagePart[];
  readonly robots: readonly PageRobot[];
  readonly fixtures: readonly PageFixture[];
  /** In their order. */
  readonly stages: readonly PageStage[];
  readonly joints: readonly PageJoint[];
  /**
   * Every turn of the work table, in order of time; empty where it stands still. A table that is not at angle 0 at
   * first has one of no time for that.
   */
  readonly turns: readonly PageTurn[];
  /** What the prediction of distortion says, in order of time. */
  readonly distortion: readonly PageMoved[];
  /** Seconds. */
  readonly makespan: number;
  /** What is shown where something is picked, by the key of the pick: `part:2`, `tack:T-7`, see `Pick`. */
  readonly details: Readonly<Record<string, PageDetail>>;
}

/**
 * What can be picked on the page, as the text that `data-pick` of elements holds: `part:INDEX`, `joint:INDEX`,
 * `tack:STAGE.ORDER`, `step:ROBOT.NUMBER`, `handshake:INDEX`, `stage:NUMBER`. Numbers only, since names are untrusted.
 */
export type Pick = `${'part' | 'joint' | 'tack' | 'step' | 'handshake' | 'stage'}:${string}`;

/** Title and rows of a label and what it says. */
export interface PageDetail {
  readonly title: string;
  readonly rows: readonly (readonly [label: string, text: string])[];
}

export type Point3 = readonly [number, number, number];

/** Position, mm, and turn as a unit quaternion x, y, z, w. */
export type PagePose = readonly [number, number, number, number, number, number, number];

/** A solid as triangles with flat faces, and its sharp edges as lines. */
export interface PageMesh {
  /** x, y, z of one corner after the other. */
  readonly corners: readonly number[];
  /** Three indices of corners for each triangle, anticlockwise seen from outside. */
  readonly triangles: readonly number[];
  /** Two indices of corners for each edge. */
  readonly edges: readonly number[];
}

export interface PagePart {
  readonly name: string;
  /** In the part's own frame. */
  readonly mesh: PageMesh;
  /** Final pose in the cell, with the table at angle 0. */
  readonly final: PagePose;
  /** Number of the stage in which it joins; 0: never. */
  readonly stage: number;
  /**
   * Where it is, in order of time, each until the next and the last to the makespan. It may begin late: a part that a
   * person sets is there from the end of that work on, and one lies at the infeed once the part before it has been
   * lifted from there. Empty: the part is not in the plan.
   */
  readonly places: readonly PagePlace[];
}

/** Where a part is for a while. */
export interface PagePlace {
  /** Seconds. */
  readonly from: number;
  /** In place also while a robot still holds it there. */
  readonly where: 'infeed' | 'regrip' | 'two-sided' | 'carried' | 'in-place';
  /** Index of the robot; of a part that is carried. */
  readonly robot?: number;
  /** In the flange frame of that robot where it is carried, else in the cell (in place: with the table at angle 0). */
  readonly pose: PagePose;
}

export interface PageRobot {
  readonly name: string;
  readonly duty: 'handle' | 'weld';
  readonly base: PagePose;
  /** As `kinematics/arm.ts` takes it, so that the page places links with the same formulas as the planner. */
  readonly arm: PageArm;
  /** Radii of the capsules that stand for the links, mm; `kinematics/arm-body.ts` says which. */
  readonly radii: {
    readonly column: number;
    readonly upperArm: number;
    readonly forearm: number;
    readonly wrist: number;
    readonly dressPack?: number;
  };
  readonly tools: readonly PageTool[];
  /**
   * In order of time, each beginning where the one before ends; steps that take no time are among them. After the last
   * the arm stands. A robot without a program stands at home in one step with the number 0.
   */
  readonly steps: readonly PageStep[];
}

type Six = readonly [number, number, number, number, number, number];

/** What forward kinematics asks of an arm: lengths, mm, offsets, radians, signs. */
export interface PageArm {
  readonly a1: number;
  readonly a2: number;
  readonly b: number;
  readonly c1: number;
  readonly c2: number;
  readonly c3: number;
  readonly c4: number;
  readonly offsets: Six;
  readonly signs: readonly [1 | -1, 1 | -1, 1 | -1, 1 | -1, 1 | -1, 1 | -1];
  readonly coupled?: boolean;
}

/** A gripper or torch in the flange frame. */
export interface PageTool {
  readonly name: string;
  readonly mesh: PageMesh;
}

export interface PageStep {
  /** Number in the program of its robot, from 1; 0: see above. */
  readonly n: number;
  /** Number of the stage; 0: before the first and after the last. */
  readonly stage: number;
  /** Seconds. */
  readonly start: number;
  readonly end: number;
  /** In a few words. */
  readonly what: string;
  /** Index of the tool on the flange; -1: none. */
  readonly tool: number;
  /** Postures from start to end, each joint turning evenly from one to the next; one where the arm stands. */
  readonly way: readonly Six[];
  /** When each posture between the first and the last is passed, as shares of the time of the step; absent: none is. */
  readonly at?: readonly number[];
  /** Whether it is a wait. */
  readonly waits: boolean;
}

export interface PageFixture {
  readonly name: string;
  readonly kind: 'table' | 'infeed' | 'regrip' | 'two-sided' | 'keep-out' | 'tool-stand';
  /** In the cell, with the table at angle 0. */
  readonly mesh: PageMesh;
  /** Whether it turns with the table. */
  readonly turns: boolean;
}

export interface PageStage {
  readonly number: number;
  /** Index of the newcomer. */
  readonly part: number;
  /** Seconds: when its part is taken first, or a person begins, and when the last that is done for it ends. */
  readonly start: number;
  readonly end: number;
  /** When its part is in place, held by what brought it; of one that a person sets, when the person has confirmed. */
  readonly placed: number;
  /** Of travel, unit, in the cell, with the table at its angle of this stage; null where a person sets the part. */
  readonly approach: { readonly direction: Point3; readonly distance: number } | null;
  /** Index of the robot that holds the newcomer while its securing tacks are laid, or null. */
  readonly heldBy: number | null;
  /** Index of an earlier part that is held too, or null. */
  readonly alsoHeld: number | null;
  /** Seconds from when to when something is held for this stage; null where nothing is. */
  readonly hold: readonly [from: number, to: number] | null;
  /** Angle of the table, radians. */
  readonly turn: number;
  /** In the order in which they are laid, those that a person lays last. */
  readonly tacks: readonly PageTack[];
}

export interface PageTack {
  readonly pick: Pick;
  readonly order: number;
  readonly phase: 'securing' | 'completing';
  /** Index of its joint. */
  readonly joint: number;
  /** Index of the robot; null: a person. */
  readonly robot: number | null;
  /** Where the arc starts and ends, in the cell, with the table at angle 0. */
  readonly from: Point3;
  readonly to: Point3;
  /** Feed direction of the wire where the arc starts, unit, in the same frame; null of one laid by a person. */
  readonly torch: Point3 | null;
  /** Seconds; null of one laid by a person, which lies when its part is in place. */
  readonly start: number | null;
  readonly end: number | null;
}

export interface PageJoint {
  readonly pick: Pick;
  readonly between: readonly [number, number];
  /** Ends of its seams in the cell, with the table at angle 0. */
  readonly seams: readonly (readonly [Point3, Point3])[];
}

export interface PageTurn {
  readonly start: number;
  readonly end: number;
  /** Radians, about the axis of the table. */
  readonly from: number;
  readonly to: number;
  /** A point of the axis, which points up. */
  readonly axis: readonly [number, number];
}

/**
 * Where parts are predicted to be from some time on, against their nominal places: those whose place is another than
 * before. At first all are at zero, and there may be several at one time, of which the last counts.
 */
export interface PageMoved {
  readonly time: number;
  readonly parts: readonly {
    readonly part: number;
    /** Of the centre of mass, mm, in the cell with the table at angle 0. */
    readonly move: Point3;
    /** As a vector along the axis, radians. */
    readonly turn: Point3;
    /** The centre of mass, nominal, about which it turns. */
    readonly about: Point3;
  }[];
}

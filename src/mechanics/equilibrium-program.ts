import type { Column, Entry, Program } from '../algorithms/linear-program.js';
import type { Vec3 } from '../geometry/vector.js';
import { add, cross, scale, subtract } from '../geometry/vector.js';
import { frictionEdges, linkDirections, linkPoints, padPoints } from './generators.js';
import type { Bearing, Disturbance, Link, Pad, System } from './system.js';
import { GROUND, gravityOf } from './system.js';

/** One unknown strength of a force of given direction. */
export interface Term {
  readonly column: number;
  readonly force: Vec3;
}

/** A bearing or pad inside the program: the terms of each of its points, pure normal first, and its friction row. */
export interface ContactLayout {
  readonly points: readonly (readonly Term[])[];
  /** Row that bounds the sum of all friction edges, N of normal force; undefined without friction. */
  readonly frictionRow: number | undefined;
  /** Row that bounds the whole normal force of a pad; undefined where nothing does. */
  readonly mostRow?: number | undefined;
}

/** A tack inside the program: terms and strength row of each half. */
export interface LinkLayout {
  readonly halves: readonly { readonly terms: readonly Term[]; readonly row: number }[];
}

/** Which column and row stands for what. */
export interface Layout {
  readonly bearings: readonly ContactLayout[];
  readonly links: readonly LinkLayout[];
  readonly pads: readonly ContactLayout[];
  /** Rows of each hold: three forces, three moments; undefined where there is no limit. */
  readonly holds: readonly (readonly (number | undefined)[])[];
  /** Column by which all weights are multiplied. */
  readonly gravity: number;
  /** Column by which each disturbance is multiplied. */
  readonly disturbances: readonly number[];
}

/** Greatest factor that is looked for; a reserve above it is of no interest. */
export const FACTOR_CAP = 10;

/** Room given to friction bounds so that step 2 without disturbance admits the forces of step 1, N. */
export const FRICTION_ROOM = 1e-7;

const METRE = 1e-3;

/**
 * The equilibrium of a system as a linear program, in newtons and metres: six equations a body about its centre,
 * one column a force direction, one row a strength, friction or hold limit, one column for the factor of gravity
 * and one for that of each disturbance. All factors start fixed at zero and all friction rows open.
 */
export function equilibriumProgram(
  system: System,
  disturbances: readonly Disturbance[],
): { readonly program: Program; readonly layout: Layout } {
  const builder = new Builder(system);
  const layout: Layout = {
    bearings: system.bearings.map((bearing) => builder.bearing(bearing)),
    links: system.links.map((link) => builder.link(link)),
    pads: system.pads.map((pad) => builder.pad(pad)),
    gravity: builder.gravity(),
    disturbances: disturbances.map((disturbance) => builder.disturbance(disturbance)),
    holds: builder.holds(),
  };
  return { program: builder.program(), layout };
}

interface GrowingRow {
  lower: number;
  upper: number;
  readonly entries: Entry[];
}

/** Six sums that belong to one body or hold: force, and moment about a point, N and N m. */
interface Balance {
  readonly about: Vec3;
  readonly rows: readonly GrowingRow[];
}

const balanceAbout = (about: Vec3): Balance => ({
  about,
  rows: Array.from({ length: 6 }, () => ({ lower: 0, upper: 0, entries: [] })),
});

/** Force and moment of a force at a point, about another: N and N m, points in mm. */
export const wrench = (force: Vec3, at: Vec3, about: Vec3): readonly number[] => [
  ...force,
  ...scale(cross(subtract(at, about), force), METRE),
];

class Builder {
  private readonly columns: Column[] = [];
  private readonly rows: GrowingRow[] = [];
  private readonly bodies: readonly Balance[];
  private readonly grips: readonly Balance[];

  constructor(private readonly system: System) {
    this.bodies = system.bodies.map((body) => balanceAbout(body.centre));
    this.grips = system.holds.map((hold) => balanceAbout(hold.at));
    for (const balance of this.bodies) this.rows.push(...balance.rows);
  }

  bearing({ a, b, corners, normal, friction, preload }: Bearing): ContactLayout {
    const press = scale(normal, -preload / Math.max(1, corners.length));
    for (const corner of corners) {
      this.constant(this.of(b), press, corner, 1);
      this.constant(this.of(a), press, corner, -1);
    }
    return this.contact(corners, normal, friction, this.of(b), this.of(a));
  }

  pad(pad: Pad): ContactLayout {
    const [body, points, grip] = [this.of(pad.body), padPoints(pad), this.grips[pad.hold]];
    const pull = scale(pad.normal, -pad.pull / points.length);
    for (const point of points) {
      this.constant(body, pull, point, 1);
      this.constant(grip, pull, point, 1);
    }
    const contact = this.contact(points, pad.normal, pad.friction, body, undefined, grip);
    if (pad.most === undefined) return contact;
    return { ...contact, mostRow: this.limit(contact.points.flat(), pad.most) };
  }

  link(link: Link): LinkLayout {
    const directions = linkDirections(link);
    const halves = linkPoints(link).map((point) => {
      const terms = directions.map((force) => this.force(force, point, this.of(link.b), this.of(link.a)));
      return { terms, row: this.limit(terms, link.strength / 2) };
    });
    return { halves };
  }

  gravity(): number {
    const { direction, acceleration } = gravityOf(this.system);
    const column = this.column(0);
    this.system.bodies.forEach(({ mass, centre }, i) => {
      this.enter(this.bodies[i], column, scale(direction, mass * acceleration), centre, 1);
    });
    return column;
  }

  disturbance({ forces }: Disturbance): number {
    const column = this.column(0);
    const sums = new Map<number, number[]>();
    for (const { body, force, at } of forces) {
      const balance = this.of(body);
      if (balance === undefined) continue;
      const sum = sums.get(body) ?? [0, 0, 0, 0, 0, 0];
      sums.set(
        body,
        wrench(force, at, balance.about).map((value, i) => sum[i]! + value),
      );
    }
    for (const [body, sum] of sums) this.enterSum(this.of(body), column, sum, 1);
    return column;
  }

  /** Turns the sums over each hold's pads into rows with its limits; call when all pads are in. */
  holds(): (number | undefined)[][] {
    return this.grips.map(({ rows }, i) =>
      rows.map((row, axis) => {
        const limit = axis < 3 ? this.system.holds[i]!.force : this.system.holds[i]!.moment * METRE;
        if (limit === Infinity || row.entries.length === 0) return undefined;
        row.upper += limit;
        row.lower -= limit;
        return this.rows.push(row) - 1;
      }),
    );
  }

  program(): Program {
    return { columns: this.columns, rows: this.rows };
  }

  private of(body: number): Balance | undefined {
    return body === GROUND ? undefined : this.bodies[body];
  }

  private contact(
    points: readonly Vec3[],
    normal: Vec3,
    friction: number,
    on: Balance | undefined,
    from: Balance | undefined,
    grip?: Balance,
  ): ContactLayout {
    const edges = frictionEdges(normal, friction);
    const terms = points.map((point) =>
      [normal, ...edges].map((force) => this.force(force, point, on, from, grip)),
    );
    const all = terms.flatMap((list) => list.slice(1));
    return { points: terms, frictionRow: all.length > 0 ? this.limit(all, Infinity) : undefined };
  }

  /** A column for a force at a point on one body, and its reaction on the other. */
  private force(force: Vec3, at: Vec3, on?: Balance, from?: Balance, grip?: Balance): Term {
    const column = this.column(Infinity);
    this.enter(on, column, force, at, 1);
    this.enter(from, column, force, at, -1);
    this.enter(grip, column, force, at, 1);
    return { column, force };
  }

  private column(upper: number): number {
    return this.columns.push({ cost: 0, lower: 0, upper }) - 1;
  }

  private limit(terms: readonly Term[], upper: number): number {
    const entries = terms.map(({ column }) => [column, 1] as const);
    return this.rows.push({ lower: -Infinity, upper, entries }) - 1;
  }

  private enter(balance: Balance | undefined, column: number, force: Vec3, at: Vec3, sign: number): void {
    if (balance !== undefined) this.enterSum(balance, column, wrench(force, at, balance.about), sign);
  }

  private enterSum(balance: Balance | undefined, column: number, sum: readonly number[], sign: number): void {
    sum.forEach((value, i) => {
      if (value !== 0) balance?.rows[i]!.entries.push([column, sign * value]);
    });
  }

  /** Moves a given force to the right-hand side. */
  private constant(balance: Balance | undefined, force: Vec3, at: Vec3, sign: number): void {
    if (balance === undefined) return;
    wrench(force, at, balance.about).forEach((value, i) => {
      balance.rows[i]!.lower -= sign * value;
      balance.rows[i]!.upper -= sign * value;
    });
  }
}

/** The sum of a point's terms at the given strengths, N. */
export const forceOf = (terms: readonly Term[], values: Float64Array): Vec3 =>
  terms.reduce<Vec3>((sum, { column, force }) => add(sum, scale(force, values[column]!)), [0, 0, 0]);

/** The normal force of a contact at the given strengths, N: every term has a unit of it. */
export const normalOf = (contact: ContactLayout, values: Float64Array): number =>
  contact.points.flat().reduce((sum, { column }) => sum + values[column]!, 0);

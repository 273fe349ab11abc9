import { GrowingRows, type Packed } from '../algorithms/linear-program.js';
import type { Vec3 } from '../geometry/vector.js';
import { scale } from '../geometry/vector.js';
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
): { readonly program: Packed; readonly layout: Layout } {
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

/** Six sums that belong to one body or hold, from a row on: force, and moment about a point, N and N m. */
interface Balance {
  readonly about: Vec3;
  readonly rows: GrowingRows;
  readonly first: number;
}

/** A balance with six rows of its own, all sums zero. */
function balanceAbout(about: Vec3, rows: GrowingRows): Balance {
  const first = rows.count;
  for (let i = 0; i < 6; i += 1) rows.add(0, 0);
  return { about, rows, first };
}

class Builder {
  /** Upper bounds of the columns; all lower ones and all costs are zero. */
  private readonly uppers: number[] = [];
  private readonly rows = new GrowingRows();
  /** Sums over the pads of each hold, which are rows only where they are limited. */
  private readonly sums = new GrowingRows();
  private readonly bodies: readonly Balance[];
  private readonly grips: readonly Balance[];
  /** The wrench that is being looked at. */
  private readonly wrench = new Float64Array(6);

  constructor(private readonly system: System) {
    this.bodies = system.bodies.map((body) => balanceAbout(body.centre, this.rows));
    this.grips = system.holds.map((hold) => balanceAbout(hold.at, this.sums));
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
    const sums = new Map<number, Float64Array>();
    for (const { body, force, at } of forces) {
      const balance = this.of(body);
      if (balance === undefined) continue;
      const sum = sums.get(body) ?? new Float64Array(6);
      sums.set(body, sum);
      putWrench(this.wrench, force, at, balance.about);
      for (let i = 0; i < 6; i += 1) sum[i]! += this.wrench[i]!;
    }
    for (const [body, sum] of sums) enterSum(this.of(body)!, column, sum, 1);
    return column;
  }

  /** Turns the sums over each hold's pads into rows with its limits; call when all pads are in. */
  holds(): (number | undefined)[][] {
    const { rows, sums } = this;
    const places = new Int32Array(sums.count).fill(-1);
    const numbers = this.grips.map(({ first }, i) =>
      Array.from({ length: 6 }, (_, axis) => {
        const limit = axis < 3 ? this.system.holds[i]!.force : this.system.holds[i]!.moment * METRE;
        const sum = first + axis;
        if (limit === Infinity || sums.isEmpty(sum)) return undefined;
        places[sum] = rows.add(sums.lower[sum]! - limit, sums.upper[sum]! + limit);
        return places[sum];
      }),
    );
    rows.takeEntries(sums, places);
    return numbers;
  }

  program(): Packed {
    const upper = Float64Array.from(this.uppers);
    const none = new Float64Array(upper.length);
    return { maximise: false, cost: none, lower: none, upper, integer: undefined, ...this.rows.packed() };
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
    return this.uppers.push(upper) - 1;
  }

  private limit(terms: readonly Term[], upper: number): number {
    const row = this.rows.add(-Infinity, upper);
    for (const { column } of terms) this.rows.enter(row, column, 1);
    return row;
  }

  private enter(balance: Balance | undefined, column: number, force: Vec3, at: Vec3, sign: number): void {
    if (balance === undefined) return;
    putWrench(this.wrench, force, at, balance.about);
    enterSum(balance, column, this.wrench, sign);
  }

  /** Moves a given force to the right-hand side. */
  private constant(balance: Balance | undefined, force: Vec3, at: Vec3, sign: number): void {
    if (balance === undefined) return;
    putWrench(this.wrench, force, at, balance.about);
    for (let i = 0; i < 6; i += 1) balance.rows.raise(balance.first + i, -sign * this.wrench[i]!);
  }
}

/** Force and moment of a force at a point, about another: N and N m, points in mm; written out, for it is asked most of all. */
function putWrench(into: Float64Array, force: Vec3, at: Vec3, about: Vec3): void {
  const x = at[0] - about[0];
  const y = at[1] - about[1];
  const z = at[2] - about[2];
  into[0] = force[0];
  into[1] = force[1];
  into[2] = force[2];
  into[3] = (y * force[2] - z * force[1]) * METRE;
  into[4] = (z * force[0] - x * force[2]) * METRE;
  into[5] = (x * force[1] - y * force[0]) * METRE;
}

function enterSum({ rows, first }: Balance, column: number, sum: Float64Array, sign: number): void {
  for (let i = 0; i < 6; i += 1) if (sum[i] !== 0) rows.enter(first + i, column, sign * sum[i]!);
}

/** The sum of a point's terms at the given strengths, N. */
export function forceOf(terms: readonly Term[], values: Float64Array): Vec3 {
  let [x, y, z] = [0, 0, 0];
  for (const { column, force } of terms) {
    x += force[0] * values[column]!;
    y += force[1] * values[column]!;
    z += force[2] * values[column]!;
  }
  return [x, y, z];
}

/** The normal force of a contact at the given strengths, N: every term has a unit of it. */
export function normalOf({ points }: ContactLayout, values: Float64Array): number {
  let sum = 0;
  for (const terms of points) for (const { column } of terms) sum += values[column]!;
  return sum;
}

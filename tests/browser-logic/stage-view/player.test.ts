import { describe, expect, it } from 'vitest';
import { Clock } from '../../../src/browser/clock.js';
import { Player } from '../../../src/browser/stage-view/player.js';

const played = (): { clock: Clock; player: Player } => {
  const clock = new Clock(100);
  const next = { stages: () => (clock.now < 40 ? 40 : undefined), steps: () => clock.now + 1 };
  return { clock, player: new Player({ clock, next }) };
};

describe('playing', () => {
  it('lets the clock run at its speed, and only when asked', () => {
    const { clock, player } = played();
    expect(player.pass(1)).toBe(false);
    expect(clock.now).toBe(0);
    player.playing = true;
    player.pass(0.5);
    expect(clock.now).toBe(5);
  });

  it('hops from stage to stage, slower at less speed, and ends at the end', () => {
    const { clock, player } = played();
    player.way = 'stages';
    player.playing = true;
    player.pass(1.9);
    expect(clock.now).toBe(0);
    player.pass(0.2);
    expect(clock.now).toBe(40);
    player.pass(2);
    expect([clock.now, player.playing]).toEqual([100, false]);
  });

  it('starts again from the start where it is over, and tells who listens', () => {
    const { clock, player } = played();
    const told: boolean[] = [];
    player.listen((playing) => told.push(playing));
    clock.set(100);
    player.playing = true;
    expect(clock.now).toBe(0);
    player.pass(99);
    expect(told).toEqual([true, false]);
  });

  it('runs once where it is stopped and started again before the next frame', () => {
    const { clock, player } = played();
    const motions = new Set<(seconds: number) => boolean>();
    player.listen((playing) => playing && motions.add(player.pass));
    for (const on of [true, false, true]) player.playing = on;
    for (const motion of motions) motion(1);
    expect(clock.now).toBe(10);
  });
});

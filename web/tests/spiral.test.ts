import { describe, expect, it } from 'vitest';
import { spiral } from '../src/brief/spiral';

const level = (seconds: number, speed: number) => ({
  time_s: [0, seconds], height_m: [2, 2], speed_m_s: [speed, speed], rev_per_s: [1, 1], torque_Nm: [0, 0], turns: [0, 0],
});

describe('spiral', () => {
  it('closes one circle after its circumference is flown', () => {
    const data = spiral(level(2 * Math.PI * 5, 1), 5, (x, z) => [x, z]);
    const points = data.slice(1).split('L').map((pair) => pair.split(' ').map(Number));
    expect(points[0]).toEqual([5, 2]);
    expect(points.at(-1)).toEqual([5, 2]);
    expect(Math.min(...points.map(([x]) => x ?? 0))).toBeCloseTo(-5, 1);
  });
  it('draws nothing for straight flight', () => expect(spiral(level(10, 1), 0, (x, z) => [x, z])).toBe(''));
});

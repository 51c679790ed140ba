import { describe, expect, it } from 'vitest';
import { design_for, type NamedDesign } from '../../src/bench/kit/designs';

const designs: NamedDesign[] = [
  { id: 's', name: 'Sparrow 16', propeller: 'S16' },
  { id: 'l', name: 'Lantern 46', propeller: 'L46-A' },
  { id: 'h1', name: 'Heron 55', propeller: 'H55-D' },
  { id: 'h2', name: 'Heron 55, longer', propeller: 'H55-D' },
  { id: 'n', name: 'Unnamed', propeller: '' },
];

describe('the design of a propeller', () => {
  it('is the one whose propeller bears its name, not the newest nor the open one', () => {
    expect(design_for('L46-A', designs, 's', 's')).toBe('l');
    expect(design_for(' l46-a ', designs, null, null)).toBe('l');
  });

  it('stays the open one for a name that no design knows, and is asked where there is none', () => {
    expect(design_for('Propeller 3', designs, 's', 's')).toBe('s');
    expect(design_for('Propeller 3', designs, null, null)).toBeNull();
    expect(design_for('', designs, null, null)).toBeNull();
  });

  it('of several of that name is the open one, else it is asked', () => {
    expect(design_for('H55-D', designs, 'h2', 's')).toBe('h2');
    expect(design_for('H55-D', designs, 's', 's')).toBeNull();
    expect(design_for('H55-D', designs, 's', 'h1')).toBe('h1');
  });
});

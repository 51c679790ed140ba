import { beforeEach, describe, expect, it } from 'vitest';
import { design } from '../src/store/design.svelte';

beforeEach(() => design.open({ job: { hall: { roof_height: '8 m' } } }, null));

describe('the design under the hand', () => {
  it('undoes and redoes single changes', () => {
    design.set('hall.roof_height', '9 m');
    design.set('hall.name', 'Tram shed');
    design.undo();
    expect(design.get('hall.name')).toBeUndefined();
    expect(design.get('hall.roof_height')).toBe('9 m');
    design.undo();
    expect(design.get('hall.roof_height')).toBe('8 m');
    expect(design.can_undo).toBe(false);
    design.redo();
    design.redo();
    expect(design.get('hall.name')).toBe('Tram shed');
    expect(design.can_redo).toBe(false);
  });

  it('takes a whole drag as one step', () => {
    for (const metres of ['8.1 m', '8.2 m', '8.3 m']) design.set('hall.roof_height', metres, 'drag roof');
    design.settle();
    design.set('hall.roof_height', '9 m', 'drag roof');
    design.undo();
    expect(design.get('hall.roof_height')).toBe('8.3 m');
    design.undo();
    expect(design.get('hall.roof_height')).toBe('8 m');
  });

  it('forgets what was undone once something else is done', () => {
    design.set('hall.roof_height', '9 m');
    design.undo();
    design.set('hall.roof_height', '10 m');
    expect(design.can_redo).toBe(false);
  });

  it('makes no step of a change to the same value', () => {
    design.set('hall.roof_height', '8 m');
    expect(design.can_undo).toBe(false);
  });

  it('is changed until saved, and again unchanged when undone', () => {
    expect(design.dirty).toBe(false);
    design.set('hall.roof_height', '9 m');
    expect(design.dirty).toBe(true);
    design.undo();
    expect(design.dirty).toBe(false);
    design.set('hall.roof_height', '9 m');
    design.saved(design.document, { id: 'a', name: 'A', version: 1, built: false, etag: '"1"' });
    expect(design.dirty).toBe(false);
  });

  it('is not changed by the units it is read in', () => {
    design.set('job.units', 'inch');
    expect(design.dirty).toBe(false);
    design.set('hall.roof_height', '9 m');
    expect(design.dirty).toBe(true);
    design.set('hall.roof_height', '8 m');
    design.set('job.units', 'metric');
    expect(design.dirty).toBe(false);
  });

  it('reads the profile from the job', () => {
    expect(design.profile).toBe('metric');
    design.set('job.units', 'inch');
    expect(design.profile).toBe('inch');
  });

  it('tells its listeners before anything is drawn', () => {
    const heard: unknown[] = [];
    const stop = design.on_change((document) => heard.push(document.job.hall));
    design.set('hall.roof_height', '9 m');
    stop();
    design.set('hall.roof_height', '10 m');
    expect(heard).toEqual([{ roof_height: '9 m' }]);
  });
});

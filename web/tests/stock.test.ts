import { describe, expect, it } from 'vitest';
import { changed, filled, section_of } from '../src/brief/stock';

const document = {
  job: {
    hall: { roof_height: '8.5 m' },
    air: { temperature: '20 degC' },
    rubber: { name: 'box 7', test_file: 'box7.csv' },
    motor: { loop_length: '368 mm' },
  },
  attachments: { rubber_test_csv: 'turns\n1', polar_csv: 'alpha_deg' },
};

describe('records of the workshop', () => {
  it('keep a hall with its air', () =>
    expect(section_of(document, 'halls')).toEqual({ section: { hall: { roof_height: '8.5 m' }, air: { temperature: '20 degC' } } }));

  it('keep a batch with its bench test', () =>
    expect(section_of(document, 'rubbers')).toEqual({
      section: { rubber: { name: 'box 7', test_file: 'box7.csv' } }, curve_csv: 'turns\n1',
    }));

  it('replace their part of the job and nothing else', () => {
    const next = filled(document, 'motors', { section: { motor: { loop_length: '15 in' } } });
    expect(next.job.motor).toEqual({ loop_length: '15 in' });
    expect(next.job.hall).toBe(document.job.hall);
    expect(next.attachments).toEqual(document.attachments);
  });

  it('leave the spacer that a part of a motor is set up with, where a motor says nothing of one', () => {
    const half = { ...document, job: { ...document.job, motor: { loop_length: '184 mm', spacer_mass: '0.31 g' } } };
    expect(filled(half, 'motors', { section: { motor: { loop_length: '150 mm' } } }).job.motor).toEqual({ loop_length: '150 mm', spacer_mass: '0.31 g' });
    expect(filled(half, 'motors', { section: { motor: { loop_length: '150 mm', spacer_mass: '0 g' } } }).job.motor).toEqual({ loop_length: '150 mm', spacer_mass: '0 g' });
  });

  it('take the old bench test away with the old batch', () => {
    const next = filled(document, 'rubbers', { section: { rubber: { name: 'box 8' } } });
    expect(next.attachments).toEqual({ rubber_test_csv: '', polar_csv: 'alpha_deg' });
  });

  it('keep what the floor has written beside their part of the job', () =>
    expect(changed(document, 'rubbers', { section: { rubber: { name: 'old', test_mass: '1 g' }, batch: { tests: [] } }, links: {} })).toEqual({
      section: { rubber: { name: 'box 7', test_file: 'box7.csv' }, batch: { tests: [] } }, curve_csv: 'turns\n1', links: {},
    }));

  it('leave the air of the day when a hall was kept without one', () =>
    expect(filled(document, 'halls', { section: { hall: { roof_height: '30 m' } } }).job.air).toEqual({ temperature: '20 degC' }));
});

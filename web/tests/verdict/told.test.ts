import { expect, it } from 'vitest';
import { said } from '../../src/api/client';
import { on_page } from '../../src/verdict/told';

it('a problem names the propeller or the flight it is about; those of beliefs stand beside their fields', () => {
  const problems = [
    { ...said('the value is out of range'), file: 'jobs[2]', field: 'hall.roof_height' },
    { ...said('this is no number'), field: 'flights[3].duration_s' },
    { ...said('the value is out of range'), field: 'beliefs.tail_freedom' },
    said('The program does not answer'),
  ];
  expect(on_page(problems, ['L46-A', 'L46-B']).map(({ message }) => message)).toEqual([
    'the design of L46-B, hall.roof_height: the value is out of range',
    'flight 3, duration_s: this is no number',
    'The program does not answer',
  ]);
});

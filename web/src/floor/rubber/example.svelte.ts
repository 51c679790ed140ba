// Invented rubber that comes with the program: put into the workshop, where each record says that it is an example.
import { answer, client } from '../../api/client';
import { bench_records, type Content, type Links } from '../../bench/kit/records';
import { meters, motors, rubbers, type Shelf } from './shelf.svelte';

class Example {
  /** What it is, once it is there. */
  told = $state('');

  async load(): Promise<void> {
    const { body } = await answer(client.GET('/api/examples/rubber'));
    const batch = await put(rubbers, body.rubbers.map(({ name, section, curve_csv = '' }) => ({ name, section, links: {}, curve_csv })));
    const motor = await put(motors, body.motors.map(({ name, section }) => ({ name, section, links: (batch ? { rubber_id: batch } : {}) as Links })));
    const meter = await put(meters, body.meters.map(({ name, section }) => ({ name, section, links: {} })));
    for (const [shelf, id] of [[rubbers, batch], [motors, motor], [meters, meter]] as const) await into_hand(shelf, id);
    this.told = body.note;
    rubbers.told();
  }
}

/** The first of these records; what is there by that name already is left as it is, and taken back if it was put away. */
async function put(shelf: Shelf, records: Content[]): Promise<string | null> {
  await shelf.read();
  let first: string | null = null;
  for (const record of records) {
    const there = [...shelf.list, ...shelf.away].find(({ name }) => name === record.name);
    if (there?.archived) await shelf.put_away(there);
    const { id } = there ?? (await bench_records.create(shelf.kind, record));
    first ??= id;
  }
  await shelf.read();
  return first;
}

/** Where nothing is in hand. */
async function into_hand(shelf: Shelf, id: string | null): Promise<void> {
  const record = shelf.list.find((each) => each.id === id);
  if (record && shelf.hand.ref === null && shelf.hand.blank) await shelf.open(record);
}

export const example = new Example();

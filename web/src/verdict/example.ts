// The invented flights that come with the program, to see a verdict by. They are looked at, not kept.
import { answer, client } from '../api/client';
import type { ExampleLog } from './trial.svelte';

export async function load_example(): Promise<ExampleLog> {
  const { body } = await answer(client.GET('/api/examples/flights'));
  return { title: body.title, note: body.note, flights: body.flights, designs: body.designs };
}

// What the tests of the Floor do alike.
import assert from 'node:assert/strict';
import { accessibilityProblems, fieldOf, fitsItsWidth, picture } from './harness.mjs';

export const flights = async (server) => (await (await fetch(`${server.address}/api/flights?limit=1000&sort=name`)).json()).items;
export const press = (page, words) => page.getByRole('button', { name: words, exact: true }).click();

export async function looked(page, name) {
  await picture(page, name);
  assert.deepEqual(await accessibilityProblems(page), [], name);
  assert.ok(await fitsItsWidth(page), `${name} sticks out sideways`);
}

export async function type(page, label, text) {
  const field = fieldOf(page, label);
  await field.fill(text);
  await field.press('Tab');
}

/** A flight timed by another watch. */
export async function logged(page, time, left) {
  await type(page, 'time by another watch', time);
  await type(page, /^turns left/, left);
  await page.getByRole('button', { name: /^Keep/ }).first().click();
  await page.getByText(/^Flight \d+ kept/).waitFor();
}

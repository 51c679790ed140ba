// Nothing logged in a hall is lost, doubled or overwritten: two tabs, a network that does not answer, a program that
// wants its code or has no room, and another workshop at the same address.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { join } from 'node:path';
import { flights, logged, looked, press, type } from './floor_steps.mjs';
import { freshFolder, newPage, phone, startBrowser, startServer, until } from './harness.mjs';

let browser;
before(async () => (browser = await startBrowser()));
after(async () => browser?.close());

/** A fresh workshop and a phone at its Log with a propeller named. */
async function atTheLog(work, ignore = [/Failed to load resource/]) {
  const { folder, remove } = freshFolder();
  const box = { folder, server: await startServer(join(folder, 'workshop.sqlite')) };
  try {
    const { page, context, complaints } = await newPage(browser, box.server.address, { viewport: phone, touch: true, ignore });
    await page.goto(`${box.server.address}/floor`);
    await press(page, 'Propeller, motor, winding, air');
    await type(page, 'propeller', 'P14');
    await type(page, 'motor', '23');
    await work({ box, page, context });
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await box.server.stop();
    remove();
  }
}

const says = (page, words) => until(async () => words.test(await page.locator('.state').innerText()), `the state says ${words}`);
const times = async (server) => (await flights(server)).map(({ flight }) => flight.duration_s).sort();
const at = (box, name) => startServer(join(box.folder, name), ['--port', new URL(box.server.address).port]);

test('two tabs that began with one flight in hand keep two flights', async () => {
  await atTheLog(async ({ box, page, context }) => {
    const other = await context.newPage();
    await other.goto(`${box.server.address}/floor`);
    await other.getByRole('button', { name: 'Launch' }).waitFor();
    await box.server.stop();
    await logged(page, '5:00', '100');
    await press(other, 'Change');
    await logged(other, '6:30', '90');
    await page.close();
    box.server = await at(box, 'workshop.sqlite');
    await until(async () => (await flights(box.server)).length === 2, 'both in the workshop');
    assert.deepEqual(await times(box.server), [300, 390]);
  });
});

test('a flight in the air is landed after a reload beside a network that does not answer, and goes up later', async () => {
  await atTheLog(async ({ box, page, context }) => {
    await press(page, 'Launch');
    await page.getByRole('button', { name: 'Landed' }).waitFor();
    await context.route('**/api/**', () => undefined); // no answer, as in a corner of the hall
    await page.reload();
    await page.getByRole('button', { name: 'Landed' }).waitFor({ timeout: 5000 });
    await page.waitForTimeout(1100);
    await press(page, 'Landed');
    await page.waitForTimeout(700);
    await page.getByRole('button', { name: /^Keep/ }).first().click();
    await page.getByText(/^Flight 1 kept/).waitFor();
    await says(page, /^offline, one kept here$/);
    await looked(page, 'floor-no-answer');
    await context.unroute('**/api/**');
    await until(async () => (await flights(box.server)).length === 1, 'the flight uploaded');
    await says(page, /^$/);
  });
});

test('without the access code the floor logs and asks for it, and a full disc is told in the words of the program', async () => {
  await atTheLog(async ({ box, page, context }) => {
    const refuse = (status, message, remedy) => context.route('**/api/**', (route) =>
      route.fulfill({ status, contentType: 'application/json', body: JSON.stringify({ problems: [{ file: '', line: null, field: '', value: '', allowed: '', remedy, message }] }) }));
    await refuse(401, 'this device has no access', 'enter the code');
    await page.reload();
    await press(page, 'Change');
    await logged(page, '5:00', '100');
    await says(page, /the program wants the access code; one kept here/);
    await page.getByText(/wants an access code from this device/).click();
    await page.getByLabel('Code').waitFor();
    await looked(page, 'floor-locked');
    await context.unroute('**/api/**');
    await refuse(507, 'the disc is full', 'make room');
    await says(page, /the program says: the disc is full; make room; one kept here/);
    await context.unroute('**/api/**');
    await until(async () => (await flights(box.server)).length === 1, 'the flight uploaded');
    await says(page, /^$/);
  });
});

test('flights of another workshop are counted, not listed and not sent, until they are brought over', async () => {
  await atTheLog(async ({ box, page }) => {
    await logged(page, '5:00', '100');
    await until(async () => (await flights(box.server)).length === 1, 'the first uploaded');
    await box.server.stop();
    await logged(page, '6:30', '90');
    box.server = await at(box, 'other.sqlite');
    await page.getByRole('link', { name: 'Flights' }).click();
    await page.getByText('1 flight of another workshop waits here until that one is open again; 1 more is kept there.').waitFor();
    await page.getByText('No flight yet.').waitFor();
    await looked(page, 'floor-other-workshop');
    assert.deepEqual(await times(box.server), []);
    await press(page, 'Bring it over to this workshop');
    await until(async () => (await flights(box.server)).length === 1, 'it brought over');
    assert.deepEqual(await times(box.server), [390]);
    // The first one is there again with its own workshop.
    await box.server.stop();
    box.server = await at(box, 'workshop.sqlite');
    await page.getByText('1 flight here', { exact: true }).waitFor();
    assert.deepEqual(await times(box.server), [300]);
  });
});

// A log taken in by mistake is taken back with one press, on every device; what was changed since stays.
import assert from 'node:assert/strict';
import { writeFileSync } from 'node:fs';
import { after, before, test } from 'node:test';
import { join } from 'node:path';
import { flights, looked, press } from './floor_steps.mjs';
import { becomes, desktop, freshFolder, newPage, phone, startBrowser, startServer, until } from './harness.mjs';

let browser;
before(async () => (browser = await startBrowser()));
after(async () => browser?.close());

const count = (server, number) => until(async () => (await flights(server)).length === number, `${number} flights in the workshop`);
const listed = (page, number) => page.getByText(new RegExp(`^${number} flights? here$`)).first().waitFor();

async function take_in(page, path, number) {
  await press(page, 'Take in a file');
  await page.getByLabel('File, CSV or JSON').setInputFiles(path);
  await press(page, `Take in ${number}`);
  await page.getByText(new RegExp(`^${number} taken in\\.`)).waitFor();
}

test('an import is taken back with one press, here and on another device, and can come again', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const own = { id: 'f-own', time: '2026-11-20T19:00:00', propeller: 'P14', duration_s: 500 };
    await fetch(`${server.address}/api/flights/merge`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ flights: [{ flight: own }] }) });
    const path = join(folder, 'old.csv');
    writeFileSync(path, `time,propeller,duration_s\n${Array.from({ length: 31 }, (_, at) => `2026-10-${String(at + 1).padStart(2, '0')}T10:00,P9,${300 + at}`).join('\n')}\n`);
    const { page, context, complaints } = await newPage(browser, server.address, { viewport: phone, scheme: 'dark', ignore: [/ERR_/, /Failed to load resource/] });
    await page.clock.install({ time: '2026-11-21T20:00:00' });
    await page.goto(`${server.address}/floor?part=flights`);
    await listed(page, 1);
    await take_in(page, path, 31);
    await looked(page, 'floor-import-taken-in');
    await count(server, 32);
    // Another device has read them meanwhile.
    const other = await newPage(browser, server.address, { viewport: desktop });
    await other.page.clock.install({ time: '2026-11-21T20:00:00' });
    await other.page.goto(`${server.address}/floor?part=flights`);
    await listed(other.page, 32);

    // One of them is corrected: it stays. The rest goes with one press, also after a reload.
    const { flight, revision } = (await flights(server)).find(({ flight }) => flight.duration_s === 330);
    await fetch(`${server.address}/api/flights/merge`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ flights: [{ flight: { ...flight, notes: 'calm' }, base: revision }] }) });
    await page.reload();
    await listed(page, 32);
    await page.getByText('old.csv, taken in on 2026-11-21 20:0').waitFor();
    await looked(page, 'floor-import');
    await press(page, 'Take back all its 31 flights');
    await page.getByText('30 flights of old.csv are taken back; take the file in again to have them here. 1 flight was changed since and stays.').waitFor();
    await looked(page, 'floor-import-back');
    await listed(page, 2);
    await becomes(async () => (await flights(server)).map(({ flight }) => [flight.propeller, flight.duration_s]).sort(), [['P14', 500], ['P9', 330]], 'the flights that stay');
    await other.page.reload();
    await listed(other.page, 2);
    assert.deepEqual(other.complaints, []);
    await other.context.close();

    // The file comes again as if it were new, but for the one that stayed.
    await press(page, 'Take in a file');
    await page.getByLabel('File, CSV or JSON').setInputFiles(path);
    await press(page, 'Take in 31');
    await page.getByText(/^30 taken in\./).waitFor();
    await count(server, 32);
    // Taken back again where it was taken in.
    await page.getByRole('dialog').getByRole('button', { name: 'Take back all its 30 flights' }).click();
    await page.getByText('30 flights of old.csv are taken back; take the file in again to have them here.').first().waitFor();
    await count(server, 2);
    await press(page, 'Close');

    // Without the program it says that they are still there, and goes on when it is back.
    await take_in_again(page, path);
    await count(server, 32);
    await page.route('**/api/flights/withdraw', (route) => route.abort());
    await press(page, 'Take back all its 30 flights');
    await page.getByText('The program does not answer: 30 flights of old.csv are still in the workshop. Press again when it runs.').waitFor();
    await page.unroute('**/api/flights/withdraw');
    await press(page, 'Take back all its 30 flights');
    await count(server, 2);
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

async function take_in_again(page, path) {
  await press(page, 'Take in a file');
  await page.getByLabel('File, CSV or JSON').setInputFiles(path);
  await press(page, 'Take in 31');
  await page.getByText(/^30 taken in\./).waitFor();
  await press(page, 'Close');
}

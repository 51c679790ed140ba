// How flights come back from a hall: by the codes a saved page shows, read as photos or by the camera; and the Floor
// that loads again without the program, on its own machine and over HTTPS.
import assert from 'node:assert/strict';
import { readFileSync, writeFileSync } from 'node:fs';
import { after, before, test } from 'node:test';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { flights, logged, looked, press, type } from './floor_steps.mjs';
import { becomes, desktop, freshFolder, newPage, phone, picture, root, startBrowser, startServer, until } from './harness.mjs';

const { encode } = await import(pathToFileURL(join(root, 'web', 'node_modules', 'uqr', 'dist', 'index.mjs')).href);
let browser;
before(async () => (browser = await startBrowser(['--ignore-certificate-errors'])));
after(async () => browser?.close());

/** The page as one file, opened from disk, with twelve flights logged in it; its codes as JPEG, one by one. */
async function codesOfASavedPage(server, page, folder) {
  await page.goto(`${server.address}/floor?part=flights`);
  const coming = page.waitForEvent('download');
  await press(page, 'Take this page to the hall');
  const file = join(folder, 'propwright-floor.html');
  await (await coming).saveAs(file);
  const saved = await newPage(browser, 'file://', { viewport: phone, touch: true });
  // One evening: the visit goes from flight to flight within a day only.
  await saved.page.clock.install({ time: '2026-11-21T20:00:00' });
  await saved.page.goto(pathToFileURL(file).href);
  await press(saved.page, 'Propeller, motor, winding, air');
  for (const [label, text] of [['propeller', 'P14'], ['motor', '23'], ['session', 'Millbrook, 21 Nov'], ['turns wound', '1960'], ['turns backed off', '170']]) await type(saved.page, label, text);
  for (let at = 0; at < 12; ++at) await logged(saved.page, `12:${10 + at}.5`, String(240 + at));
  await saved.page.getByRole('link', { name: 'Flights' }).click();
  await press(saved.page, 'Show as codes');
  const code = saved.page.getByRole('img', { name: /^Code \d+ of \d+$/ });
  await code.waitFor();
  await looked(saved.page, 'floor-file-codes');
  const count = Number(/of (\d+)/.exec(await code.getAttribute('aria-label'))[1]);
  assert.ok(count >= 2 && count <= 12, `${count} codes for twelve flights`);
  const pictures = [], texts = [];
  for (let at = 1; at <= count; ++at) {
    await saved.page.getByRole('img', { name: `Code ${at} of ${count}` }).waitFor();
    const path = join(folder, `code-${at}.jpg`);
    await code.screenshot({ path, type: 'jpeg', quality: 80 });
    pictures.push(path);
    texts.push(await code.getAttribute('data-text'));
    await press(saved.page, 'Next');
  }
  assert.deepEqual(saved.complaints, []);
  await saved.context.close();
  return { pictures, texts };
}

/** A film as a camera takes it, grey on paler grey: each code for three seconds, so that a busy machine sees each one on its round. */
function filmOf(texts) {
  const [width, height] = [640, 480];
  const frames = texts.flatMap((text) => {
    const { data, size } = encode(text, { ecc: 'L', border: 4 });
    const scale = Math.floor(height / size), left = (width - scale * size) >> 1, top = (height - scale * size) >> 1;
    const frame = Buffer.alloc((width * height * 3) / 2, 128);
    frame.fill(200, 0, width * height);
    for (let y = 0; y < scale * size; ++y) for (let x = 0; x < scale * size; ++x) if (data[Math.floor(y / scale)][Math.floor(x / scale)]) frame[(top + y) * width + left + x] = 50;
    return Array.from({ length: 30 }, () => Buffer.concat([Buffer.from('FRAME\n'), frame]));
  });
  return Buffer.concat([Buffer.from(`YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420jpeg\n`), ...frames]);
}

test('flights come back by photos of codes and by the camera, each once', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const { page, context, complaints } = await newPage(browser, server.address, { viewport: desktop });
    await page.clock.install({ time: '2026-11-22T19:00:00' });
    const { pictures: codes, texts } = await codesOfASavedPage(server, page, folder);

    await press(page, 'Read codes');
    const dialog = page.getByRole('dialog');
    const read = (paths) => dialog.locator('input[type="file"]').setInputFiles(paths);
    await read(codes.slice(1));
    await dialog.getByText(/Still wanting: 1\./).waitFor();
    await read(codes);
    await dialog.getByText(/12 taken in\..*All of them are here\./).waitFor();
    await looked(page, 'floor-read-codes');
    writeFileSync(join(folder, 'bare.jpg'), readFileSync(codes[0]).subarray(0, 300));
    await read([join(folder, 'bare.jpg')]);
    await dialog.getByText(/No code was found in bare\.jpg/).waitFor();
    await press(page, 'Close');
    await until(async () => (await flights(server)).length === 12, 'twelve flights in the workshop');
    const [{ flight }] = await flights(server);
    assert.deepEqual([flight.propeller, flight.session, flight.turns_at_launch, flight.turns_left], ['P14', 'Millbrook, 21 Nov', 1790, 240]);

    // All again, by the camera: a film of the codes stands for it.
    const film = join(folder, 'codes.y4m');
    writeFileSync(film, filmOf(texts));
    const camera = await startBrowser(['--use-fake-ui-for-media-stream', '--use-fake-device-for-media-stream', `--use-file-for-fake-video-capture=${film}`]);
    try {
      const other = await newPage(camera, server.address, { viewport: desktop });
      await other.page.goto(`${server.address}/floor?part=flights`);
      await press(other.page, 'Read codes');
      await press(other.page, 'Use the camera');
      await other.page.getByText(/0 taken in\. 12 were here already\. All of them are here\./).waitFor({ timeout: 300_000 });
      assert.deepEqual(other.complaints, []);
    } finally {
      await camera.close();
    }
    assert.equal((await flights(server)).length, 12);

    // The card of today, in the scale of the day's meter too, and on paper.
    const meter = { name: 'Wire 3', section: { meter: { wire: { diameter: '0.33 mm', length: '100 mm' }, unit: 'deg', step: 1 } }, links: {} };
    const posted = await fetch(`${server.address}/api/meters`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(meter) });
    assert.equal(posted.status, 201);
    await page.goto(`${server.address}/floor?part=wind`);
    await page.getByText('Wind to, then stop').waitFor();
    await page.getByLabel('torque meter of the day').selectOption('Wire 3');
    await page.getByRole('columnheader', { name: 'deg' }).waitFor();
    await looked(page, 'floor-wind-meter');
    const coming = page.waitForEvent('download');
    await press(page, 'Letter');
    const card = join(folder, 'card.pdf');
    await (await coming).saveAs(card);
    assert.equal(readFileSync(card).subarray(0, 5).toString(), '%PDF-');
    // A flight of a new session opens it, with the meter.
    await page.getByRole('link', { name: 'Log', exact: true }).click();
    await press(page, 'Change');
    await type(page, 'session', 'Millbrook, 22 Nov');
    await logged(page, '12:40', '250');
    await until(async () => (await flights(server)).length === 13, 'the thirteenth flight');
    const { id } = await posted.json();
    const visits = async () => (await (await fetch(`${server.address}/api/sessions?sort=name`)).json()).items.map(({ name, links }) => [name, links.meter_id]);
    await becomes(visits, [['Millbrook, 21 Nov', undefined], ['Millbrook, 22 Nov', id]], 'the visits with their meter');
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

/** Loads the Floor, takes the program away, loads it again, logs a flight, and brings the program back. */
async function loadsAgainWithoutTheProgram(options, kept_flights) {
  const { folder, remove } = freshFolder();
  const workshop = join(folder, 'workshop.sqlite');
  let server = await startServer(workshop, [...options, '--examples']);
  try {
    const context = await browser.newContext({ viewport: phone, colorScheme: 'dark', reducedMotion: 'reduce', ignoreHTTPSErrors: true });
    const page = await context.newPage();
    const errors = [];
    page.on('pageerror', (error) => errors.push(error.message));
    await page.goto(`${server.address}/floor?part=flights`);
    await page.getByText('This browser keeps the page: it loads again without the program.').waitFor();
    await page.evaluate(async () => (await navigator.serviceWorker.ready).active.state);
    await until(() => page.evaluate(async () => (await caches.keys()).length === 1), 'the pages kept');
    const [cache] = await page.evaluate(() => caches.keys());
    assert.match(cache, /^propwright-pages-[0-9a-f]{16}$/, 'the version stands in the name of the cache');
    // An older version of the pages is not handed out any more.
    await page.evaluate(async () => (await caches.open('propwright-pages-0000000000000000')).put('/index.html', new Response('old')));
    await page.evaluate(async () => {
      const registration = await navigator.serviceWorker.ready;
      await registration.unregister();
    });
    await page.reload();
    await page.getByText('This browser keeps the page: it loads again without the program.').waitFor();
    await until(() => page.evaluate(async () => (await caches.keys()).join() !== '' && !(await caches.keys()).includes('propwright-pages-0000000000000000')), 'the old pages thrown away');
    await until(() => page.evaluate(() => navigator.serviceWorker.controller !== null), 'the worker in charge');

    await server.stop();
    await page.reload();
    await page.getByRole('link', { name: 'Log', exact: true }).click();
    await page.getByRole('button', { name: 'Launch' }).waitFor();
    await press(page, 'Propeller, motor, winding, air');
    await type(page, 'propeller', 'P14');
    await logged(page, '12:20', '250');
    await page.getByText('offline, one kept here').waitFor();
    await picture(page, `floor-offline-${options.includes('--tls') ? 'tls' : 'localhost'}`);
    await page.reload();
    await page.getByText('offline, one kept here').waitFor();

    server = await startServer(workshop, [...options, '--port', new URL(server.address).port]);
    await until(async () => !/kept here/.test(await page.locator('.state').innerText()), 'the flight uploaded');
    await until(async () => (await kept_flights(server, page)) === 1, 'the flight in the workshop');
    // The program is there again: what it hands out goes before what was kept.
    await page.evaluate(async (name) => (await caches.open(name)).put('/index.html', new Response('<p>stale</p>', { headers: { 'Content-Type': 'text/html' } })), cache);
    await page.reload();
    await page.getByRole('button', { name: 'Launch' }).waitFor();
    assert.deepEqual(errors, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
}

test("on the program's own machine the Floor loads again without it", () =>
  loadsAgainWithoutTheProgram([], async (server) => (await flights(server)).length));

test('over HTTPS the Floor loads again without the program', () =>
  loadsAgainWithoutTheProgram(['--tls'], (_, page) => page.evaluate(async () => (await (await fetch('/api/flights')).json()).total)));

// The Wind part of the Floor: for whom the card is, what goes with a motor that is hooked up or that broke, bad
// readings, units.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { after, before, test } from 'node:test';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { flights, looked, press, type } from './floor_steps.mjs';
import { becomes, desktop, fieldOf, freshFolder, holds, newPage, phone, startBrowser, startServer, until } from './harness.mjs';

let browser;
before(async () => (browser = await startBrowser()));
after(async () => browser?.close());

/** A workshop with the examples, the program on it, and a page at Wind. */
async function atWind(look, options, logged = []) {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    if (logged.length > 0) {
      const sent = await fetch(`${server.address}/api/flights/merge`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ flights: logged.map((flight) => ({ flight })) }) });
      assert.equal(sent.status, 200);
    }
    const { page, context, complaints } = await newPage(browser, server.address, options);
    await page.clock.install({ time: '2026-11-22T19:00:00' });
    await page.goto(`${server.address}/floor?part=wind`);
    await page.getByLabel('design that flies').waitFor();
    await look({ page, server, folder });
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
}

const stops = (page, turns) => page.locator('.figure .big').getByText(turns, { exact: true }).waitFor();
const says = (page, text) => page.getByText(text).first().waitFor();
const chosen = (page) => page.getByLabel('design that flies').evaluate((select) => select.selectedOptions[0].textContent);
const disabled = (page, name) => until(() => page.getByRole('button', { name }).isDisabled(), `${name} not to be pressed`);
/** The card that stands here is the answer to what is entered. */
const answered = (page) => until(async () => (await page.locator('.wind .card:not(.old)').count()) === 1, 'the card of what is entered');
/** Does what has the card worked out anew, and waits for the answer to a question as `fits` wants it. */
async function asked(page, work, fits) {
  const coming = page.waitForResponse((response) => response.url().endsWith('/api/wind') && response.ok() && fits(response.request().postDataJSON()));
  await work();
  await coming;
  await answered(page);
}
const refused = { ignore: [/Failed to load resource/] };

test('the card is for the propeller that the log names, or says that it is not; who flies is hooked up with it', () =>
  atWind(async ({ page, server, folder }) => {
    await page.getByText('mm', { exact: true }).click();
    // The newest design of the workshop is another one: its motor takes 2052 turns, this one breaks before.
    await says(page, 'for L46-A on Lantern 46');
    await stops(page, '1820');
    await becomes(() => chosen(page), 'L46-A: Lantern 46', 'the design of the propeller chosen');
    await says(page, /Card of Lantern 46, version 1: propeller L46-A, motor of box 7, 2 strands, loop 368.mm, 1\.49.g\./);
    await says(page, 'The workshop has no motor box 7 no. 1: see that it is cut as this card\'s.');
    await looked(page, 'wind-for-whom');

    // The file for the hall has the same card.
    await page.getByRole('link', { name: 'Flights' }).click();
    const coming = page.waitForEvent('download');
    await press(page, 'Take this page to the hall');
    const file = join(folder, 'propwright-floor.html');
    await (await coming).saveAs(file);
    const saved = await newPage(browser, 'file://', { viewport: phone, scheme: 'dark' });
    await saved.page.goto(`${pathToFileURL(file).href}#wind`);
    await says(saved.page, 'for L46-A on Lantern 46');
    await type(saved.page, 'temperature', '200');
    await says(saved.page, /Allowed: .*°C to .*°C/);
    await looked(saved.page, 'wind-file');
    assert.ok(readFileSync(file).length < 400_000, 'the file stays small');
    assert.deepEqual(saved.complaints, []);
    await saved.context.close();

    // Another design is chosen: the flight in hand is its propeller's.
    await page.getByRole('link', { name: 'Wind' }).click();
    await page.getByLabel('design that flies').selectOption({ label: await page.getByLabel('design that flies').locator('option', { hasText: 'S16' }).innerText() });
    await says(page, 'for S16 on Sparrow 16');
    await stops(page, '2052');
    await page.getByLabel('design that flies').selectOption({ label: await page.getByLabel('design that flies').locator('option', { hasText: 'L46-A' }).innerText() });
    await says(page, 'for L46-A on Lantern 46');
    await stops(page, '1820');

    // A propeller without a design keeps its name off the card.
    await page.getByRole('link', { name: 'Log', exact: true }).click();
    await press(page, 'Change');
    await type(page, 'propeller', 'P14');
    await page.getByRole('link', { name: 'Wind' }).click();
    await says(page, 'This card is not for P14.');
    await looked(page, 'wind-stranger');
    await press(page, 'P14 flies with this card');
    await says(page, 'P14 flies with this card, as you chose.');
    await page.getByRole('link', { name: 'Log', exact: true }).click();
    await press(page, 'Change');
    await type(page, 'propeller', '');
    await page.getByRole('link', { name: 'Wind' }).click();
    await says(page, 'for L46-A on Lantern 46');
    await press(page, 'Hooked up');
    await page.getByRole('heading', { name: /L46-A, motor box 7 no\. 1/ }).waitFor();
    await press(page, 'Change');
    // The card's torques were read by nobody: hints in the empty fields.
    for (const [label, hint] of [['torque wound to', '4.78'], ['torque at launch', '1.57']]) {
      await until(async () => (await fieldOf(page, label).getAttribute('placeholder')) === hint, `the hint of ${label}`);
      assert.equal(await fieldOf(page, label).inputValue(), '');
    }
    await type(page, 'time by another watch', '9:20');
    await type(page, /^turns left/, '600');
    await page.getByRole('button', { name: /^Keep/ }).first().click();
    await until(async () => (await flights(server)).length === 2, 'the flight in the workshop');
    const { flight } = (await flights(server)).find(({ flight: { duration_s } }) => duration_s === 560);
    assert.deepEqual([flight.propeller, flight.motor, flight.model, flight.batch, flight.turns_wound], ['L46-A', 'box 7 no. 1', 'Lantern 46', 'box 7', 1820]);
    assert.deepEqual([flight.torque_wound_Nm, flight.launch_torque_Nm], [undefined, undefined], 'no torque that nobody read');
  }, { viewport: phone, scheme: 'dark' }, [{ id: 'f-first', time: '2026-11-21T14:05:00', propeller: 'L46-A', motor: 'box 7 no. 1', model: 'Lantern 46', duration_s: 540, turns_left: 600 }]));

test('a motor that broke is asked for its turns, kept once, and can be taken back', () =>
  atWind(async ({ page, server }) => {
    await stops(page, '2052');
    await type(page, 'winder, turns of the hook per crank turn', '10');
    await stops(page, '205');
    await says(page, '10 : 1, = 2050 turns of the motor');
    await type(page, 'motor on the winder', 'no. 3');
    await press(page, 'It broke');
    const turns = page.getByLabel('winder turns when it broke', { exact: true }).and(page.locator('input'));
    await until(async () => (await turns.inputValue()) === '205', 'the planned turns');
    await looked(page, 'wind-broke');
    await type(page, 'winder turns when it broke', '188');
    // The page's clock stands still: the second press comes within 0.6 s, Undo within half a minute.
    await page.clock.pauseAt('2026-11-22T20:00:00');
    await page.getByRole('button', { name: 'Keep the break' }).dblclick();
    await says(page, /Kept: motor no\. 3( of [a-z0-9 ]+)? broke, 188.winder turns \(1880 of the motor\)\./);
    await holds(page, 'motor on the winder', '');
    await press(page, 'Undo');
    await says(page, 'Taken back: nothing broke.');
    await holds(page, 'motor on the winder', 'no. 3');
    assert.equal((await flights(server)).length, 0, 'a break that is held is not sent');
    await page.clock.fastForward('00:02');
    await press(page, 'It broke');
    await press(page, 'Turns unknown');
    await says(page, /Kept: motor no\. 3( of [a-z0-9 ]+)? broke, turns unknown\./);
    await press(page, 'Undo');
    await says(page, 'Taken back: nothing broke.');
    await page.clock.fastForward('00:02');
    await press(page, 'It broke');
    await type(page, 'winder turns when it broke', '188');
    await press(page, 'Keep the break');
    await says(page, /Kept: motor no\. 3( of [a-z0-9 ]+)? broke/);
    await page.clock.fastForward('00:40');
    await page.clock.resume();
    await until(async () => (await flights(server)).length === 1, 'the break in the workshop');
    const [{ flight }] = await flights(server);
    assert.deepEqual([flight.motor, flight.turns_wound, flight.flag, flight.reason, flight.propeller, flight.launch_torque_Nm], ['no. 3', 1880, 'aborted', 'motor broke while winding', undefined, undefined]);
    await page.getByRole('button', { name: 'Undo' }).waitFor({ state: 'detached' });
    await page.reload();
    await stops(page, '205');
    // The next flight does not name the broken motor.
    await holds(page, 'motor on the winder', '');
    await page.getByRole('link', { name: 'Flights' }).click();
    await says(page, 'Motor no. 3 broke');
  }, { viewport: phone, scheme: 'light' }));

test('a reading that cannot be is told at its field, and the card of before is called old', () =>
  atWind(async ({ page }) => {
    await stops(page, '2052');
    const at = (name) => page.locator('.field', { has: page.getByLabel(name, { exact: true }) });
    await type(page, 'temperature', '400');
    await at('temperature').getByText(/Allowed: .4.°F to 122.°F\./).waitFor();
    await says(page, /Old card, of \d\d:\d\d\./);
    await disabled(page, 'Hooked up');
    await type(page, 'humidity', '150');
    await at('humidity').getByText(/Allowed: 0.% to 100.%\./).waitFor();
    await type(page, 'roof', '-2');
    await at('roof').getByText(/Allowed: /).waitFor();
    await type(page, 'winder, turns of the hook per crank turn', '0');
    await at('winder, turns of the hook per crank turn').getByText('Allowed: 0.1 to 100.').waitFor();
    await looked(page, 'wind-bad');
    for (const [name, text] of [['temperature', '50'], ['humidity', ''], ['roof', ''], ['winder, turns of the hook per crank turn', '1']]) await type(page, name, text);
    await says(page, /Temperature 50.°F, not 68.°F/);
    await page.getByText(/Old card/).waitFor({ state: 'detached' });
    await page.getByText(/Allowed/).waitFor({ state: 'detached' });
    await until(() => page.getByRole('button', { name: 'Hooked up' }).isEnabled(), 'Hooked up to be pressed again');

    // What the program says beside its answer, in the unit of the profile.
    await says(page, /the temperature effect is carried beyond where it was read/);
    await says(page, /is the default guess, not a measured one/);
    await says(page, /Launch torque 0\.004.in-oz less than on the sheet: at the same turns the colder rubber gives/);
    await page.getByRole('table', { name: 'Against the sheet' }).waitFor();
    await says(page, /loop 16\.00.in/);
    await looked(page, 'wind-inch');
    await answered(page);
    const words = await page.locator('.say').innerText();
    assert.match(words, /in-oz/);
    assert.doesNotMatch(words, /mN·m|g·cm/);
  }, { viewport: phone, scheme: 'light', ...refused }));

test('what is typed in one unit is no change in another, nor are units a change of the design', () =>
  atWind(async ({ page, server }) => {
    await page.getByText('mm', { exact: true }).click();
    await until(() => page.evaluate(() => JSON.parse(localStorage.getItem('propwright-floor-setup') ?? '{}').profile === 'metric'), 'metric units');
    await stops(page, '2052');
    await asked(page, () => type(page, 'roof', '6.4'), ({ today }) => today.roof === '6.4 m');
    await says(page, /^As on the sheet: back off/);
    await asked(page, () => page.getByText('inch', { exact: true }).click(), ({ today }) => today.roof?.endsWith(' ft'));
    await holds(page, 'roof', '21');
    await says(page, /^As on the sheet: back off.*in-oz/);
    await asked(page, () => type(page, 'temperature', '68'), ({ today }) => today.temperature === '68 degF');
    await says(page, /^As on the sheet: back off.*in-oz/);
    await looked(page, 'wind-units');
    await page.goto(`${server.address}/brief`);
    for (const [unit, roof] of [['mm', '6.4'], ['inch', '21']]) {
      await page.getByText(unit, { exact: true }).click();
      await until(async () => Number(await fieldOf(page, 'Roof').inputValue()) === Number(roof), `the roof of the sheet with ${unit}`);
      await page.getByText(/version 1$/).first().waitFor();
      assert.equal(await page.getByText('not saved').count(), 0);
    }
  }, { viewport: desktop, scheme: 'light' }));

test('a motor of the workshop that is cut otherwise is told, and what the card has from flights', () =>
  atWind(async ({ page, server }) => {
    const post = async (path, body) => assert.equal((await fetch(`${server.address}${path}`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) })).status, 201);
    const { document } = (await (await fetch(`${server.address}/api/examples`)).json()).find(({ id }) => id === 'lantern46');
    await post('/api/motors', { name: 'box 9 no. 2', section: { motor: { strip_width: '2.05 mm', strands: 2, loop_length: '340 mm' } }, links: {} });
    await post('/api/designs', { name: 'Lantern taught', document: { ...document, job: { ...document.job, learned: { airframe_drag: 1.06 } } }, note: '' });
    await page.reload();
    await page.getByLabel('design that flies').waitFor();
    await page.getByText('mm', { exact: true }).click();
    await type(page, 'motor on the winder', 'box 9 no. 2');
    await page.getByLabel('design that flies').selectOption({ label: 'L46-A: Lantern taught' });
    await says(page, 'for L46-A on Lantern 46');
    await says(page, /Card of Lantern taught, version 1/);
    await says(page, /Motor box 9 no\. 2 is not the design's: loop 340.*, the design's 368/);
    await says(page, /^As on the sheet with what flights taught: back off/);
    await says(page, 'Uses what flights taught: drag of the model.');
    await looked(page, 'wind-taught');

    // A flight in the air has its own motor: one that breaks meanwhile takes nothing from it.
    await press(page, 'Hooked up');
    await press(page, 'Launch');
    await page.getByRole('link', { name: 'Wind' }).click();
    await says(page, /A flight is in hand on Log/);
    await disabled(page, 'Hooked up');
    await press(page, 'It broke');
    await press(page, 'Keep the break');
    await says(page, /Kept: a motor of box 7 broke, 1\d\d\d.turns\./);
    await page.getByRole('link', { name: 'Log', exact: true }).click();
    await page.getByRole('heading', { name: /L46-A, motor box 9 no\. 2/ }).waitFor();
  }, { viewport: phone, scheme: 'dark' }));

test('readings are those of the meter of the day, or not shown: also while the program is slow or away', () =>
  atWind(async ({ page, server, folder }) => {
    for (const [name, diameter] of [['thin', '0.33 mm'], ['thick', '0.40 mm']]) {
      const body = { name, section: { meter: { wire: { diameter, length: '100 mm' }, unit: 'deg', step: 1 } }, links: {} };
      assert.equal((await fetch(`${server.address}/api/meters`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) })).status, 201);
    }
    await page.reload();
    const meter = page.getByLabel('torque meter of the day');
    const stop_row = () => page.locator('tr.stop').innerText();
    const read_on = async (tab, name) => {
      await says(tab, `Readings in deg are those of the torque meter ${name}.`);
      await tab.getByRole('columnheader', { name: 'deg', exact: true }).waitFor();
    };
    const not_read = async (from, to) => {
      await says(page, `Readings of the torque meter ${from} are not shown${to}. Torques in`);
      assert.equal(await page.getByRole('columnheader', { name: 'deg', exact: true }).count(), 0);
    };
    await meter.selectOption('thin');
    await read_on(page, 'thin');
    await answered(page);
    const thin = await stop_row();

    // The answer for the other meter is on its way: nobody winds to the readings of the first.
    let release;
    const held = new Promise((resolve) => (release = resolve));
    await page.route('**/api/wind', async (route) => {
      await held;
      await route.continue();
    });
    await meter.selectOption('thick');
    await not_read('thin', ': thick is the meter of the day');
    release();
    await read_on(page, 'thick');
    await answered(page);
    await page.unroute('**/api/wind');
    const thick = await stop_row();
    assert.notEqual(thick, thin);

    // The file for the hall has the meter with the card.
    await page.getByRole('link', { name: 'Flights' }).click();
    const coming = page.waitForEvent('download');
    await press(page, 'Take this page to the hall');
    const file = join(folder, 'propwright-floor.html');
    await (await coming).saveAs(file);
    const saved = await newPage(browser, 'file://', { viewport: phone });
    await saved.page.clock.install({ time: '2026-11-22T20:00:00' });
    await saved.page.goto(`${pathToFileURL(file).href}#wind`);
    await read_on(saved.page, 'thick');
    assert.equal(await saved.page.getByText(/Old card/).count(), 0);
    assert.deepEqual(saved.complaints, []);
    await saved.context.close();

    await page.getByRole('link', { name: 'Wind' }).click();
    await read_on(page, 'thick');
    await server.stop();
    await meter.selectOption('thin');
    await says(page, /Old card, of \d\d:\d\d\. The program does not answer: only the readings of the meter are wanting\./);
    await not_read('thick', ': thin is the meter of the day');
    await looked(page, 'wind-other-meter');
    await meter.selectOption({ label: "none of the workshop's" });
    await not_read('thick', '');
    await meter.selectOption('thick');
    await read_on(page, 'thick');
    await page.getByText(/Old card/).waitFor({ state: 'detached' });
    assert.equal(await stop_row(), thick);
  }, { viewport: phone, scheme: 'light', ignore: [/ERR_/, /Failed to load resource/] }));

// What a builder types on the Floor is what is kept: a flight laid aside while another is put right, undo and redo in the
// air, names that bring their own data, entries of two meanings, an old log read twice, and the way by keyboard.
import assert from 'node:assert/strict';
import { writeFileSync } from 'node:fs';
import { after, before, test } from 'node:test';
import { join } from 'node:path';
import { flights, logged, looked, press, type } from './floor_steps.mjs';
import { fieldOf, freshFolder, newPage, phone, startBrowser, startServer, until } from './harness.mjs';

let browser;
before(async () => (browser = await startBrowser()));
after(async () => browser?.close());

/** A fresh workshop with a phone at one of the parts, at eight in the evening of 21 November. */
async function onTheFloor(work, address = '/floor', flown = []) {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    if (flown.length > 0) await fetch(`${server.address}/api/flights/merge`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ flights: flown.map((flight) => ({ flight })) }) });
    const { page, context, complaints } = await newPage(browser, server.address, { viewport: phone, touch: true });
    await page.clock.install({ time: '2026-11-21T20:00:00' });
    await page.goto(`${server.address}${address}`);
    await page.getByText('mm', { exact: true }).click();
    await until(() => page.evaluate(() => JSON.parse(localStorage.getItem('propwright-floor-setup') ?? '{}').profile === 'metric'), 'metric units');
    await work({ page, server, folder });
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
}

const kept = async (server) => (await flights(server)).map(({ flight }) => flight);
const label = (page, words) => until(async () => (await page.locator('p.label').first().innerText()) === words, `the Log ${words}`);
const watch = async (page) => (await page.locator('.watch').innerText()).replace(/\s+/g, '');
const head = (page, name) => page.getByRole('heading', { name }).waitFor();
const part = (page, name) => page.getByRole('link', { name, exact: true }).click();

test('a flight in the air outlasts the correction of another, and undo takes nothing away for good', async () => {
  await onTheFloor(async ({ page, server }) => {
    await press(page, 'Propeller, motor, winding, air');
    await type(page, 'propeller', 'A');
    await logged(page, '5:00', '100');
    await page.clock.fastForward('00:10');
    await press(page, 'Done');
    await press(page, 'Launch');
    await page.clock.fastForward('03:00');
    await part(page, 'Flights');
    await page.getByRole('button', { name: /^Correct flight/ }).first().click();
    await head(page, /^Flight 1/);
    await page.getByText(/^Flight 2 is in the air, 3:0/).waitFor();
    await looked(page, 'entry-laid-aside');
    await page.getByRole('button', { name: 'touches + 1' }).click();
    // A second correction does not throw the first away.
    await part(page, 'Flights');
    await page.getByRole('button', { name: /^Correct flight/ }).first().click();
    await page.getByRole('button', { name: /^Keep flight 1/ }).click();
    await label(page, 'flying');
    await until(async () => (await watch(page)).startsWith('3:0'), 'the watch going on');
    await until(async () => (await kept(server)).some(({ touches, duration_s }) => touches === 1 && duration_s === 300), 'the correction kept');

    // Undone by mistake in the air, the launch comes back with its time; so does what was counted.
    await page.getByRole('button', { name: 'touches + 1' }).click();
    await press(page, 'Undo');
    await label(page, 'flying');
    await press(page, 'Redo');
    await page.clock.fastForward('01:00');
    await part(page, 'Flights');
    await page.getByRole('button', { name: /^Correct flight/ }).first().click();
    await press(page, 'Back to it');
    await label(page, 'flying');
    await press(page, 'Landed');
    await page.clock.fastForward('00:05');
    await page.getByRole('button', { name: 'Keep flight 2', exact: true }).click();
    await page.getByText(/^Flight 2 kept/).waitFor();

    await page.clock.fastForward('00:05');
    await press(page, 'Launch');
    await page.clock.fastForward('00:30');
    await press(page, 'Undo');
    await page.getByText(/The launch is taken back\. If the model is in the air, press Redo/).waitFor();
    await label(page, 'ready');
    await press(page, 'Redo');
    await label(page, 'flying');
    await until(async () => (await watch(page)).startsWith('0:3'), 'the watch of the launch');
    await press(page, 'Undo');
    await label(page, 'ready');

    // What was entered for the next flight is laid aside when Undo brings the last one back, also after a reload.
    await press(page, 'Change');
    await type(page, 'propeller', 'B');
    await type(page, 'turns wound', '1800');
    await page.reload();
    await page.getByRole('button', { name: 'Launch' }).waitFor();
    await press(page, 'Undo');
    await head(page, /^Flight 2/);
    await page.getByText('What was entered for flight 3 is laid aside and comes back.').waitFor();
    await press(page, 'Leave it as it was');
    await head(page, /^Flight 3 B/);
    await press(page, 'Change');
    await until(async () => (await fieldOf(page, 'turns wound').inputValue()) === '1800', 'the turns entered before');
  });
});

test('a name that is typed brings its own data, a scroll is no top, and the focus stays at the button', async () => {
  const flown = [{ id: 'a', time: '2026-11-20T10:00:00', propeller: 'A', setting: '24°', ballast_kg: 0.00002, motor: '1', batch: 'b7', motor_mass_kg: 0.00147, motor_length_m: 0.368, duration_s: 500, motor_part: 0.5, spacer_mass_kg: 0.0007, flag: 'steered', top_height_m: 7.34568, roof_m: 8.5344, turns_at_launch: 1500 }];
  await onTheFloor(async ({ page, server }) => {
    await press(page, 'Change');
    await type(page, 'motor', '2');
    await type(page, 'propeller', 'B');
    await press(page, 'Done');
    const active = () => page.evaluate(() => document.activeElement?.textContent ?? '');
    await page.getByRole('button', { name: 'Launch' }).focus();
    await page.keyboard.press('Enter');
    await until(async () => (await active()) === 'Landed', 'the focus at Landed');
    await page.clock.fastForward('05:00');

    const slider = page.getByRole('slider', { name: 'Top height, share of the roof' });
    await slider.scrollIntoViewIfNeeded();
    const box = await slider.boundingBox();
    await page.mouse.move(box.x + 60, box.y + 120);
    await page.mouse.down();
    await page.mouse.move(box.x + 60, box.y + 60, { steps: 5 });
    await page.mouse.up();
    assert.equal(await slider.getAttribute('aria-valuetext'), 'not seen');
    await page.mouse.click(box.x + 60, box.y + 100);
    await until(async () => /%$/.test((await slider.getAttribute('aria-valuetext')) ?? ''), 'a top where it was tapped');

    await page.getByRole('button', { name: 'Landed' }).focus();
    await page.keyboard.press('Enter');
    await until(async () => (await active()).startsWith('Keep flight 1'), 'the focus at Keep');
    await page.clock.fastForward('00:05');
    await page.keyboard.press('Enter');
    await until(async () => (await active()) === 'Launch', 'the focus at Launch');
    await until(async () => (await flights(server)).length === 2, 'the flight in the workshop');
    const b = (await kept(server)).find(({ propeller }) => propeller === 'B');
    assert.deepEqual([b.motor, b.setting, b.ballast_kg, b.batch, b.motor_mass_kg, b.motor_length_m, b.motor_part, b.spacer_mass_kg], ['2', ...Array(7).fill(undefined)]);

    // A flight of another hand is put right in one thing and falsified in none.
    await part(page, 'Flights');
    await page.getByRole('button', { name: /^Correct flight of 2026-11-20/ }).click();
    await page.getByText('Steered, nobody counted how often', { exact: false }).waitFor();
    await page.getByPlaceholder('Note').fill('from the old book');
    await page.getByPlaceholder('Note').press('Tab');
    await page.getByRole('button', { name: /^Keep flight 1/ }).click();
    await until(async () => (await kept(server)).some(({ notes }) => notes === 'from the old book'), 'the note kept');
    assert.deepEqual((await kept(server)).find(({ id }) => id === 'a'), { ...flown[0], notes: 'from the old book' });
  }, '/floor', flown);
});

test('times and dates of two meanings are asked, and turns of the crank where those of the motor belong', async () => {
  await onTheFloor(async ({ page, server }) => {
    await type(page, 'winder, turns of the hook per crank turn', '7.5 : 1');
    await until(() => page.evaluate(() => JSON.parse(localStorage.getItem('propwright-floor-setup')).winder_ratio === 7.5), 'the ratio taken');
    await type(page, 'winder, turns of the hook per crank turn', '0');
    await page.getByText(/the card goes on with 7\.5 : 1/).waitFor();
    await part(page, 'Log');
    await press(page, 'Propeller, motor, winding, air');
    for (const [name, text] of [['propeller', 'A'], ['motor', '1'], ['turns wound, of the motor', '243']]) await type(page, name, text);
    await page.getByText(/243 looks like turns of the winder\. At 7\.5 : 1 that is 1\D?823 of the motor\./).waitFor();
    await looked(page, 'entry-crank-turns');
    await page.getByRole('button', { name: /^Take 1\D?823$/ }).click();
    await until(async () => (await fieldOf(page, 'turns wound, of the motor').inputValue()) === '1823', 'turns of the motor');
    await type(page, 'time by another watch', '12.48');
    await page.getByText('12.48 can be read in two ways. Kept so, it is unknown.').waitFor();
    await press(page, 'It is 12:48');
    await until(async () => (await watch(page)) === '12:48.0', 'minutes and seconds');
    await page.getByRole('button', { name: 'Keep flight 1', exact: true }).click();
    await page.getByText(/^Flight 1 kept/).waitFor();

    await press(page, 'Undo');
    await type(page, 'date and time of launch', '11/02/2026 19:30');
    await page.getByText('11/02/2026 19:30 can be read in two ways. Kept so, it is unknown.').waitFor();
    await looked(page, 'entry-two-dates');
    await page.getByRole('button', { name: /^It is 2\sNovember 2026, 19:30$/ }).click();
    await page.getByText(/^2\sNovember 2026, 19:30$/).waitFor();
    await type(page, 'date and time of launch', '2027-11-02');
    await page.getByText(/^2\sNovember 2027 is still to come/).waitFor();
    await type(page, 'date and time of launch', '2026-11-02 19:30');
    await page.getByRole('button', { name: /^Keep flight/ }).click();
    await until(async () => (await kept(server)).some(({ time, duration_s, turns_wound }) => time === '2026-11-02T19:30' && duration_s === 768 && turns_wound === 1823), 'the flight of that day');
  }, '/floor?part=wind');
});

test('an old log read twice is corrected, not doubled; remarks, ratio and days to come are told', async () => {
  await onTheFloor(async ({ page, server, folder }) => {
    const old = join(folder, 'old.csv');
    writeFileSync(old, '# winter, small hall\n#,Date,Prop,Winds,Time\n1,2026-11-02,#3,120,7.27\n# lunch\n2,2027-11-03,P8,121,8:01\n');
    await press(page, 'Take in a file');
    const dialog = page.getByRole('dialog');
    const file = dialog.locator('input[type="file"]');
    await file.setInputFiles(old);
    await dialog.getByText('2 flights in old.csv.').waitFor();
    await dialog.getByText('Lines 1, 4 passed over: they begin with # and are remarks.').waitFor();
    await dialog.getByText(/^One date is still to come, 3\sNovember 2027 first/).waitFor();
    await dialog.getByText(/7\.27 is 7:27 or 7\.27\ss/).last().waitFor();
    await dialog.getByLabel('Times are written').selectOption('minutes');
    const ratio = fieldOf(dialog, /Turns are those of a winder/);
    await ratio.fill('1/15');
    await ratio.press('Tab');
    await dialog.getByText('"1/15" is no ratio from 0.1 to 100', { exact: false }).waitFor();
    await until(() => dialog.getByRole('button', { name: 'Take in 2' }).isDisabled(), 'nothing taken in with it');
    await looked(page, 'entry-import');
    await ratio.fill('');
    await ratio.press('Tab');
    await dialog.getByRole('button', { name: 'Take in 2' }).click();
    await dialog.getByText('2 taken in.').waitFor();
    await until(async () => (await flights(server)).length === 2, 'both in the workshop');
    assert.deepEqual((await kept(server)).map(({ propeller, turns_wound, duration_s }) => [propeller, turns_wound, duration_s]).sort(), [['#3', 120, 447], ['P8', 121, 481]]);

    await file.setInputFiles([]);
    await file.setInputFiles(old);
    await dialog.getByLabel('Times are written').selectOption('minutes');
    await ratio.fill('15:1');
    await ratio.press('Tab');
    await dialog.getByText('2 of them are here already, read another way: taken in again they are corrected, not doubled.').waitFor();
    await dialog.getByRole('button', { name: 'Take in 2' }).click();
    await dialog.getByText('2 of this file were here, read another way: they are corrected.', { exact: false }).waitFor();
    await until(async () => (await kept(server)).every(({ turns_wound }) => turns_wound > 1700), 'both corrected');
    assert.equal((await flights(server)).length, 2);
    await press(page, 'Close');

    // The flight of a year to come is not the one that the next is set up after.
    await part(page, 'Log');
    await head(page, /^Flight 1 #3/);
  }, '/floor?part=flights');
});

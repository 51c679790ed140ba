// Rubber on the floor: batches tested, compared and broken, motors with their winds, strip sizes, torque meters, visits.
import assert from 'node:assert/strict';
import { writeFileSync } from 'node:fs';
import { after, before, test } from 'node:test';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { accessibilityProblems, becomes, desktop, fieldOf, fitsAt, freshFolder, holds, newPage, phone, picture, startBrowser, startServer, until } from './harness.mjs';
import { press } from './floor_steps.mjs';

let browser;
before(async () => (browser = await startBrowser()));
after(async () => browser?.close());

async function ask(server, method, path, body) {
  const reply = await fetch(`${server.address}/api/${path}`, { method, headers: body ? { 'Content-Type': 'application/json' } : {}, ...(body ? { body: JSON.stringify(body) } : {}) });
  const answer = await reply.json();
  assert.ok(reply.ok, `${method} ${path}: ${JSON.stringify(answer)}`);
  return answer;
}
const listed = async (server, kind) => (await ask(server, 'GET', `${kind}?sort=name&archived=all`)).items;
const named = async (server, kind, name) => (await listed(server, kind)).find((record) => record.name === name);
const says = (page, words) => page.getByText(words).first().waitFor();
/** A new one is in hand once it has its own name. */
async function begin(page, label, before = '') {
  await press(page, `New ${label.toLowerCase()}`);
  const name = () => fieldOf(page, label).inputValue();
  await until(async () => /^(Box|Motor|Meter|Visit) \d+$/.test(await name()) && (await name()) !== before, `a new ${label.toLowerCase()} in hand`);
}
const to = (page, of) => page.getByRole('navigation', { name: 'Rubber' }).getByRole('link', { name: of, exact: true }).click();

async function fill(page, texts) {
  for (const [label, text] of Object.entries(texts)) {
    await fieldOf(page, label).fill(text);
    await fieldOf(page, label).press('Tab');
  }
}

/** Readings of a torque meter in mN m, invented: turns, winding, unwinding. */
const rows = (scale, turns = 1) =>
  [[0, 0, 0], [120, 0.727, 0.414], [400, 1.0, 0.576], [800, 1.303, 0.749], [1180, 1.396, 0.834], [1340, 2.22, 1.554], [1440, 3.037, 2.568], [1545, 3.412, 3.412]]
    .map(([n, up, down]) => [Math.round(n * turns), (up * scale).toFixed(3), (down * scale).toFixed(3)]);

/** As a spreadsheet puts it on the clipboard. */
async function paste(page, label, table) {
  await page.getByLabel(label, { exact: true }).evaluate((cell, text) => {
    const clipboardData = new DataTransfer();
    clipboardData.setData('text/plain', text);
    cell.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
  }, table.map((row) => row.join('\t')).join('\n'));
}

async function looked(page, name) {
  await picture(page, `rubber-${name}`);
  assert.deepEqual(await accessibilityProblems(page), [], name);
}

test('a batch is tested by keyboard and by paste, compared with another, and told how far to wind', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const { page, context, complaints } = await newPage(browser, server.address, { viewport: desktop });
    await page.goto(`${server.address}/floor`);
    await page.getByText('mm', { exact: true }).click();
    await page.getByRole('link', { name: 'Rubber', exact: true }).click();
    await says(page, 'Test a motor on the torque meter');
    await says(page, /Counts once it has the strip width, the loop length, the mass, rows/);

    // The batch gets its record while the next field is typed: that goes on as it is.
    await fill(page, { 'Strip width': '1.55' });
    await fieldOf(page, 'Loop, broken in').fill('25');
    await until(async () => (await listed(server, 'rubbers')).length === 1, 'the batch begun');
    await says(page, 'kept in the workshop');
    await holds(page, 'Loop, broken in', '25');

    // The first motor cell by cell, Enter going on to the next and to a row more.
    await fill(page, { 'Strip width': '1.55', 'Thickness': '1.02', 'Loop, broken in': '250', 'Mass': '742 kg' });
    await page.locator('[data-field="batch.tests.mass"].bad').waitFor();
    await fill(page, { 'Mass': '0.742' });
    await until(async () => (await page.locator('[data-field="batch.tests.mass"].bad').count()) === 0, 'the mass taken');
    await page.getByLabel('turns, row 1', { exact: true }).click();
    for (const row of rows(1)) for (const cell of row) {
      await page.keyboard.type(String(cell));
      await page.keyboard.press('Enter');
    }
    await says(page, 'One motor: the scatter is not known');
    await fill(page, { 'Batch': 'Box 7' });
    await page.getByLabel('winding, row 3', { exact: true }).fill('1.0x');
    await says(page, 'Winding: this is no number.');
    await page.getByLabel('winding, row 3', { exact: true }).fill('1,000');
    await until(async () => (await page.getByText('this is no number').count()) === 0, 'the decimal comma read');
    // Turns that fall back: the program names the row.
    await page.getByLabel('turns, row 4', { exact: true }).fill('80');
    await page.locator('td.bad [data-cell="3 turns"]').waitFor();
    await page.getByLabel('turns, row 4', { exact: true }).fill('800');
    await until(async () => (await page.locator('td.bad').count()) === 0, 'the rows sound again');

    // The second is cut alike; its rows come from a spreadsheet, with a line of headings.
    await press(page, 'Another motor');
    await fill(page, { 'Loop, broken in': '246', 'Mass': '0.731' });
    await press(page, 'Enter the section instead');
    await fieldOf(page, 'Section, all strands').waitFor();
    await press(page, 'Enter the strip instead');
    await fill(page, { 'Strip width': '1.55', 'Thickness': '1.02' });
    await paste(page, 'turns, row 1', [['turns', 'up', 'down'], ...rows(1.012, 0.985)]);
    await says(page, 'Pasted eight rows; passed over one row without numbers.');
    await paste(page, 'turns, row 2', [[7, 7, 7]]);
    await says(page, 'Pasted one row.');
    await press(page, 'Take it back');
    await says(page, 'The rows of before are back.');
    await holds(page, 'turns, row 2', '118');
    await says(page, 'Energy given back, two motors');
    await says(page, /From motor to motor it differs by/);

    // The record has the rows as typed, and the mean as the test that a design takes.
    await until(async () => (await named(server, 'rubbers', 'Box 7'))?.section.rubber?.test_mass !== undefined, 'the batch kept with its mean');
    const { id, section } = await named(server, 'rubbers', 'Box 7');
    assert.deepEqual(section.batch.tests[0].rows[2], { turns: '400', winding: '1,000', unwinding: '0.576' });
    assert.match((await ask(server, 'GET', `rubbers/${id}`)).curve_csv, /^turns,torque_winding_Nm,torque_unwinding_Nm\n0,0,0\n/);

    // How far to wind a motor of it.
    await fill(page, { 'Strip width of the motor to be wound': '2.05', 'Loop of the motor to be wound': '368' });
    await says(page, /0 broke, 0 held; risk 5/);
    const cell = (label) => page.getByLabel(label, { exact: true });
    for (const [at, turns] of ['1905', '1948', '1990', '1850'].entries()) {
      await cell(`wound to, turns, row ${at + 1}`).fill(turns);
      await cell(`wound to, turns, row ${at + 1}`).press('Enter');
    }
    await cell('and, row 4').selectOption('false');
    await says(page, /3 broke, 1 held; risk 5/);
    const safe = async () => Number((await page.getByRole('region', { name: 'How far to wind' }).locator('.big').innerText()).replace(/\D/g, ''));
    await until(async () => (await safe()) > 1600 && (await safe()) < 1905, 'turns under the least break');
    const usual = await safe();
    await fill(page, { 'Risk of a break': '1 %' });
    await until(async () => (await safe()) < usual, 'fewer turns at a smaller risk');
    await fill(page, { 'Risk of a break': '700 %' });
    await page.locator('[data-field="breaking.risk"].bad').waitFor();
    await fill(page, { 'Risk of a break': '5 %' });
    await until(async () => (await safe()) === usual, 'the turns of before');

    // A page loaded again while its last write is on the way would meet that as another tab's.
    await says(page, 'kept in the workshop');
    await page.reload();
    await says(page, 'Energy given back, two motors');
    await holds(page, 'winding, row 3', '1,000');
    await until(async () => (await safe()) === usual, 'the breaks kept');

    // Another batch beside it, a tenth stronger.
    await begin(page, 'Batch', 'Box 7');
    await says(page, 'Test a motor on the torque meter');
    await fill(page, { 'Batch': 'Box 8', 'Strip width': '1.55', 'Thickness': '1.02', 'Loop, broken in': '250', 'Mass': '0.742' });
    await paste(page, 'turns, row 1', rows(1.1));
    await says(page, 'One motor: the scatter is not known');
    await page.getByLabel('Beside it').selectOption({ label: 'Box 7' });
    await says(page, /with fewer than two motors of each nobody can say/);
    await press(page, 'Another motor');
    await fill(page, { 'Loop, broken in': '248', 'Mass': '0.736' });
    // Cut like the one before it.
    await holds(page, 'Strip width', '1.55');
    await paste(page, 'turns, row 1', rows(1.11, 0.992));
    await says(page, /Box 7 gives .* less energy than Box 8, .* at 90/);
    await until(async () => (await named(server, 'rubbers', 'Box 8'))?.section.batch?.tests?.length === 2, 'the second batch kept');

    await press(page, 'Another');
    await press(page, 'Box 7');
    await says(page, 'Energy given back, two motors');
    await until(async () => (await fieldOf(page, 'Batch').inputValue()) === 'Box 7', 'the first batch in hand');
    await page.getByLabel('Beside it').selectOption({ label: 'Box 8' });
    await says(page, /Box 8 gives .* more energy than Box 7/);
    await page.getByRole('button', { name: 'Table' }).first().click();
    await page.getByRole('region', { name: /as a table/ }).waitFor();
    await looked(page, 'batches-desktop');
    await page.getByRole('button', { name: 'Charts only' }).first().click();
    await fitsAt(page, phone, 'the batches');
    // No column goes out of sight without a sign.
    for (const name of ['Figures of the batch', 'Winds that broke or held']) {
      await until(() => page.getByRole('region', { name }).evaluate((roll) => roll.scrollWidth <= roll.clientWidth), `${name} within the phone`);
    }
    await looked(page, 'batches-phone');
    await page.setViewportSize(desktop);

    // A test left out is kept and not counted.
    await page.getByRole('button', { name: /^Leave it out of the batch/ }).click();
    await says(page, 'One motor: the scatter is not known');
    await page.getByRole('button', { name: /^Count it again/ }).click();
    await says(page, 'Energy given back, two motors');

    // A design takes the batch from stock.
    await page.goto(`${server.address}/brief`);
    await page.getByRole('button', { name: /^Take from stock ?: batches/ }).click();
    await press(page, 'Box 7');
    await page.getByText('Box 7 is in the job.').waitFor({ state: 'attached' });
    await says(page, /Box 7\.csv/);

    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

test('motors have their winds, a meter reads torque and serves Wind, a visit has its flights', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const { page, context, complaints } = await newPage(browser, server.address, { viewport: desktop, scheme: 'dark' });
    await page.goto(`${server.address}/floor?part=rubber`);
    await page.getByText('mm', { exact: true }).click();
    await press(page, 'Load the example');
    await says(page, 'Everything here is invented');
    await says(page, 'Energy given back, three motors');
    await until(async () => (await listed(server, 'motors')).length === 2 && (await listed(server, 'meters')).length === 1, 'motors and meter of the example');
    await looked(page, 'batches-dark');

    // A motor of that batch: entered winds, and one that was flown.
    await to(page, 'Motors');
    await says(page, 'Broken in: 3 winds, 1 of them full');
    await begin(page, 'Motor');
    await says(page, 'Measure a motor');
    await fill(page, { 'Motor': '31' });
    await page.getByLabel('Batch', { exact: true }).selectOption({ label: 'Box 7, example' });
    await fill(page, { 'Strip width': '2.05', 'Thickness': '1.02', 'Loop, broken in': '368', 'Mass': '1.47 kg', 'Loop as tied': '357' });
    await page.locator('[data-field="motor.mass"].bad').waitFor();
    await fill(page, { 'Mass': '1.47' });
    await says(page, 'Fresh: not broken in yet');
    await until(async () => (await named(server, 'motors', '31')) !== undefined, 'the motor kept');
    const cell = (label) => page.getByLabel(label, { exact: true });
    await cell('turns, row 1').fill('9000');
    await cell('turns, row 1').press('Enter');
    await page.locator('td.bad[data-cell="turns 1"]').waitFor();
    await cell('turns, row 1').fill('900');
    await cell('day, row 1').fill('2026-11-20 10:00');
    await cell('day, row 1').press('Enter');
    await until(async () => (await page.locator('td.bad').count()) === 0, 'the wind sound');
    await says(page, /: 1 winds, \d of them full, 900 turns in all/);
    await until(async () => (await named(server, 'motors', '31')).section.history?.winds?.[0]?.turns === '900', 'the wind kept');
    await ask(server, 'POST', 'flights/merge', { flights: [{ flight: { id: 'r1', time: '2026-11-21T10:00', session: 'Evening at the hall', propeller: 'P14', motor: '31', turns_wound: 1700, torque_wound_Nm: 0.0024, duration_s: 741 } }] });
    await page.reload();
    await says(page, /2 in all, 1 of them from the log/);
    await says(page, /3\.1 % longer than fresh/);
    await says(page, /loop 368\.0/);
    const life = page.getByRole('row', { name: /2, 2026-11-21/ });
    await life.getByText('the log').waitFor();
    await life.getByText(/24\.00\s+h/).waitFor();
    await looked(page, 'motors-dark');

    // Off the shelf, and back on it.
    await press(page, 'Another');
    await press(page, 'Put away 24, example');
    await press(page, 'Take back 24, example');
    await page.getByRole('button', { name: 'Put away 24, example' }).waitFor();
    await becomes(async () => (await named(server, 'motors', '24, example')).archived, false, 'the motor back on the shelf');
    await press(page, 'Close');

    // Strip sizes and a half motor.
    await to(page, 'Strip');
    await says(page, 'Begin with the width');
    await fill(page, { 'Strip width': '0.081 in' });
    await page.getByRole('row', { name: /strip width 2\.06\s+mm 0\.0810\s+in 81\.0\s+thou/ }).waitFor();
    await fill(page, { 'Strip width': '3 m' });
    await page.locator('[data-field="strip.width"].bad').waitFor();
    await fill(page, { 'Strip width': '2.05', 'Loop': '368' });
    await page.getByRole('row', { name: /grains\/in/ }).waitFor();
    await page.getByRole('row', { name: /breaks at about/ }).waitFor();
    await page.getByRole('region', { name: 'Half and quarter motors' }).getByLabel('As motor').selectOption({ label: '31' });
    await page.getByRole('row', { name: /loop 184\.0\s+mm/ }).waitFor();
    await fill(page, { 'Time flown': '4:52', 'Top above the floor': '4.6' });
    await says(page, /on the full motor/);
    await fill(page, { 'Turns of the hook, one of the crank': '10', 'Winder turns': '170' });
    await says(page, '170 turns of the crank are 1700 of the motor.');
    await page.reload();
    await says(page, '170 turns of the crank are 1700 of the motor.');
    await looked(page, 'strip-dark');

    // A meter from its wire, then one from weights, which Wind and a bench test read.
    await to(page, 'Torque meters');
    await begin(page, 'Meter');
    await fill(page, { 'Meter': 'Wire meter' });
    await page.getByLabel('Known by').selectOption('wire');
    await fill(page, { 'Wire diameter': '0.33', 'Free length': '100' });
    await says(page, 'One degree is');
    await says(page, /The wire bears/);
    await begin(page, 'Meter');
    await says(page, 'Hang a weight');
    await page.getByLabel('Known by').selectOption('weights');
    await fill(page, { 'Meter': 'Grey meter', 'Arm, axis to thread': '25' });
    for (const [at, [mass, reading]] of [['2', '12.1'], ['5', '30.4'], ['10', '60.7'], ['15', 'ninety']].entries()) {
      await cell(`hung, row ${at + 1}`).fill(mass);
      await cell(`hung, row ${at + 1}`).press('Enter');
      await cell(`it reads, row ${at + 1}`).fill(reading);
      await cell(`it reads, row ${at + 1}`).press('Enter');
    }
    await page.locator('td.bad[data-cell="reading 4"]').waitFor();
    await cell('it reads, row 4').fill('91');
    await cell('it reads, row 4').press('Enter');
    await says(page, 'One division is');
    await says(page, /Scatter about the line/);
    await fill(page, { 'It reads': '50' });
    await page.getByRole('row', { name: /^50 / }).waitFor();
    await until(async () => (await named(server, 'meters', 'Grey meter'))?.section.meter?.weights?.length === 4, 'the meter kept');
    await looked(page, 'meters-dark');
    await to(page, 'Batches');
    await page.getByLabel('Torque read in').selectOption({ label: 'scale of Grey meter' });
    await page.getByRole('columnheader', { name: 'winding, division', exact: true }).waitFor();
    await page.getByLabel('Torque read in').selectOption('mN·m');
    await page.getByRole('columnheader', { name: 'winding, mN·m', exact: true }).waitFor();

    await page.getByRole('navigation', { name: 'The floor' }).getByRole('link', { name: 'Wind' }).click();
    await says(page, 'Wind to, then stop');
    await page.getByLabel('torque meter of the day').selectOption({ label: 'Grey meter' });
    await page.getByRole('columnheader', { name: 'division', exact: true }).waitFor();

    // The visit that the flight opened, and one planned.
    await page.goto(`${server.address}/floor?part=rubber&of=visits`);
    await says(page, 'Flights of this visit');
    await until(async () => (await fieldOf(page, 'Visit').inputValue()) === 'Evening at the hall', 'the visit of the log');
    await page.getByRole('cell', { name: '12:21' }).waitFor();
    await begin(page, 'Visit');
    await fill(page, { 'Visit': 'Sunday', 'Day': '29.11.26' });
    await says(page, 'This is no day');
    await fill(page, { 'Day': '2026-11-29', 'Temperature': '16', 'Notes: draughts, who flew, what was tried': 'doors shut' });
    await page.getByLabel('Torque meter', { exact: true }).selectOption({ label: 'Grey meter' });
    await until(async () => (await named(server, 'sessions', 'Sunday'))?.section.session?.notes === 'doors shut', 'the visit kept');
    const grey = await named(server, 'meters', 'Grey meter');
    await until(async () => (await named(server, 'sessions', 'Sunday')).links.meter_id === grey.id, 'the meter linked');
    await looked(page, 'visits-dark');
    for (const [of, words] of [['Motors', 'Wind to, at most'], ['Strip', 'turns of the crank are'], ['Torque meters', 'One division is'], ['Visits', 'Flights of this visit']]) {
      await to(page, of);
      await says(page, words);
      await fitsAt(page, phone, of);
      await looked(page, `${of.toLowerCase().replace(' ', '-')}-phone`);
      await page.setViewportSize(desktop);
    }
    await page.getByRole('link', { name: 'Log flights under this visit' }).click();
    await page.getByRole('button', { name: 'Launch' }).waitFor();

    // The file taken to the hall has no program to ask, and no rubber.
    const saved = join(folder, 'floor.html');
    writeFileSync(saved, await (await fetch(`${server.address}/floor.html`)).text());
    const alone = await context.newPage();
    await alone.goto(pathToFileURL(saved).href);
    await alone.getByRole('link', { name: 'Flights' }).waitFor();
    assert.equal(await alone.getByRole('link', { name: 'Rubber' }).count(), 0);

    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

test('a motor that breaks on Wind counts with its batch, once, and can be left out', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const of_box = (name, breaking) => ask(server, 'POST', 'rubbers', { name, section: { rubber: {}, breaking } });
    const { id: rubber_id } = await of_box('Box 7', { width: '2.05 mm', thickness: '1.04 mm', length: '368 mm', winds: [{ turns: '1948' }, { turns: '1990' }] });
    await of_box('Box 8', { width: '2.05 mm', length: '368 mm' });
    const motor = { strip_width: '2.05 mm', strip_thickness: '1.04 mm', loop_length: '368 mm' };
    for (const name of ['31', '32']) await ask(server, 'POST', 'motors', { name, section: { motor }, links: { rubber_id } });
    await ask(server, 'POST', 'flights/merge', { flights: [1700, 1850].map((turns_wound, at) => ({ flight: { id: `h${at}`, time: `2026-11-21T10:0${at}`, propeller: 'L46-A', motor: '32', turns_wound, duration_s: 700 } })) });

    const { page, context, complaints } = await newPage(browser, server.address, { viewport: desktop });
    const part = page.getByRole('region', { name: 'How far to wind' });
    const safe = async () => Number((await part.locator('.big').innerText()).replace(/\D/g, ''));
    await page.goto(`${server.address}/floor?part=rubber`);
    await page.getByText('mm', { exact: true }).click();
    await says(page, /2 broke, 1 held; risk 5/);
    await says(page, 'From the log: 1 of 1 that held.');
    await part.getByRole('row', { name: /^32 held to.1850 2026-11-21 2/ }).waitFor();
    const before = await safe();

    // It breaks on the winder, early: it counts as soon as nobody can undo it.
    await page.getByRole('link', { name: 'Wind', exact: true }).click();
    await page.getByLabel('design that flies').waitFor();
    const field = page.getByLabel('motor on the winder', { exact: true });
    await field.fill('31');
    await field.press('Tab');
    await press(page, 'It broke');
    const turns = page.getByLabel('turns when it broke', { exact: true }).and(page.locator('input'));
    await turns.fill('1500');
    await turns.press('Tab');
    await press(page, 'Keep the break');
    await says(page, /Kept: motor 31( of [a-z0-9 ]+)? broke, 1500.turns/);
    await page.getByRole('link', { name: 'Rubber', exact: true }).click();
    await says(page, /3 broke, 1 held; risk 5/);
    await says(page, 'From the log: 1 of 3 breaks, 1 of 1 that held.');
    const row = part.getByRole('row', { name: /^31/ });
    await part.getByRole('row', { name: /^31 broke at.1500/ }).waitFor();
    await until(async () => (await safe()) < before, 'fewer turns after an early break');
    const counted = await safe();
    await looked(page, 'log-desktop');

    // A nick did it: left out, over a reload too, and counted again.
    await row.getByRole('button', { name: /^Leave out/ }).click();
    await says(page, /2 broke, 1 held; risk 5/);
    await until(async () => (await safe()) === before, 'the turns without it');
    await until(async () => (await named(server, 'rubbers', 'Box 7')).section.breaking.left_out?.length === 1, 'left out in the workshop');
    await page.reload();
    await says(page, /2 broke, 1 held; risk 5/);
    await row.getByRole('button', { name: /^Count it/ }).click();
    await says(page, /3 broke, 1 held; risk 5/);

    // Entered by hand as well, it is still one motor.
    const cell = (label) => page.getByLabel(label, { exact: true });
    await cell('wound to, turns, row 3').fill('1500');
    await cell('wound to, turns, row 3').press('Enter');
    await row.getByText('entered by hand too: counted once').waitFor();
    await says(page, 'From the log: 1 of 1 that held.');
    assert.match(await part.innerText(), /3 broke, 1 held/);
    await until(async () => (await safe()) === counted, 'the turns of before');
    // By another name it is another.
    await cell('motor, if named, row 3').fill('40');
    await cell('motor, if named, row 3').press('Enter');
    await says(page, /4 broke, 1 held; risk 5/);
    await fitsAt(page, phone, 'the log of the batch');
    await looked(page, 'log-phone');
    await page.setViewportSize(desktop);

    // The motors of the batch are wound by it, and another batch has nothing of it.
    await to(page, 'Motors');
    await says(page, /by the breaks of Box 7 \(from the log: 1 break, 1 that held\)/);
    await to(page, 'Batches');
    await press(page, 'Another');
    await press(page, 'Box 8');
    await says(page, /0 broke, 0 held; risk 5/);
    await says(page, 'Nothing yet. A motor that breaks on Wind counts here by itself');
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

test('what is typed while the program is away is kept when it is back, and two tabs do not write over each other', async () => {
  const { folder, remove } = freshFolder();
  const workshop = join(folder, 'workshop.sqlite');
  let server = await startServer(workshop);
  try {
    const { page, context, complaints } = await newPage(browser, server.address, { viewport: desktop, ignore: [/ERR_/, /Failed to load resource/] });
    await page.goto(`${server.address}/floor?part=rubber&of=motors`);
    await page.getByText('mm', { exact: true }).click();
    await says(page, 'Measure a motor');
    await fill(page, { 'Motor': '31', 'Strip width': '2.05', 'Loop as tied': '357' });
    await says(page, 'Fresh: not broken in yet');
    await says(page, 'kept in the workshop');

    await server.stop();
    await fill(page, { 'Mass': '1.47' });
    await says(page, 'not kept yet: the program does not answer');
    await page.getByLabel('turns, row 1', { exact: true }).fill('900');
    await page.getByLabel('turns, row 1', { exact: true }).press('Enter');
    server = await startServer(workshop, ['--port', new URL(server.address).port]);
    await says(page, 'kept in the workshop');
    await until(async () => (await named(server, 'motors', '31'))?.section.history?.winds?.[0]?.turns === '900', 'the wind kept once the program is back');
    await becomes(async () => (await named(server, 'motors', '31')).section.motor.mass, '1.47 g', 'the mass kept too');

    const other = await context.newPage();
    await other.goto(`${server.address}/floor?part=rubber&of=motors`);
    await until(async () => (await fieldOf(other, 'Motor').inputValue()) === '31', 'the motor in the other tab');
    await fill(other, { 'Loop now, rested': '368 mm' });
    await until(async () => (await named(server, 'motors', '31')).section.history.rested_length === '368 mm', 'the other tab kept first');
    await fill(page, { 'Rested since the last': '20' });
    await page.getByRole('dialog', { name: 'Written from another tab' }).waitFor();
    await press(page, 'Take theirs');
    await until(async () => (await fieldOf(page, 'Loop now, rested').inputValue()) === '368', 'theirs in hand');
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

// The Verdict place: forty invented flights of two propellers go in by parts, and the verdict goes from "cannot tell yet"
// to a clear one; what the flights taught, learning left out and taken in again, beliefs, the fair-test sheet.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { accessibilityProblems, becomes, desktop, fieldOf, fitsAt, freshFolder, newPage, phone, picture, startBrowser, startServer, until } from './harness.mjs';

let browser, workshop, server, log;
before(async () => {
  browser = await startBrowser();
  workshop = freshFolder();
  server = await startServer(join(workshop.folder, 'workshop.sqlite'));
  log = await (await fetch(`${server.address}/api/examples/flights`)).json();
});
after(async () => {
  await browser?.close();
  await server?.stop();
  workshop?.remove();
});

async function post(path, body) {
  const response = await fetch(`${server.address}${path}`, { method: 'POST', headers: { 'Content-Type': 'application/json', Origin: server.address }, body: JSON.stringify(body) });
  assert.ok(response.ok, `${path}: ${response.status} ${await response.clone().text()}`);
  return response.json();
}

const merge = (flights) => post('/api/flights/merge', { flights: flights.map((flight) => ({ flight })) });
/** A busy machine may need minutes to learn. */
const patience_s = 240;
const headline = (page) => page.locator('.verdict h1');
const says = (page, pattern) => until(async () => pattern.test(await page.locator('.verdict').innerText()), String(pattern), patience_s);
const headed = (page, pattern) => until(async () => pattern.test(await headline(page).innerText()), `headline ${pattern}`, patience_s);
/** Both answers are there, each to what is asked now; before the first one there is nothing that could be old. */
const at_rest = (page) => until(async () =>
  (await page.locator('.verdict header.head:not(.old)').count()) === 1 &&
  (await page.getByRole('region', { name: 'What the flights taught the model' }).count()) === 1 &&
  (await page.locator('.verdict progress, .verdict .old').count()) === 0, 'the answers', patience_s);

async function start(options) {
  const made = await newPage(browser, server.address, options);
  await made.page.goto(`${server.address}/verdict`);
  await headline(made.page).waitFor();
  return made;
}

// One page for all of it: what one case leaves, the next one takes up.
test('from an empty log to a clear verdict', async (t) => {
  const { page, context, complaints } = await start({ ignore: [/422/] });
  await page.locator('input[name=units][value=metric]').check({ force: true });
  const again = async () => {
    await page.reload();
    await headline(page).waitFor();
  };

  await t.test('without flights it says what to do, and shows the invented ones', async () => {
    await headed(page, /No flights yet/);
    assert.deepEqual(await accessibilityProblems(page), []);
    await picture(page, 'verdict-empty');
    await page.getByRole('button', { name: 'Load the example' }).click();
    await says(page, /Invented flights/);
    await headed(page, /is better/);
    await page.getByRole('heading', { name: 'What the flights taught the model' }).waitFor({ timeout: 1000 * patience_s });
    await page.getByRole('button', { name: 'Put the example away' }).click();
    await headed(page, /No flights yet/);
    assert.equal((await (await fetch(`${server.address}/api/flights`)).json()).total, 0, 'the example is looked at, not kept');
  });

  await t.test('one propeller alone has no verdict, but it teaches', async () => {
    const [a] = log.designs;
    await merge(log.flights.slice(0, 10).filter(({ propeller }) => propeller === a.document.job.propeller.name));
    await again();
    await headed(page, /One propeller only/);
    // Its design is among the examples of the workshop, with the propeller's name.
    await page.getByRole('heading', { name: 'What the flights taught the model' }).waitFor({ timeout: 1000 * patience_s });
    assert.deepEqual(await accessibilityProblems(page), []);
  });

  await t.test('ten flights: plain times while a propeller has no design, then shares: cannot tell yet', async () => {
    await merge(log.flights.slice(0, 10));
    await again();
    await says(page, /L46-B is paired with no design/);
    await says(page, /Times flown, over their median/);
    const b = log.designs[1].document;
    // Kept under a name that tells nothing: the builder says which design it is.
    await post('/api/designs', { name: 'Second blade', document: { ...b, job: { ...b.job, propeller: { ...b.job.propeller, name: 'as drawn' } } }, note: '' });
    await again();
    await page.getByRole('button', { name: 'Name the design' }).click();
    await page.getByLabel('built to, L46-B').selectOption({ label: 'Second blade, version 1' });
    await says(page, /as a share of what L46-A should make/);
    await headed(page, /Cannot tell yet/);
    await says(page, /Fly next, in this order/);
    await until(async () => (await page.getByRole('list', { name: 'Order of the next flights' }).getByRole('listitem').count()) >= 2, 'two flights or more to come');
    await says(page, /Next propeller/);
    await at_rest(page);
    assert.deepEqual(await accessibilityProblems(page), []);
    await picture(page, 'verdict-open');
    await page.getByRole('button', { name: 'Choose propellers' }).click();
  });

  await t.test('the second half comes from a phone in the hall, out of reach of the program', async () => {
    await merge(log.flights.slice(0, 20));
    const [, heading, ...rows] = readFileSync(new URL('../../examples/flights/lantern46-two-propellers.csv', import.meta.url), 'utf8').trimEnd().split('\n');
    const file = join(workshop.folder, 'hall.csv');
    writeFileSync(file, `${[heading, ...rows.slice(20)].join('\n')}\n`);
    const hall = await newPage(browser, server.address, { viewport: phone, touch: true, ignore: [/ERR_/, /Failed to load resource/] });
    await hall.page.goto(`${server.address}/floor`);
    await hall.page.getByRole('button', { name: 'Launch' }).waitFor();
    await hall.context.setOffline(true);
    await hall.page.getByRole('link', { name: 'Flights' }).click();
    await hall.page.getByRole('button', { name: 'Take in a file' }).click();
    const dialog = hall.page.getByRole('dialog');
    await dialog.locator('input[type="file"]').setInputFiles(file);
    await dialog.getByRole('button', { name: 'Take in 20' }).click();
    await dialog.getByText('20 taken in.').waitFor();
    await dialog.getByRole('button', { name: 'Close' }).click();
    await hall.page.getByText('offline, 20 kept here').waitFor();
    assert.equal((await (await fetch(`${server.address}/api/flights`)).json()).total, 20);
    await hall.context.setOffline(false);
    await until(async () => (await (await fetch(`${server.address}/api/flights`)).json()).total === 40, 'the flights of the phone', 60);
    assert.deepEqual(hall.complaints, []);
    await hall.context.close();
  });

  await t.test('forty flights: a clear verdict, its chart read by keys and as a table', async () => {
    await merge(log.flights); // again, and none of them twice
    await again();
    await headed(page, /is better/);
    await says(page, /40 flights/);
    await says(page, /Nothing more to fly for this/);
    const odds = page.locator('.verdict .head figure');
    await odds.getByRole('button', { name: 'Table' }).click();
    const rounds = odds.getByRole('row');
    await until(async () => (await rounds.count()) > 10, 'a row for each round');
    // Two of forty are left out.
    await until(async () => /^38\s+under 1\s+over 99/.test(await rounds.last().innerText()), 'the last round');
    await odds.getByRole('button', { name: 'Line only' }).click();
    const slider = page.getByRole('slider', { name: 'Read Flights as shares' });
    await slider.focus();
    await slider.press('Home');
    await until(async () => /^Flight 1, .*%/.test(await slider.getAttribute('aria-valuetext')), 'the first flight read out');
    await slider.press('End');
    await slider.press('ArrowLeft');
    await until(async () => /^Flight 39, /.test(await slider.getAttribute('aria-valuetext')), 'the last but one read out');
    const chart = page.getByRole('figure', { name: 'Flights as shares' });
    await chart.getByRole('button', { name: 'Table' }).click();
    const rows = chart.getByRole('row');
    await becomes(() => rows.count(), 41, 'a row for each flight');
    const table = await chart.getByRole('table').innerText();
    assert.match(table, /steered/);
    assert.match(table, /left out: /);
    await chart.getByRole('button', { name: 'Chart only' }).click();
  });

  await t.test('what was taught: the drag of the model, changed predictions, the flights that do not fit', async () => {
    await at_rest(page);
    const taught = page.getByRole('region', { name: 'What the flights taught the model' });
    assert.match(await taught.innerText(), /drag/i);
    const changes = page.getByRole('region', { name: 'So the sheet changes' });
    assert.match(await changes.innerText(), /L46-A[\s\S]*±[\s\S]*L46-B/);
    const odd = page.getByRole('region', { name: 'Flights that do not fit' });
    assert.match(await odd.innerText(), /Flight 33/);
    assert.deepEqual(await accessibilityProblems(page), []);
    await picture(page, 'verdict-desktop');
  });

  await t.test('learning is left out, and taken in again; the choice lasts', async () => {
    await page.getByRole('button', { name: 'Leave learning out' }).click();
    await says(page, /as its sheet has it/);
    await says(page, /Learning is left out/);
    await again();
    await says(page, /as its sheet has it/);
    await at_rest(page);
    await page.getByRole('button', { name: 'Take learning in again' }).click();
    await says(page, /in that flight’s air as learned/);
    await says(page, /The shares above stand on what was learned/);
  });

  await t.test('beliefs and thresholds are seen and changed; what cannot be is told beside its field', async () => {
    await page.getByText('What is taken as given', { exact: false }).first().click();
    const sure = fieldOf(page, 'Settled past');
    await becomes(() => sure.getAttribute('placeholder'), '95', 'the usual threshold');
    await sure.fill('120');
    await sure.press('Enter');
    await says(page, /120 is out of range\. Allowed: 50 to 99\.9/);
    const margin = fieldOf(page, 'A difference that matters');
    await margin.fill('20 %');
    await margin.press('Enter');
    await headed(page, /It does not matter/);
    await at_rest(page);
    assert.deepEqual(await accessibilityProblems(page), []);
    await picture(page, 'verdict-beliefs');
    await page.getByRole('button', { name: 'All as usual again' }).click();
    await headed(page, /is better/);
  });

  await t.test('the fair-test sheet is printed', async () => {
    await page.getByRole('button', { name: 'Print fair-test sheet' }).click();
    const dialog = page.getByRole('dialog', { name: 'Print the fair-test sheet' });
    const coming = page.waitForEvent('download');
    await dialog.getByRole('button', { name: 'A4' }).click();
    const file = await coming;
    assert.equal(file.suggestedFilename(), 'fair-test.pdf');
    assert.equal(readFileSync(await file.path()).subarray(0, 5).toString(), '%PDF-');
    await dialog.getByText('Ready:').waitFor();
    assert.deepEqual(await accessibilityProblems(page, 'dialog[open]'), []);
    await dialog.getByRole('button', { name: 'Close' }).click();
  });

  await t.test('what was learned goes into the design, and its predictions use it', async () => {
    await at_rest(page);
    // The flights are learned from anew with it, and then the words are gone: not before they were read.
    let release;
    const read = new Promise((resolve) => (release = resolve));
    await page.route('**/api/learn', async (route) => {
      await read;
      await route.continue().catch(() => {});
    });
    await page.getByRole('button', { name: 'Use in predictions: L46-B' }).click();
    await says(page, /Predictions use it\. Kept in Second blade/);
    release();
    await page.unroute('**/api/learn');
    await at_rest(page);
    const [summary] = (await (await fetch(`${server.address}/api/designs?q=Second`)).json()).items;
    const { document } = await (await fetch(`${server.address}/api/designs/${summary.id}`)).json();
    assert.ok(document.job.learned.airframe_drag > 1.02, `the drag that was learned: ${document.job.learned.airframe_drag}`);
    const flown = async (learned) => (await post('/api/flight', { ...document, job: { ...document.job, learned } })).duration_s;
    const [with_it, without] = [await flown(document.job.learned), await flown({ ...document.job.learned, use: false })];
    assert.ok(with_it < without - 10, `${with_it} s as learned, ${without} s as the sheet has it`);
  });

  await t.test('what takes long says so, and can be stopped', async () => {
    let release;
    const stopped = new Promise((resolve) => (release = resolve));
    await page.route('**/api/learn', async (route) => {
      await stopped;
      await route.continue().catch(() => {});
    });
    await again();
    await says(page, /Learning from 40 flights/);
    await page.getByRole('button', { name: /^Stop ?: Learning/ }).click();
    await says(page, /Stopped\./);
    release();
    await page.unroute('**/api/learn');
    await page.getByRole('button', { name: /^Go on ?: Learning/ }).click();
    await page.getByRole('heading', { name: 'What the flights taught the model' }).waitFor({ timeout: 1000 * patience_s });
  });

  await t.test('it fits a tablet and a phone, is made for thumbs, and reads well in the dark', async () => {
    await at_rest(page);
    await page.emulateMedia({ colorScheme: 'dark' });
    assert.deepEqual(await accessibilityProblems(page), []);
    await picture(page, 'verdict-dark');
    await fitsAt(page, { width: 820, height: 1180 }, 'the verdict');
    await fitsAt(page, phone, 'the verdict');
    assert.deepEqual(await accessibilityProblems(page), []);
    await page.emulateMedia({ colorScheme: 'light' });
    const small = await page.locator('.verdict :is(button, select, summary, input:not([type=checkbox]))').evaluateAll((all) => all.filter((each) => each.offsetParent && each.getBoundingClientRect().height < 43.5).map((each) => each.outerHTML.slice(0, 120)));
    assert.deepEqual(small, []);
    await picture(page, 'verdict-phone');
    await page.setViewportSize(desktop);
  });

  assert.deepEqual(complaints, []);
  await context.close();
});

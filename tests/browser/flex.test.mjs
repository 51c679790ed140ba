// The flexing blade and the built pair: the blade under load bends with the torque in Blade; at the bench both
// blades as built are entered, the ledger of seconds stands sorted, and a wrong reading is told at its field.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { join } from 'node:path';
import { accessibilityProblems, desktop, fieldOf, fitsAt, freshFolder, newPage, phone, picture, startBrowser, startServer, until } from './harness.mjs';

let browser;
let server;
const place = freshFolder();
before(async () => {
  [browser, server] = await Promise.all([startBrowser(), startServer(join(place.folder, 'workshop.sqlite'))]);
});
after(async () => {
  await browser?.close();
  await server?.stop();
  place.remove();
});

async function start_lantern(page) {
  await page.goto(`${server.address}/designs?start=example`);
  await page.getByRole('button', { name: 'Start from Lantern 46' }).click();
  await page.locator('main h1').first().waitFor();
}

/** As a builder types: the text, then Enter. */
async function give(page, label, text) {
  await fieldOf(page, label).fill(text);
  await fieldOf(page, label).press('Enter');
}

/** A slider of the browser's own, by the keyboard. */
async function slide(page, label, keys) {
  const slider = page.getByRole('slider', { name: label, exact: true });
  await slider.focus();
  for (const key of keys) await page.keyboard.press(key);
  return slider;
}

test('the blade under load bends with the torque, drawn as much larger as asked for', async () => {
  const { page, context, complaints } = await newPage(browser, server.address, { viewport: desktop });
  await start_lantern(page);
  await page.getByRole('link', { name: 'Blade', exact: true }).click();
  await page.getByRole('button', { name: 'Under load' }).click();
  const view = page.locator('section.flex');
  const outline = view.locator('path.outline');
  await outline.waitFor();
  const unloaded = await view.locator('path.ghost').first().getAttribute('d');
  const at_launch = await outline.getAttribute('d');
  assert.notEqual(at_launch, unloaded);

  // In level flight this blade washes out a little, at launch it flares: the drawing and the figures move.
  const facts = view.getByLabel('The blade at this torque');
  const launch_facts = await facts.innerText();
  await slide(page, 'Torque of the motor', ['Home']);
  await until(async () => (await outline.getAttribute('d')) !== at_launch, 'the blade of level flight');
  await until(async () => (await facts.innerText()) !== launch_facts, 'the figures of level flight');
  await slide(page, 'Torque of the motor', ['End']);
  await until(async () => (await facts.innerText()) === launch_facts, 'the blade of launch again');
  await slide(page, 'Drawn larger', ['End']);
  await until(async () => (await outline.getAttribute('d')) !== at_launch, 'drawn 20 times larger');
  await picture(page, 'flex-blade');
  assert.deepEqual(await accessibilityProblems(page), []);

  // Flown as it flexes, the design's own duration follows, and the field of the job says so.
  await view.getByLabel('Fly the blade as it bends and twists').check();
  await page.getByText('The blade flies as it bends and twists under its loads', { exact: false }).first().waitFor();
  assert.deepEqual(complaints, []);
  await context.close();
});

test('a built pair: the ledger of seconds stands sorted, a wrong reading is told at its field, the phone holds it', async () => {
  const { page, context, complaints } = await newPage(browser, server.address, { viewport: desktop, ignore: [/422/] });
  await start_lantern(page);
  await page.getByRole('link', { name: 'Bench', exact: true }).click();
  await page.getByRole('link', { name: 'As built', exact: true }).click();
  // Before anything is measured the card of tolerances stands there.
  await page.getByRole('heading', { name: 'What tolerances cost' }).waitFor();
  await page.locator('input[name=units][value=metric]').check({ force: true });
  await picture(page, 'flex-tolerances');

  for (const [label, a, b] of [
    ['Length of {}, shaft to tip', '195.4', '194.8'], ['Mass of {}', '186', '181'], ['{} balances at', '92', '92'],
    ['Camber of {}', '5.8', '6.1'], ['EI square to the chord of {}', '104', '90'], ['GJ of {}', '95', '92'],
  ]) {
    await give(page, label.replace('{}', 'A'), a);
    await give(page, label.replace('{}', 'B'), b);
  }
  // A stands half a degree steeper than the design, B as much lower at the tip.
  for (const [id, off] of [['A', [0.5, 0.6, 0.5]], ['B', [0, -0.3, -0.5]]]) {
    const row = page.getByRole('group', { name: `Blade ${id} as built` }).locator('.field', { hasText: 'Angle at' });
    for (const [index, degrees] of off.entries()) {
      const wanted = Number((await row.nth(index).innerText()).match(/design ([\d.]+)/)[1]);
      await row.nth(index).locator('input').fill((wanted + degrees).toFixed(1));
      await row.nth(index).locator('input').press('Enter');
    }
  }
  const flaws = page.getByRole('list', { name: 'Flaws, the costliest first' }).locator('li');
  await until(async () => (await flaws.count()) >= 9, 'the ledger of all that was measured');
  const seconds = (await flaws.evaluateAll((rows) => rows.map((row) => row.dataset.seconds))).filter((text) => text !== undefined).map(Number);
  assert.ok(seconds.length >= 8);
  assert.deepEqual(seconds, [...seconds].sort((one, other) => Math.abs(other) - Math.abs(one)));
  for (const advice of await flaws.locator('.advice').allInnerTexts()) assert.match(advice, /\w.*\.$/);
  await page.getByRole('heading', { name: 'From level flight to launch' }).waitFor();
  await picture(page, 'flex-built');
  assert.deepEqual(await accessibilityProblems(page), []);

  // A length of two metres is told beside its field, and what stood there stays.
  await give(page, 'Length of A, shaft to tip', '2 m');
  await page.locator('[data-field="blade[1].length"] .warn-bar').waitFor();
  assert.ok((await flaws.count()) >= 9);
  await give(page, 'Length of A, shaft to tip', '195.4');
  await page.locator('[data-field="blade[1].length"] .warn-bar').waitFor({ state: 'detached' });

  await page.emulateMedia({ colorScheme: 'dark' });
  await fitsAt(page, phone, 'As built');
  await picture(page, 'flex-built-phone');
  assert.deepEqual(complaints, []);
  await context.close();
});

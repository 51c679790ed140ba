// The list of designs as a keeper of many uses it: copies, built versions, the archive, the workshop as a
// file, ten thousand designs, and a packet stopped half way.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { after, before, test } from 'node:test';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fieldOf, freshFolder, newPage, picture, program, startBrowser, startServer, until } from './harness.mjs';

let browser;
before(async () => (browser = await startBrowser()));
after(async () => browser?.close());

const table = (page) => page.getByRole('table', { name: 'Designs' });
const status = (page, text) => page.getByRole('status').filter({ hasText: text }).first().waitFor();

async function atDesigns(page, address) {
  await page.goto(`${address}/designs`);
  await table(page).waitFor();
}

async function choose(page, name) {
  await table(page).getByRole('button', { name, exact: true }).click();
  const detail = page.getByRole('region', { name, exact: true });
  await detail.getByText('Version 1', { exact: true }).waitFor();
  return detail;
}

test('a copy is made, archived and brought back', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const { page, context, complaints } = await newPage(browser, server.address);
    await atDesigns(page, server.address);
    await status(page, '3 designs');
    let detail = await choose(page, 'Lantern 46');
    await detail.getByRole('button', { name: 'Duplicate' }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel('Name of the copy').fill('Lantern for the low hall');
    await dialog.getByRole('button', { name: 'Duplicate', exact: true }).click();
    await status(page, '4 designs');
    detail = await choose(page, 'Lantern for the low hall');
    await picture(page, 'designs-copy');
    await detail.getByRole('button', { name: 'Duplicate' }).click();
    await dialog.getByLabel('Name of the copy').fill('Lantern, third');
    await dialog.getByRole('button', { name: 'Duplicate and open' }).click();
    await page.locator('header .open').getByText('Lantern, third').waitFor();
    await atDesigns(page, server.address);
    await status(page, '5 designs');
    detail = await choose(page, 'Lantern, third');
    await detail.getByRole('button', { name: 'Archive' }).click();
    await status(page, '4 designs');
    detail = await choose(page, 'Lantern for the low hall');
    await detail.getByRole('button', { name: 'Archive' }).click();
    await status(page, '3 designs');
    await until(async () => (await table(page).getByRole('button', { name: 'Lantern for the low hall' }).count()) === 0, 'the archived copy out of the list');
    await page.getByLabel('Show').selectOption('archived');
    await status(page, '2 designs');
    detail = await choose(page, 'Lantern for the low hall');
    await detail.getByRole('button', { name: 'Restore' }).click();
    await page.getByLabel('Show').selectOption('in use');
    await status(page, '4 designs');
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

test('what was built stays as it was: the next save is a new version', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const { page, context, complaints } = await newPage(browser, server.address);
    await atDesigns(page, server.address);
    let detail = await choose(page, 'Lantern 46');
    await detail.getByRole('button', { name: 'It is built' }).click();
    await detail.getByText(/built \d/).waitFor();
    await detail.getByRole('button', { name: 'Open', exact: true }).click();
    const field = fieldOf(page, 'Set pitch');
    await field.fill('800 mm');
    await field.press('Enter');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByRole('button', { name: /^Save/ }).first().click();
    await dialog.waitFor({ state: 'hidden' });
    await atDesigns(page, server.address);
    detail = await choose(page, 'Lantern 46');
    await detail.getByText('Version 2', { exact: true }).waitFor();
    await picture(page, 'designs-built');
    const list = await (await fetch(`${server.address}/api/designs?q=Lantern`)).json();
    const kept = async (version) =>
      (await (await fetch(`${server.address}/api/designs/${list.items[0].id}/versions/${version}`)).json()).document.job.propeller.pitch;
    assert.deepEqual([await kept(1), await kept(2)], ['780 mm', '800 mm']);
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

test('the workshop goes out as a file and comes in again elsewhere', async () => {
  const { folder, remove } = freshFolder();
  const one = await startServer(join(folder, 'one.sqlite'));
  const two = await startServer(join(folder, 'two.sqlite'), []);
  try {
    const from = await newPage(browser, one.address);
    await atDesigns(from.page, one.address);
    const [download] = await Promise.all([
      from.page.waitForEvent('download'),
      from.page.getByRole('link', { name: 'Export the workshop' }).click(),
    ]);
    const file = join(folder, 'export.json');
    await download.saveAs(file);

    const to = await newPage(browser, two.address, { ignore: [/422|400/] });
    // An empty workshop greets with the ways to start; this is one of them.
    await to.page.goto(`${two.address}/designs`, { waitUntil: 'networkidle' });
    await to.page.getByLabel('Import an export').setInputFiles(file);
    await table(to.page).waitFor();
    await status(to.page, '3 designs');

    // Once more: nothing twice. A file of something else: refused in words, nothing changed.
    await to.page.getByLabel('Import an export').setInputFiles(file);
    await status(to.page, '0 records added');
    const broken = join(folder, 'notes.json');
    writeFileSync(broken, 'shopping list');
    await to.page.getByLabel('Import an export').setInputFiles(broken);
    await to.page.getByText(/notes\.json is no JSON/).waitFor();
    await picture(to.page, 'designs-import');
    assert.deepEqual([...from.complaints, ...to.complaints], []);
    await from.context.close();
    await to.context.close();
  } finally {
    await one.stop();
    await two.stop();
    remove();
  }
});

test('ten thousand designs are searched, ordered and scrolled', async () => {
  const { folder, remove } = freshFolder();
  const seeded = await startServer(join(folder, 'seed.sqlite'));
  const exported = await (await fetch(`${seeded.address}/api/workshop/export`)).json();
  await seeded.stop();
  const workshop = join(folder, 'many.sqlite');
  const file = join(folder, 'many.json');
  writeFileSync(file, JSON.stringify(manyOf(exported, 10_000)));
  const made = spawnSync(program, ['workshop', 'import', file, '--workshop', workshop], { encoding: 'utf8' });
  assert.equal(made.status, 0, made.stderr);
  const server = await startServer(workshop, []);
  try {
    const { page, context, complaints } = await newPage(browser, server.address);
    await atDesigns(page, server.address);
    await status(page, '10000 designs');
    await page.getByLabel('Order').selectOption('by name');
    await table(page).getByRole('button', { name: 'Design 00001', exact: true }).waitFor();
    await page.getByRole('searchbox').fill('Design 077');
    await status(page, '120 designs'); // 077 anywhere in the five digits: 100 at the end, ten in the middle, ten at the front
    await table(page).getByRole('button', { name: 'Design 00077', exact: true }).waitFor();
    await page.getByRole('searchbox').fill('');
    await status(page, '10000 designs');
    // To the very end, and a step back up by the keyboard.
    const viewport = table(page).getByRole('rowgroup');
    await viewport.evaluate((node) => (node.scrollTop = node.scrollHeight));
    await table(page).getByRole('button', { name: 'Design 10000', exact: true }).waitFor();
    await viewport.focus();
    await page.keyboard.press('Home');
    await table(page).getByRole('button', { name: 'Design 00001', exact: true }).waitFor();
    // However long the list, only the rows in sight are in the page.
    assert.ok((await table(page).getByRole('row').count()) < 60);
    await picture(page, 'designs-many');
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

/** An export with `count` copies of its first design, each with an id and a name of its own. */
function manyOf(exported, count) {
  const first = exported.designs[0];
  const text = (n) => String(n).padStart(5, '0');
  const designs = Array.from({ length: count }, (_, n) => ({ ...first, id: first.id.slice(0, 8) + `000${text(n)}`, name: `Design ${text(n + 1)}` }));
  return { ...exported, designs };
}

test('a packet is stopped half way, and the page goes on', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const { page, context, complaints } = await newPage(browser, server.address);
    await atDesigns(page, server.address);
    await (await choose(page, 'Heron 55')).getByRole('button', { name: 'Open', exact: true }).click();
    await page.locator('main h1').first().waitFor();
    await page.getByRole('button', { name: 'Print packet' }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByRole('button', { name: 'Make the packet' }).click();
    await dialog.getByRole('progressbar').waitFor();
    const stopped = page.waitForResponse((response) => response.request().method() === 'DELETE');
    await dialog.getByRole('button', { name: 'Stop' }).click();
    assert.equal((await stopped).status(), 204);
    await dialog.getByRole('button', { name: 'Make the packet' }).waitFor();
    assert.equal(await dialog.getByRole('link', { name: /\.pdf$/ }).count(), 0);
    await dialog.getByRole('button', { name: 'Make the packet' }).click();
    // Many sheets: minutes on a busy machine.
    await dialog.getByRole('link', { name: /\.pdf$/ }).waitFor({ timeout: 600_000 });
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

test('a handle follows the pointer, in steps that undo takes back at once', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const { page, context, complaints } = await newPage(browser, server.address);
    await atDesigns(page, server.address);
    await (await choose(page, 'Lantern 46')).getByRole('button', { name: 'Open', exact: true }).click();
    await page.locator('main h1').first().waitFor();
    const before = await fieldOf(page, 'Set pitch').inputValue();
    const handle = page.locator('[data-handle="propeller.pitch"]');
    const box = await handle.boundingBox();
    const x = box.x + box.width / 2, y = box.y + box.height / 2;
    await page.mouse.move(x, y);
    await page.mouse.down();
    for (let step = 1; step <= 10; ++step) await page.mouse.move(x, y - 2 * step);
    const answered = page.waitForResponse((response) => response.url().endsWith('/api/flight'));
    await page.mouse.move(x, y - 22);
    await answered;
    await picture(page, 'blade-dragged');
    await page.mouse.up();
    await until(async () => parseFloat(await fieldOf(page, 'Set pitch').inputValue()) > parseFloat(before) + 5, `a pitch well over ${before}`);
    await page.keyboard.press('Control+z');
    await until(async () => (await fieldOf(page, 'Set pitch').inputValue()) === before, 'the first pitch again');
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

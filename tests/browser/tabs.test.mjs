// Two tabs on one design, a server that goes away, and a killed one: nothing is overwritten or lost.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { join } from 'node:path';
import { fieldOf, freshFolder, newPage, picture, startBrowser, startServer, until } from './harness.mjs';

let browser;
before(async () => (browser = await startBrowser()));
after(async () => browser?.close());

async function open(page, address, name) {
  await page.goto(`${address}/designs`);
  await page.getByRole('button', { name }).first().click();
  await page.getByRole('button', { name: /^Open/ }).first().click();
  await page.getByRole('link', { name: 'Blade' }).click();
  await page.locator('main h1').first().waitFor();
}

async function setPitch(page, text) {
  const field = fieldOf(page, 'Set pitch');
  await field.click();
  await field.fill(text);
  const answered = page.waitForResponse((response) => response.url().endsWith('/api/flight'));
  await field.press('Enter');
  await answered;
}

async function save(page) {
  await page.getByRole('button', { name: 'Save', exact: true }).first().click();
  await page.getByRole('dialog').getByRole('button', { name: 'Save', exact: true }).click();
}

test('the second tab is told, and both states live on', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const one = await newPage(browser, server.address);
    const two = await newPage(browser, server.address, { ignore: [/412/] });
    await open(one.page, server.address, 'Lantern 46');
    await open(two.page, server.address, 'Lantern 46');
    await setPitch(one.page, '800 mm');
    await save(one.page);
    await one.page.getByText('not saved').waitFor({ state: 'hidden' });
    await setPitch(two.page, '740 mm');
    await save(two.page);
    const dialog = two.page.getByRole('dialog').filter({ hasText: 'Saved from another tab' });
    await dialog.waitFor();
    for (const pitch of [/800 mm/, /740 mm/]) await until(async () => pitch.test(await dialog.innerText()), `${pitch} told`);
    await picture(two.page, 'tabs-conflict');
    await dialog.getByRole('button', { name: /Keep mine/ }).click();
    await dialog.waitFor({ state: 'hidden' });
    const list = await (await fetch(`${server.address}/api/designs?q=Lantern`)).json();
    assert.equal(list.total, 1);
    const kept_pitches = async () => {
      const record = await (await fetch(`${server.address}/api/designs/${list.items[0].id}`)).json();
      return Promise.all(record.versions.map(async ({ version }) =>
        (await (await fetch(`${server.address}/api/designs/${record.id}/versions/${version}`)).json()).document.job.propeller.pitch));
    };
    await until(async () => {
      const pitches = await kept_pitches();
      return pitches.includes('800 mm') && pitches.includes('740 mm');
    }, 'both states in the workshop');
    assert.deepEqual([...one.complaints, ...two.complaints], []);
    await one.context.close();
    await two.context.close();
  } finally {
    await server.stop();
    remove();
  }
});

test('a server that stops is noticed, and work goes on when it is back', async () => {
  const { folder, remove } = freshFolder();
  const workshop = join(folder, 'workshop.sqlite');
  let server = await startServer(workshop);
  const port = new URL(server.address).port;
  try {
    const { page, context } = await newPage(browser, server.address, { ignore: [/./] });
    await open(page, server.address, 'Lantern 46');
    await server.stop('SIGKILL');
    const field = fieldOf(page, 'Set pitch');
    await field.click();
    await field.fill('810 mm');
    await field.press('Enter');
    await page.getByText(/does not answer|no longer answers|not answering/i).first().waitFor();
    await picture(page, 'server-gone');
    // Listened for before it is back: the page asks again by itself, at once.
    const answered = page.waitForResponse((response) => response.url().endsWith('/api/flight') && response.ok(), { timeout: 60_000 });
    server = await startServer(workshop, ['--port', port]);
    await answered;
    assert.equal(await field.inputValue(), '810');
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

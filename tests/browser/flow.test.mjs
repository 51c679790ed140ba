// A new user's way through the pages: describe a model in inches, find a better pitch, save, print, and
// find it all again after the server was restarted. The real server, a real workshop file.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { becomes, desktop, fieldOf, fitsItsWidth, freshFolder, newPage, phone, picture, startBrowser, startServer, until } from './harness.mjs';

let browser;
before(async () => (browser = await startBrowser()));
after(async () => browser?.close());

/** Seconds of the headline as the page shows them. */
async function headlineSeconds(page) {
  const text = await page.locator('main h1').first().innerText();
  const match = text.replaceAll('\n', ' ').match(/(?:(\d+)\s*min\s*)?(\d+)\s*s/);
  assert.ok(match, `no duration in "${text}"`);
  return 60 * Number(match[1] ?? 0) + Number(match[2]);
}

/** Writes a field as a hand would: select, type, leave with Enter; then waits for the answer to it. */
async function fill(page, label, text) {
  const field = fieldOf(page, label);
  await field.click();
  await field.fill(text);
  const answered = page.waitForResponse((response) => response.url().endsWith('/api/flight') && (response.request().postData() ?? '').includes(text));
  await field.press('Enter');
  return (await answered).json();
}

async function startFromExample(page, address, title) {
  await page.goto(`${address}/designs?start=example`);
  await page.getByRole('button', { name: `Start from ${title}` }).click();
  await page.locator('main h1').first().waitFor();
}

for (const [size, viewport] of [['desktop', desktop], ['phone', phone]]) {
  test(`describe one's own model in inches, better its pitch, save, print, find it again (${size})`, async () => {
    const { folder, remove } = freshFolder();
    const workshop = join(folder, 'workshop.sqlite');
    let server = await startServer(workshop);
    try {
      const { page, context, complaints } = await newPage(browser, server.address, { viewport, touch: size === 'phone', ignore: [/422/] });
      await startFromExample(page, server.address, 'Sparrow 16');

      // Brief, in inches, with mixed spellings of the same trade.
      await page.goto(`${server.address}/brief`);
      await page.getByRole('heading', { name: 'Hall', exact: false }).first().waitFor();
      await fill(page, 'Roof', '24 ft');
      await fill(page, 'Loop', '17 1/2 in');
      await picture(page, `flow-${size}-1-brief`);
      assert.ok(await fitsItsWidth(page), 'Brief sticks out sideways');

      // A bare nonsense is refused beside its field, and nothing else is lost.
      const roof = fieldOf(page, 'Roof');
      await roof.click();
      await roof.fill('24 bananas');
      await roof.press('Enter');
      const note = page.locator(`[id="${await roof.getAttribute('aria-describedby').then((ids) => ids.split(' ').at(-1))}"]`);
      await page.getByText(/bananas/).first().waitFor();
      assert.ok((await note.count()) > 0, 'the problem is not tied to its field');
      await picture(page, `flow-${size}-2-problem`);
      await fill(page, 'Roof', '24 ft');

      // Blade: more pitch until the flight is longer.
      await page.getByRole('link', { name: 'Blade' }).click();
      await page.locator('main h1').first().waitFor();
      const before = await headlineSeconds(page);
      let best = before;
      for (const pitch of ['15 in', '17 in', '18 in', '20 in']) {
        const { duration_s } = await fill(page, 'Set pitch', pitch);
        await until(async () => Math.abs((await headlineSeconds(page)) - duration_s) < 1, `the flight at ${pitch}`);
        best = Math.max(best, await headlineSeconds(page));
      }
      assert.ok(best > before, `no pitch flies longer than ${before} s`);
      await picture(page, `flow-${size}-3-blade`);
      assert.ok(await fitsItsWidth(page), 'Blade sticks out sideways');

      // Save under a name of one's own.
      await page.getByRole('button', { name: 'Save', exact: true }).click();
      const dialog = page.getByRole('dialog');
      await dialog.getByLabel('Name').fill('Kitchen table 16');
      await dialog.getByRole('button', { name: /Save as version/ }).click();
      await dialog.waitFor({ state: 'hidden' });
      const kept = await headlineSeconds(page);

      // The packet, downloaded.
      await page.getByRole('button', { name: 'Print packet' }).click();
      await page.getByRole('dialog').getByRole('button', { name: 'Make the packet' }).click();
      const link = page.getByRole('dialog').getByRole('link', { name: /\.pdf$/ });
      await link.waitFor({ timeout: 600_000 });
      await picture(page, `flow-${size}-4-packet`);
      const [download] = await Promise.all([page.waitForEvent('download'), link.click()]);
      const file = join(folder, 'packet.pdf');
      await download.saveAs(file);
      const bytes = readFileSync(file);
      assert.equal(bytes.subarray(0, 5).toString(), '%PDF-');
      assert.ok(bytes.length > 30_000, `only ${bytes.length} bytes of packet`);

      // Tomorrow.
      await context.close();
      assert.equal((await server.stop()).code, 0);
      server = await startServer(workshop, []);
      const next = await newPage(browser, server.address, { viewport });
      await next.page.goto(`${server.address}/designs`);
      await next.page.getByRole('button', { name: 'Kitchen table 16' }).click();
      await picture(next.page, `flow-${size}-5-designs`);
      await next.page.getByRole('button', { name: /^Open/ }).first().click();
      await next.page.getByRole('link', { name: 'Blade' }).click();
      await next.page.locator('main h1').first().waitFor();
      await becomes(() => headlineSeconds(next.page), kept, 'the flight as it was saved');
      assert.deepEqual([...complaints, ...next.complaints], []);
      await next.context.close();
    } finally {
      await server.stop();
      remove();
    }
  });
}

test('a launch that would hit the roof is warned of in words', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const { page, context, complaints } = await newPage(browser, server.address);
    await startFromExample(page, server.address, 'Lantern 46');
    await page.goto(`${server.address}/blade`);
    await page.locator('main h1').first().waitFor();
    const warnings = page.getByRole('list', { name: 'Warnings' });
    assert.ok(!(await warnings.getByText(/roof/i).isVisible().catch(() => false)));
    await page.goto(`${server.address}/brief`);
    await fill(page, 'Turns at launch', '1790');
    await page.getByRole('link', { name: 'Blade' }).click();
    await warnings.getByText(/roof/i).first().waitFor();
    await picture(page, 'warning-roof');
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

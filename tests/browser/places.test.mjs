// Every place in both colour schemes, wide and narrow, and at 200 % zoom: no accessibility problem that
// axe-core finds for WCAG 2.2 A and AA, nothing that sticks out sideways, and a picture to look at.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { join } from 'node:path';
import { accessibilityProblems, desktop, fieldOf, fitsItsWidth, freshFolder, newPage, phone, picture, startBrowser, startServer, until } from './harness.mjs';

let browser, server, fresh;
before(async () => {
  browser = await startBrowser();
  fresh = freshFolder();
  server = await startServer(join(fresh.folder, 'workshop.sqlite'));
});
after(async () => {
  await browser?.close();
  await server?.stop();
  fresh?.remove();
});

/** 200 % zoom halves the room in CSS pixels. */
const zoomed = { width: desktop.width / 2, height: desktop.height / 2 };
const places = ['brief', 'blade', 'designs'];

async function openLantern(page) {
  await page.goto(`${server.address}/designs`);
  await page.getByRole('button', { name: 'Lantern 46' }).first().click();
  await page.getByRole('button', { name: /^Open/ }).first().click();
}

for (const scheme of ['light', 'dark']) {
  for (const [size, viewport] of [['desktop', desktop], ['phone', phone], ['zoomed', zoomed]]) {
    test(`${scheme}, ${size}: accessible, within its width`, async () => {
      const { page, context, complaints } = await newPage(browser, server.address, { scheme, viewport });
      await openLantern(page);
      for (const place of places) {
        await page.getByRole('link', { name: place, exact: false }).first().click();
        await page.locator('main h1').first().waitFor();
        await page.waitForTimeout(600); // the doubt is sampled when the hand rests
        await picture(page, `${place}-${scheme}-${size}`);
        assert.deepEqual(await accessibilityProblems(page), [], `${place}, ${scheme}, ${size}`);
        assert.ok(await fitsItsWidth(page), `${place} sticks out sideways`);
      }
      assert.deepEqual(complaints, []);
      await context.close();
    });
  }
}

test('an empty workshop says what to do, and is accessible', async () => {
  const own = freshFolder();
  const empty = await startServer(join(own.folder, 'empty.sqlite'), []);
  try {
    for (const scheme of ['light', 'dark']) {
      const { page, context, complaints } = await newPage(browser, empty.address, { scheme });
      await page.goto(empty.address);
      await page.getByRole('button', { name: /Start from/ }).first().waitFor();
      await picture(page, `empty-${scheme}`);
      assert.deepEqual(await accessibilityProblems(page), []);
      assert.deepEqual(complaints, []);
      await context.close();
    }
  } finally {
    await empty.stop();
    own.remove();
  }
});

test('the held state stays as a ghost with its differences', async () => {
  const { page, context, complaints } = await newPage(browser, server.address);
  await openLantern(page);
  await page.getByRole('link', { name: 'Blade' }).click();
  await page.locator('main h1').first().waitFor();
  await page.getByRole('button', { name: 'Hold this one' }).click();
  const field = fieldOf(page, 'Set pitch');
  await field.click();
  await field.fill('820 mm');
  await field.press('Enter');
  await page.getByText(/against version 1/).first().waitFor();
  await page.waitForTimeout(1500);
  await picture(page, 'blade-held');
  assert.deepEqual(await accessibilityProblems(page), []);
  await page.getByRole('button', { name: 'Undo' }).click();
  await until(async () => (await field.inputValue()) === '780', 'the pitch of before');
  assert.deepEqual(complaints, []);
  await context.close();
});

test('what have I got: angles, a length and counted revs give pitch and flight', async () => {
  const { page, context, complaints } = await newPage(browser, server.address);
  await openLantern(page);
  await page.getByRole('link', { name: 'Blade' }).click();
  await page.getByRole('button', { name: 'What have I got?' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByLabel('Length, tip to tip').fill('15 3/8 in');
  await dialog.getByLabel('Counted revs, if known').fill('104 rpm');
  // A helix of 780 mm: atan(780/(2 pi r)).
  for (const [index, radius, angle] of [[1, '90 mm', '54 deg'], [2, '125 mm', '45 deg'], [3, '170 mm', '36 deg']]) {
    await dialog.getByLabel(`At radius ${index}`).first().fill(radius);
    await dialog.getByLabel(`Angle ${index}`).fill(angle);
  }
  await dialog.getByText(/of pitch/).waitFor();
  await picture(page, 'in-hand');
  await until(async () => /78\d(\.\d)?\s*mm/.test(await dialog.innerText()), 'the pitch of the helix');
  assert.deepEqual(await accessibilityProblems(page), []);
  await dialog.getByRole('button', { name: 'Take it over as the blade' }).click();
  await page.locator('main h1').first().waitFor();
  await picture(page, 'blade-measured');
  assert.deepEqual(complaints, []);
  await context.close();
});

test('units pressed before the design is there are those that it is shown in', async () => {
  const { items } = await (await fetch(`${server.address}/api/designs?limit=50`)).json();
  const lantern = items.find(({ name }) => name === 'Lantern 46');
  const { page, context, complaints } = await newPage(browser, server.address);
  await page.route('**/api/designs/**', async (route) => {
    await new Promise((resolve) => setTimeout(resolve, 1500));
    await route.continue();
  });
  await page.goto(`${server.address}/blade?design=${lantern.id}`);
  await page.getByText('inch', { exact: true }).click();
  await until(async () => (await fieldOf(page, 'Set pitch').inputValue({ timeout: 30000 })).startsWith('30.7'), '780 mm in inches');
  await context.unrouteAll({ behavior: 'ignoreErrors' });
  assert.deepEqual(complaints, []);
  await context.close();
});

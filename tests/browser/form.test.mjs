// The Form place: every kind, the section, the map, the gauge card, re-setting, true scale, files.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { after, before, test } from 'node:test';
import { join } from 'node:path';
import { accessibilityProblems, desktop, fieldOf, fitsItsWidth, freshFolder, newPage, phone, picture, startBrowser, startServer, until } from './harness.mjs';

let browser;
before(async () => (browser = await startBrowser()));
after(async () => browser?.close());

async function openForm(server, options) {
  const made = await newPage(browser, server.address, { ignore: [/422/], ...options });
  const { page } = made;
  await page.goto(`${server.address}/designs`);
  await page.getByRole('button', { name: 'Lantern 46', exact: true }).first().click();
  await page.getByRole('button', { name: 'Open', exact: true }).first().click();
  await page.getByRole('link', { name: 'Form', exact: true }).click();
  await page.locator('main h1 .big').first().waitFor();
  return made;
}

const kinds = ['ribbed', 'block', 'solid', 'cylinder', 'templates'];
const kindField = (page, kind) => page.locator(`input[name="form-kind"][value="${kind}"]`);

async function choose(page, kind) {
  const answered = page.waitForResponse((response) => response.url().endsWith('/api/form') && response.status() === 200);
  await kindField(page, kind).check({ force: true });
  await answered;
}

for (const [size, viewport, scheme] of [['desktop', desktop, 'light'], ['dark', desktop, 'dark'], ['phone', phone, 'light']]) {
  test(`the form is shown in every kind (${size})`, async () => {
    const { folder, remove } = freshFolder();
    const server = await startServer(join(folder, 'workshop.sqlite'));
    try {
      const { page, context, complaints } = await openForm(server, { viewport, scheme });
      // Set where it matters least: 45 degrees at P/2 pi of the set pitch, 780 mm.
      assert.match((await page.locator('main h1').innerText()).replace(/\s+/g, ' '), /45\.0° at 124\.1 mm/);
      for (const kind of size === 'desktop' ? kinds : ['ribbed', 'cylinder']) {
        if (kind !== 'ribbed') await choose(page, kind);
        await until(async () => (await page.getByRole('region', { name: 'The form', exact: true }).locator('svg path').count()) > 8, `a drawing of ${kind}`);
        if (kind === 'ribbed' || size === 'desktop') await picture(page, `form-${size}-${kind}`);
      }
      assert.deepEqual(await accessibilityProblems(page), []);
      assert.ok(await fitsItsWidth(page), 'the page sticks out sideways');
      assert.deepEqual(complaints, []);
      await context.close();
    } finally {
      await server.stop();
      remove();
    }
  });
}

test('section, gauge card, re-setting and true scale follow what is typed', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const { page, context, complaints } = await openForm(server, {});
    const section = page.getByRole('region', { name: 'The form', exact: true }).getByRole('slider').last();
    const before = await page.getByRole('region', { name: 'The form', exact: true }).innerText();
    await section.focus();
    for (let step = 0; step < 20; ++step) await page.keyboard.press('ArrowRight');
    await until(async () => (await page.getByRole('region', { name: 'The form', exact: true }).innerText()) !== before, 'another section');

    // A card for any radius; one off the blade is refused in words and the last card stays.
    const card = page.getByRole('region', { name: 'Gauge card', exact: true });
    await fieldOf(card, 'Card for radius').fill('90');
    await fieldOf(card, 'Card for radius').press('Enter');
    await until(async () => (await card.textContent()).includes('54.1°'), 'the angle of the set blade at 90 mm');
    await fieldOf(card, 'Card for radius').fill('400');
    await fieldOf(card, 'Card for radius').press('Enter');
    await card.getByText(/off the blade/).first().waitFor();
    await fieldOf(card, 'Card for radius').fill('');
    await fieldOf(card, 'Card for radius').press('Enter');

    // 580 mm made, 47 degrees at 90 mm: 2 pi 90 tan(47) = 606 mm there.
    const reset = page.getByRole('region', { name: 'Re-set', exact: true });
    await fieldOf(reset, 'Made on').fill('580');
    await fieldOf(reset, 'Made on').press('Enter');
    await fieldOf(reset, 'At radius').fill('90');
    await fieldOf(reset, 'At radius').press('Enter');
    await fieldOf(reset, 'Set to angle').fill('47');
    await fieldOf(reset, 'Set to angle').press('Enter');
    await until(async () => (await reset.innerText()).includes('606'), 'the pitch at 90 mm');

    // The ruler's reading is kept for this screen.
    const scale = page.getByRole('region', { name: 'Calibration of the screen' });
    const hold = page.getByRole('button', { name: 'Hold a ruler to the screen' });
    await hold.click();
    await scale.getByText(/Not calibrated/).waitFor();
    const bar = scale.locator('svg[data-bar]');
    const width = async () => (await bar.boundingBox()).width;
    const first = await width();
    await scale.getByRole('button', { name: 'Much longer' }).click();
    await until(async () => (await width()) > first + 5, 'a longer bar');
    await scale.getByText(/Not calibrated/).waitFor({ state: 'detached' });
    const kept = await width();
    await page.reload();
    await hold.click();
    await bar.waitFor();
    await until(async () => Math.abs((await width()) - kept) < 1, 'the same bar after a reload');
    await picture(page, 'form-calibrated');
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

test('each file is made, comes by itself and begins as its kind does', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const { page, context, complaints } = await openForm(server, {});
    const files = [['A4', '%PDF'], ['Letter', '%PDF'], ['SVG', '<?xml'], ['DXF mm', '999'], ['DXF inch', '999'], ['STL', 'Form, anticlockwise'], ['3MF', 'PK'], ['STEP', 'ISO-10303-21']];
    for (const [name, begins] of files) {
      const coming = page.waitForEvent('download');
      await page.getByRole('button', { name, exact: true }).click();
      const file = await coming;
      const text = readFileSync(await file.path()).toString('latin1', 0, 80);
      if (begins === '999') assert.match(text, /SECTION|999/, name);
      else assert.ok(text.startsWith(begins), `${name} begins ${text}`);
      assert.match(file.suggestedFilename(), /^lantern-46-form-/);
    }
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

test('a form on the shelf is kept, offered to Shape it, and put away', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const { page, context, complaints } = await openForm(server, {});
    await page.getByRole('button', { name: /Add a form/ }).click();
    const dialog = page.getByRole('dialog');
    await fieldOf(dialog, 'Name').fill('Birch 30');
    await dialog.getByLabel('Pitch', { exact: true }).fill('30 in');
    await picture(page, 'form-shelf-dialog');
    await dialog.getByRole('button', { name: 'Keep' }).click();
    await dialog.waitFor({ state: 'hidden' });
    await page.getByText('Birch 30').first().waitFor();
    await picture(page, 'form-shelf');
    assert.deepEqual(await accessibilityProblems(page), []);
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

// How quick the pages are, printed for docs/speed.md. Times are printed, not asserted: the machines that
// run this are shared. What is asserted does not depend on them: the size of the bundle, and that every
// change was drawn.
import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { gzipSync } from 'node:zlib';
import { freshFolder, newPage, root, spread, startBrowser, startServer, until } from './harness.mjs';

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

// In ./check a look is enough; PROPWRIGHT_PACE=full measures what docs/speed.md tells.
const full = process.env.PROPWRIGHT_PACE === 'full';

const ms = (value) => `${value.toFixed(1)} ms`;

test('a handle moved by keys is redrawn from the server', async (t) => {
  const { page, context, complaints } = await newPage(browser, server.address);
  await page.goto(`${server.address}/designs`);
  await page.getByRole('button', { name: 'Lantern 46' }).first().click();
  await page.getByRole('button', { name: /^Open/ }).first().click();
  await page.getByRole('link', { name: 'Blade' }).click();
  await page.locator('main h1').first().waitFor();
  await page.waitForTimeout(1500);
  const handle = page.getByRole('slider', { name: /pitch/i }).first();
  await handle.focus();
  await page.evaluate(() => performance.clearMeasures());
  const drawn = () => page.evaluate(() => performance.getEntriesByName('handle-to-frame').length);
  const steps = full ? 120 : 30;
  for (let step = 0; step < steps; ++step) {
    await handle.press(step % 40 < 20 ? 'ArrowUp' : 'ArrowDown');
    await page.waitForTimeout(30);
  }
  await until(async () => (await drawn()) > 0, 'a change drawn');
  await page.waitForTimeout(300);
  for (const name of ['handle-to-redraw', 'handle-to-frame']) {
    const times = await page.evaluate((n) => performance.getEntriesByName(n).map((entry) => entry.duration), name);
    const { median, p95, count } = spread(times);
    t.diagnostic(`${name}: median ${ms(median)}, p95 ${ms(p95)}, ${count} of ${steps} changes`);
  }
  // On a busy machine one answer serves several keys; a key that is given its time is drawn by itself.
  for (let step = 0; step < 3; ++step) {
    const before = await drawn();
    await handle.press('ArrowUp');
    await until(async () => (await drawn()) > before, 'the change drawn');
  }
  assert.deepEqual(complaints, []);
  await context.close();
});

test('the first page, the server and the bundle', async (t) => {
  const starts = [];
  for (let i = 0; i < (full ? 5 : 1); ++i) {
    const own = freshFolder();
    const one = await startServer(join(own.folder, 'workshop.sqlite'), []);
    starts.push(one.startedIn);
    await one.stop();
    own.remove();
  }
  t.diagnostic(`server start, fresh workshop: median ${ms(spread(starts).median)}`);

  const loads = [];
  for (let i = 0; i < (full ? 5 : 1); ++i) {
    const { page, context } = await newPage(browser, server.address);
    const began = performance.now();
    await page.goto(`${server.address}/designs`);
    await page.getByRole('table', { name: 'Designs' }).waitFor();
    loads.push(performance.now() - began);
    await context.close();
  }
  t.diagnostic(`first page with its list, nothing cached: median ${ms(spread(loads).median)}`);

  const status = readFileSync(`/proc/${server.pid}/status`, 'utf8');
  t.diagnostic(`memory of the server: ${(Number(status.match(/VmRSS:\s+(\d+)/)[1]) / 1024).toFixed(0)} MB`);

  // What a place loads when it is the first to be opened, fonts and all; the 3-D part comes after it.
  const pages = process.env.PROPWRIGHT_PAGES ?? join(root, 'build', 'release', 'src', 'server', 'web', 'dist');
  const zipped = (name) => {
    const bytes = readFileSync(join(pages, 'assets', name));
    return /\.(js|css)$/.test(name) ? gzipSync(bytes, { level: 9 }).length : bytes.length;
  };
  for (const place of ['designs', 'blade', 'form', 'bench', 'floor', 'verdict']) {
    const { page, context } = await newPage(browser, server.address);
    await page.goto(`${server.address}/${place}`);
    await page.waitForLoadState('networkidle');
    const loaded = await page.evaluate(() =>
      performance.getEntriesByType('resource').map(({ name }) => new URL(name).pathname).filter((path) => path.startsWith('/assets/')));
    await context.close();
    const names = [...new Set(loaded)].map((path) => path.slice('/assets/'.length)).filter((name) => !name.startsWith('Solid'));
    const size = names.reduce((sum, name) => sum + zipped(name), 0);
    t.diagnostic(`${place} opened first: ${(size / 1000).toFixed(0)} kB gzipped with fonts, without the 3-D part`);
    assert.ok(names.length > 3, `${place} loaded ${names}`);
    assert.ok(size <= 300_000, `${place}: ${size} bytes before the 3-D part`);
  }
  const all = readdirSync(join(pages, 'assets')).reduce((sum, name) => sum + zipped(name), 0);
  t.diagnostic(`all of the pages: ${(all / 1000).toFixed(0)} kB`);
});

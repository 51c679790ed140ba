// The life of a propeller as a builder meets it: a repair opens a new state, the bench is measured again, flights
// come under its name, a photo and labels; the code on a box opens its page.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { after, before, test } from 'node:test';
import { join } from 'node:path';
import { accessibilityProblems, desktop, fieldOf, fitsAt, freshFolder, newPage, phone, picture, pictures, root, startBrowser, startServer, until } from './harness.mjs';

const jsQR = createRequire(join(root, 'web', 'package.json'))('jsqr');
let browser;
before(async () => (browser = await startBrowser()));
after(async () => browser?.close());

/** So many days before today: told by one look at the clock, so that midnight does not part them. */
const began = Date.now();
const day = (ago) => new Date(began - ago * 24 * 3600e3).toISOString().slice(0, 10);

const press = (page, words) => page.getByRole('button', { name: words, exact: true }).click();

async function ask(server, method, path, body, etag) {
  const headers = { ...(body ? { 'Content-Type': 'application/json' } : {}), ...(etag ? { 'If-Match': etag } : {}) };
  const reply = await fetch(`${server.address}/api/${path}`, { method, headers, ...(body ? { body: JSON.stringify(body) } : {}) });
  const answer = await reply.json();
  assert.ok(reply.ok, `${method} ${path}: ${JSON.stringify(answer)}`);
  return answer;
}

const blade = (mass, inner, outer) => ({
  blade: { mass, length: '190.5 mm', centre_of_mass: '80 mm', angles: [{ radius: '60 mm', angle: inner }, { radius: '150 mm', angle: outer }] },
});

/** The invented propeller P14, measured and flown, and P15 beside it. */
async function twoPropellers(server) {
  const made = async (kind, name, section, links) => (await ask(server, 'POST', kind, { name, section, links })).id;
  const a = await made('blades', 'P14, blade A', blade('150 mg', '32 deg', '18 deg'), {});
  const b = await made('blades', 'P14, blade B', blade('151 mg', '32.2 deg', '18.1 deg'), {});
  const hub = await made('hubs', 'P14, hub', { hub: {} }, {});
  const section = { propeller: { set_angle: '24 deg', set_radius: '100 mm', assembled: day(30) } };
  const p15 = await made('propellers', 'P15', { propeller: { begun: day(28) } }, {});
  const p14 = await made('propellers', 'P14', section, { blade_a_id: a, blade_b_id: b, hub_id: hub });
  const flights = [741, 735, 748, 739].map((duration_s, at) => ({ flight: { id: `h${at}`, time: `${day(25 - at)}T14:05`, propeller: 'P14', motor: '23', duration_s } }));
  flights.push({ flight: { id: 'h9', time: `${day(22)}T15:10`, propeller: 'P14', motor: '23', duration_s: 402, flag: 'hang_up', notes: 'on the wall bars' } });
  await ask(server, 'POST', 'flights/merge', { flights });
  return { p14, p15, a };
}

/** The QR code in a rectangle of a page drawn as PPM. */
function code_in(ppm) {
  const text = ppm.subarray(0, 40).toString('latin1');
  const [head, width, height] = /^P6\s+(\d+)\s+(\d+)\s+255\s/.exec(text);
  const pixels = new Uint8ClampedArray(width * height * 4);
  for (let at = 0; at < width * height; ++at) {
    for (let part = 0; part < 3; ++part) pixels[4 * at + part] = ppm[head.length + 3 * at + part];
    pixels[4 * at + 3] = 255;
  }
  return jsQR(pixels, Number(width), Number(height))?.data ?? '';
}

test('a repair opens a new state that is compared with the old one', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const { p14, p15, a } = await twoPropellers(server);
    const { page, context, complaints } = await newPage(browser, server.address, { viewport: desktop });
    await page.goto(`${server.address}/bench?part=history&propeller=${p14}`);
    await page.getByText('5 logged under this name').waitFor();
    await page.getByRole('heading', { name: /^State 1/ }).waitFor();
    // Without one in the address it is the propeller in hand, and the address says so.
    await page.goto(`${server.address}/bench?part=history`);
    await until(() => page.url().includes(`propeller=${p14}`), 'the propeller in the address');
    await page.getByRole('heading', { name: /^State 1/ }).waitFor();

    await page.getByLabel('What', { exact: true }).selectOption('repair');
    await fieldOf(page, 'Day, with the time if it matters').fill('5 Nov');
    await press(page, 'Write it down');
    await page.getByText('this is no day').first().waitFor();
    await fieldOf(page, 'Day, with the time if it matters').fill(day(21));
    await fieldOf(page, 'In words').fill('tip of A glued, covering patched');
    await press(page, 'Write it down');
    await page.getByRole('heading', { name: /^State 2/ }).waitFor();
    await page.getByText('One thing to look at').waitFor();
    await page.getByText(/A repair adds mass/).waitFor();
    await page.getByText(/Too few flights to compare seconds: 4 before and 0 after/).waitFor();

    // Measured again on the bench, and flown.
    const seen = await ask(server, 'GET', `blades/${a}`);
    await ask(server, 'PUT', `blades/${a}`, { name: seen.name, section: blade('158 mg', '31.4 deg', '18.2 deg'), links: {} }, seen.etag);
    await ask(server, 'POST', 'flights/merge', { flights: [725, 731, 722].map((duration_s, at) => ({ flight: { id: `i${at}`, time: `${day(20)}T14:1${at}`, propeller: 'P14', motor: '23', duration_s } })) });
    await page.reload();
    const states = page.getByRole('region', { name: 'States' });
    await states.getByRole('row', { name: /mass, A/ }).getByText('+8.0').waitFor();
    await states.getByRole('row', { name: /mean angle, A/ }).getByText('−0.2').waitFor();
    await states.getByRole('row', { name: /twist, A/ }).getByText('−0.8').waitFor();
    await states.getByRole('row', { name: /mass, B/ }).getByText('as before').waitFor();
    await states.getByText(/14\s+s shorter|15\s+s shorter/).waitFor();
    await page.getByText('Nothing asks to be measured again').waitFor();

    // The pitch is the mean of what was measured, and is called so; parts go by the propeller's present name.
    await page.locator('dl div', { hasText: 'pitch, mean as measured' }).waitFor();
    await page.locator('dl dd', { hasText: 'P14, blade A' }).waitFor();
    const name = page.getByLabel('Propeller', { exact: true });
    await name.fill('P14 long');
    await name.press('Tab');
    for (const part of ['blade A', 'blade B', 'hub']) await page.locator('dl dd', { hasText: `P14 long, ${part}` }).waitFor();
    await until(async () => (await ask(server, 'GET', `blades/${a}`)).name === 'P14 long, blade A', 'the blade renamed in the workshop');
    await name.fill('P14');
    await name.press('Tab');
    await until(async () => (await ask(server, 'GET', `blades/${a}`)).name === 'P14, blade A', 'the blade named as before');

    // A photo is made small and comes back.
    const photo = join(folder, 'photo.png');
    await page.screenshot({ path: photo });
    await fieldOf(page, 'What it shows').fill('tip of A');
    await page.getByRole('region', { name: 'Photos' }).locator('input[type="file"]').setInputFiles(photo);
    const shown = page.getByRole('img', { name: 'tip of A' });
    await shown.waitFor();
    await until(async () => shown.evaluate((image) => image.complete && image.naturalWidth > 0), 'the photo shown');
    writeFileSync(join(folder, 'no-picture.png'), 'nothing');
    await page.getByRole('region', { name: 'Photos' }).locator('input[type="file"]').setInputFiles(join(folder, 'no-picture.png'));
    await page.getByText(/is no picture that this browser reads/).waitFor();

    await picture(page, 'history-desktop');
    assert.deepEqual(await accessibilityProblems(page), []);
    await fitsAt(page, phone, 'the history');
    await picture(page, 'history-phone');
    assert.deepEqual(await accessibilityProblems(page), []);
    await page.setViewportSize(desktop);

    // Labels of both, on one page; the code on a box opens the propeller's page.
    await press(page, 'Print labels');
    await page.getByRole('checkbox', { name: 'P15' }).check();
    await picture(page, 'history-labels');
    const coming = page.waitForEvent('download');
    await press(page, 'A4');
    const pdf = join(pictures, 'propeller-labels.pdf');
    await (await coming).saveAs(pdf);
    execFileSync('pdftoppm', ['-r', '300', '-f', '1', '-l', '1', '-singlefile', '-x', '0', '-y', '0', '-W', '1220', '-H', '1400', pdf, join(folder, 'labels')]);
    const code = code_in(readFileSync(join(folder, 'labels.ppm')));
    assert.ok([p14, p15].some((id) => code === `${server.address}/bench?part=history&propeller=${id}`), `the code says ${code}`);
    await press(page, 'Close');
    await page.goto(code.replace(/propeller=.*/, `propeller=${p15}`));
    await page.getByText('P15, put together').waitFor();
    await page.goto(`${server.address}/bench?part=history&propeller=nowhere`);
    await page.getByText(/There is no propeller with the id nowhere/).waitFor();

    assert.deepEqual(complaints.filter((text) => !/422|Unprocessable/.test(text)), []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

test('the design is the one that bears the name; a repair starts now; what has no date is told', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const { items: designs } = await ask(server, 'GET', 'designs?limit=50&sort=-updated_at');
    const full = await Promise.all(designs.map(({ id }) => ask(server, 'GET', `designs/${id}`)));
    const named = full.find(({ document }) => document.job.propeller?.name === 'L46-A');
    const other = full.find(({ document }) => document.job.propeller?.name && document.job.propeller.name !== 'L46-A');
    assert.ok(named && other && named.id !== designs[0].id, 'the examples: L46-A is the propeller of a design that is not the newest');
    const { id } = await ask(server, 'POST', 'propellers', { name: 'Propeller 1', section: { propeller: { begun: day(25) } }, links: { design_id: designs[0].id } });
    const flown = day(2);
    const today = await ask(server, 'POST', 'flights/merge', { flights: [
      { flight: { id: 'a1', time: `${flown}T09:00`, propeller: 'L46-A', duration_s: 447 } }, { flight: { id: 'a2', time: `${flown}T09:30`, propeller: 'L46-A', duration_s: 459 } },
      { flight: { id: 'a3', propeller: 'L46-A', duration_s: 440 } }] });
    assert.equal(today.flights.length, 3);

    const { page, context, complaints } = await newPage(browser, server.address, { viewport: desktop });
    await page.goto(`${server.address}/bench?part=history&propeller=${id}`);
    const chosen = page.getByLabel('Design of this propeller');
    await until(async () => (await chosen.inputValue()) === designs[0].id, 'the design it was begun with');
    await fieldOf(page, 'Propeller').fill('L46-A');
    await fieldOf(page, 'Propeller').press('Tab');
    await until(async () => (await chosen.inputValue()) === named.id, 'the design whose propeller bears the name');
    await until(async () => (await ask(server, 'GET', `propellers/${id}`)).links.design_id === named.id, 'that design in the workshop');
    await page.getByText('3 logged under this name, 1 of them without a date').waitFor();
    await page.getByText(/^One flight without a date is in none of the states/).waitFor();

    // By hand it can be any, told where its propeller has another name, and a new name does not take it back.
    await chosen.selectOption(other.id);
    await page.getByText(`Its propeller is named ${other.document.job.propeller.name} there.`, { exact: false }).waitFor();
    await until(async () => (await ask(server, 'GET', `propellers/${id}`)).links.design_id === other.id, 'the one chosen by hand');
    await fieldOf(page, 'Propeller').fill('l46-a');
    await fieldOf(page, 'Propeller').press('Tab');
    await until(async () => (await ask(server, 'GET', `propellers/${id}`)).name === 'l46-a', 'the new name');
    assert.equal((await ask(server, 'GET', `propellers/${id}`)).links.design_id, other.id);
    await fieldOf(page, 'Propeller').fill('L46-A');
    await fieldOf(page, 'Propeller').press('Tab');
    await page.getByText('3 logged under this name', { exact: false }).waitFor();

    // A repair is of now: flights flown before it stay in the state before it.
    const when = fieldOf(page, 'Day, with the time if it matters');
    await until(async () => /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}$/.test(await when.inputValue()), 'the minute of now');
    await fieldOf(page, 'In words').fill('new tip on blade B');
    await picture(page, 'history-design');
    await press(page, 'Write it down');
    await page.getByRole('heading', { name: /^State 2/ }).waitFor();
    await page.getByText('No flight logged in this state.').waitFor();
    await page.getByText(/^2 flights; mean/).waitFor();
    await when.fill(flown);
    await page.getByText(/every flight of the day counts as flown after the repair/).waitFor();
    const last = await ask(server, 'GET', `propellers/${id}`);
    assert.deepEqual([last.name, last.links.design_id], ['L46-A', other.id], 'still the one chosen by hand');
    assert.deepEqual(await accessibilityProblems(page), []);
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

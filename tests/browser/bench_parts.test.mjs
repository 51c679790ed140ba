// The Bench place beyond the spars: stock and its pick list, the rolled tube, two blades and their trim, a
// propeller put together from a pair of spars with its ledger; all of it records of the workshop.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { join } from 'node:path';
import { accessibilityProblems, desktop, fieldOf, fitsItsWidth, freshFolder, newPage, phone, picture, startBrowser, startServer, until } from './harness.mjs';

let browser;
before(async () => (browser = await startBrowser()));
after(async () => browser?.close());

async function openPart(page, server, part) {
  await page.goto(`${server.address}/bench?part=${part}`);
  await page.locator('.bench-place h1').first().waitFor();
}

async function metric(page) {
  await page.locator('input[name=units][value=metric]').check({ force: true });
}

/** As a builder types: the text, then Enter. */
async function give(scope, label, text) {
  await fieldOf(scope, label).fill(text);
  await fieldOf(scope, label).press('Enter');
}

const kept = (page) => page.getByText('kept in the workshop', { exact: true }).first().waitFor();
const records = async (server, kind) => (await (await fetch(`${server.address}/api/${kind}?limit=1000`)).json()).items;

async function give_blade(page, id, length, mass, balances, angles) {
  await give(page, `Length of ${id}, shaft to tip`, length);
  await give(page, `Mass of ${id}`, mass);
  await give(page, `${id} balances at`, balances);
  const row = page.getByRole('group', { name: `Blade ${id}`, exact: true });
  for (const [index, angle] of angles.entries()) {
    await row.locator('input').nth(3 + index).fill(angle);
    await row.locator('input').nth(3 + index).press('Enter');
  }
}

/** A batch of two spars alike, as the Spars page keeps it. */
async function two_spars(server) {
  const post = async (kind, body) => {
    const response = await fetch(`${server.address}/api/${kind}`, { method: 'POST', headers: { 'Content-Type': 'application/json', Origin: server.address }, body: JSON.stringify(body) });
    assert.equal(response.status, 201, `${kind}: ${await response.clone().text()}`);
    return (await response.json()).id;
  };
  const rig = { load: '0.27 g', load_at: '6 in', read_at: '6 in', resolution: '1 thou', repeatability: '2 thou' };
  const batch_id = await post('batches', { name: 'Batch 7', section: { batch: { rig } } });
  const state = (up, side) => ({ root_width: '59.5 thou', tip_width: '31 thou', mass: '27 mg', reading_0: [`${up} thou`], reading_90: [`${side} thou`] });
  for (const [id, up, side] of [['3', 380, 404], ['8', 381, 403]]) {
    await post('spars', { name: id, section: { spar: { id, length: '7.25 in', states: [state(up, side)] } }, links: { batch_id } });
  }
}

test('stock is weighed into densities, and each part gets its sheet', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const { page, context, complaints } = await newPage(browser, server.address);
    await openPart(page, server, 'stock');
    await metric(page);
    for (const [name, thickness, mass, grain] of [['Sheet 1', '2.1 mm', '10.6 g', 'A'], ['Sheet 2', '0.8 mm', '4.4 g', 'C']]) {
      await page.getByLabel('Name', { exact: true }).fill(name);
      await give(page, 'Length', '914 mm');
      await give(page, 'Width', '76 mm');
      await give(page, 'Thickness', thickness);
      await give(page, 'Mass', mass);
      await page.getByLabel('Grain', { exact: true }).selectOption(grain);
      await page.getByRole('button', { name: 'Next one' }).click();
      await page.getByRole('button', { name: `Change ${name}` }).waitFor();
    }
    // 10.6 g over 914 x 76 x 2.1 mm is 73 kg/m³ and thick enough: for the spars.
    await page.getByRole('heading', { name: 'Sheet 1 for the spars' }).waitFor();
    assert.match(await page.getByRole('region', { name: 'Which sheet for which part' }).innerText(), /Sheet 2/);
    assert.deepEqual(await accessibilityProblems(page), []);
    await picture(page, 'bench-stock');

    // A thickness that is none is told beside its field; the rest of the shelf stays.
    await give(page, 'Length', '914 mm');
    await give(page, 'Thickness', '-1 mm');
    await page.locator('[data-field="stock.thickness"] .warn-bar').waitFor();
    await page.getByRole('heading', { name: 'Sheet 1 for the spars' }).waitFor();
    await page.reload();
    await page.getByRole('button', { name: 'Change Sheet 2' }).waitFor();
    assert.deepEqual((await records(server, 'stocks')).map((record) => record.name).filter((name) => /Sheet [12]/.test(name)).sort(), ['Sheet 1', 'Sheet 2']);
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

test('two blades are measured, re-set and trimmed; a propeller is put together with its ledger, and all survives a restart', async () => {
  const { folder, remove } = freshFolder();
  const file = join(folder, 'workshop.sqlite');
  let server = await startServer(file);
  try {
    await two_spars(server);
    let { page, context, complaints } = await newPage(browser, server.address);
    await openPart(page, server, 'blades');
    await metric(page);
    for (const [place, radius] of [['Radius 1', '75'], ['Radius 2', '125'], ['Radius 3', '150']]) await give(page, place, radius);
    await give_blade(page, 'A', '178.5', '52.4', '88', ['64.2', '48.0', '42.6']);
    await page.getByText(/Still wanted: the length of B/).waitFor();
    await give_blade(page, 'B', '178.4', '51.8', '87.4', ['60.6', '44.5', '39.2']);
    // B stands about 3.5 degrees lower all along: it is turned up, and A is the heavy one (52.4 x 88 against 51.8 x 87.4).
    await until(async () => /3\.5/.test(await page.locator('.bench-place .figure').first().innerText()), 'the turn of B');
    const checks = page.getByRole('list', { name: 'Checks of the pair' });
    assert.match(await checks.innerText(), /re-set/);
    await kept(page);
    await picture(page, 'bench-blades-reset');
    for (const [index, angle] of ['64.1', '48.0', '42.7'].entries()) await give(page.getByRole('group', { name: 'Blade B', exact: true }), `Angle of B at ${['75', '125', '150'][index]} mm`, angle);
    await until(async () => !/re-set/.test(await checks.innerText()), 'both set alike');
    assert.match(await page.locator('figure svg').first().textContent(), /add .*mg/);
    assert.deepEqual(await accessibilityProblems(page), []);
    await picture(page, 'bench-blades-trim');

    await page.getByRole('button', { name: 'Take a pair of spars' }).click();
    await page.getByRole('button', { name: /^Take (3 and 8|8 and 3)/ }).click();
    await page.getByText(/on spar/).first().waitFor();
    await kept(page);

    await openPart(page, server, 'hub');
    await give(page, 'Spar root', '1.5 mm');
    await page.getByLabel('Root is', { exact: true }).selectOption('square');
    await give(page, 'Paper, thickness', '0.025 mm');
    await give(page, 'Paper, mass', '12 g/m2');
    // The diagonal of 1.5 mm square is 2.12 mm, so the wire is thicker than that.
    await page.getByRole('heading', { name: /4 wraps on this wire/ }).waitFor();
    assert.ok(Number((await page.locator('.bench-place .figure .big').first().innerText()).trim()) > 2.12);
    await give(page, 'Hook, to and fro', '0.8 mm');
    await page.getByRole('list', { name: 'Checks of the hub' }).waitFor();
    await kept(page);
    assert.deepEqual(await accessibilityProblems(page), []);
    await picture(page, 'bench-hub');

    await openPart(page, server, 'weights');
    await give(page, 'Weighed mass of Spars', '64');
    await page.getByLabel('Another part', { exact: true }).fill('Washers');
    await page.getByRole('button', { name: 'Add it' }).click();
    await give(page, 'Weighed mass of Washers', '4.2');
    await kept(page);
    await until(async () => (await records(server, 'weights')).some((record) => JSON.stringify(record.section).includes('4.2 mg')), 'the ledger in the workshop');
    assert.deepEqual(await accessibilityProblems(page), []);
    await picture(page, 'bench-weights');

    const [propeller] = await records(server, 'propellers');
    const blades = await records(server, 'blades');
    const [ledger] = await records(server, 'weights');
    assert.deepEqual(new Set([propeller.links.blade_a_id, propeller.links.blade_b_id]), new Set(blades.map((blade) => blade.id)));
    assert.ok(blades.every((blade) => blade.links.spar_id), 'each blade has its spar');
    assert.equal(propeller.links.hub_id, (await records(server, 'hubs'))[0].id);
    assert.equal(ledger.links.propeller_id, propeller.id);
    assert.deepEqual(complaints, []);
    await context.close();

    await server.stop();
    server = await startServer(file);
    ({ page, context, complaints } = await newPage(browser, server.address));
    await openPart(page, server, 'blades');
    await until(async () => (await fieldOf(page, 'Mass of A').inputValue()).startsWith('52.4'), 'blade A after a restart');
    await page.getByText(/on spar/).first().waitFor();
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

test('what two tabs write meets, and neither is lost', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const one = await newPage(browser, server.address, { ignore: [/412/] });
    await openPart(one.page, server, 'blades');
    await metric(one.page);
    await give(one.page, 'Mass of A', '52.4 mg');
    await kept(one.page);
    const other = await newPage(browser, server.address, { ignore: [/412/] });
    await openPart(other.page, server, 'blades');
    await until(async () => (await fieldOf(other.page, 'Mass of A').inputValue()).startsWith('52.4'), 'the same blade in the other tab');
    await give(other.page, 'Mass of A', '52.9 mg');
    await kept(other.page);
    await until(async () => (await records(server, 'blades')).some((record) => JSON.stringify(record.section).includes('52.9')), 'the other tab’s reading');
    await give(one.page, 'Mass of A', '53.3 mg');
    const dialog = one.page.getByRole('dialog');
    await dialog.getByText('52.9 mg').waitFor();
    await dialog.getByRole('button', { name: 'Keep mine' }).click();
    await until(async () => (await records(server, 'blades')).some((record) => JSON.stringify(record.section).includes('53.3')), 'mine, chosen');
    assert.deepEqual([...one.complaints, ...other.complaints], []);
    await one.context.close();
    await other.context.close();
  } finally {
    await server.stop();
    remove();
  }
});

for (const [size, viewport, scheme] of [['phone', phone, 'light'], ['dark', desktop, 'dark'], ['tablet', { width: 820, height: 1180 }, 'light']]) {
  test(`every part of the bench fits and reads well (${size})`, async () => {
    const { folder, remove } = freshFolder();
    const server = await startServer(join(folder, 'workshop.sqlite'));
    try {
      const { page, context, complaints } = await newPage(browser, server.address, { viewport, scheme, touch: size === 'phone' });
      for (const part of ['blades', 'hub', 'weights', 'stock']) {
        await openPart(page, server, part);
        if (part === 'blades') {
          await metric(page);
          await give_blade(page, 'A', '178.5 mm', '52.4 mg', '88 mm', ['64.2', '48.0']);
          await give_blade(page, 'B', '178.1 mm', '51.8 mg', '87.4 mm', ['63.0', '47.1']);
          await page.getByRole('list', { name: 'Checks of the pair' }).waitFor();
        }
        assert.ok(await fitsItsWidth(page), `${part} sticks out sideways`);
        if (size === 'phone') {
          const small = await page.locator('.bench-place :is(button, input:not([type=radio]):not([type=checkbox]), select)').evaluateAll((all) => all.filter((each) => each.offsetParent && each.getBoundingClientRect().height < 43.5).map((each) => each.outerHTML.slice(0, 120)));
          assert.deepEqual(small, []);
        }
        if (size !== 'tablet') assert.deepEqual(await accessibilityProblems(page), []);
        await picture(page, `bench-${part}-${size}`);
      }
      assert.deepEqual(complaints, []);
      await context.close();
    } finally {
      await server.stop();
      remove();
    }
  });
}

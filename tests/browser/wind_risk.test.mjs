// How far the winding card winds: by the breaks of the batch, to a chance of a break, or to the job's share; the page,
// the paper and the command tell one number and where it comes from.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { after, before, test } from 'node:test';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { looked, press, type } from './floor_steps.mjs';
import { desktop, freshFolder, newPage, phone, program, root, startBrowser, startServer, until } from './harness.mjs';

let browser;
before(async () => (browser = await startBrowser()));
after(async () => browser?.close());

const says = (page, text) => page.getByText(text).first().waitFor();
const turns_shown = async (page) => Number((await page.locator('.figure .big').innerText()).replace(/\D/g, ''));
const ask = async (server, method, path, body, headers = {}) => {
  const reply = await fetch(`${server.address}/api/${path}`, { method, headers: { 'Content-Type': 'application/json', ...headers }, body: JSON.stringify(body) });
  assert.ok(reply.ok, `${method} ${path}: ${reply.status}`);
  return { body: await reply.json(), etag: reply.headers.get('ETag') };
};

/** Half motors, whose size stands once for all of them. */
const size = { width: '2.05 mm', thickness: '1.04 mm', strands: 2, length: '184 mm' };
const box = (turns) => ({ name: 'Box 7', section: { rubber: {}, breaking: { risk: '5 %', ...size, winds: turns.map((each) => ({ turns: String(each) })) } }, links: {} });

/** What the command tells with the same breaks. */
function commanded(folder, turns, risk) {
  const path = join(folder, 'breaks.toml');
  const sizes = Object.entries(size).map(([name, value]) => `${name} = ${typeof value === 'string' ? `"${value}"` : value}`).join('\n');
  writeFileSync(path, `[breaking]\n${sizes}\n${turns.map((each) => `[[breaking.winds]]\nturns = "${each}"\n`).join('')}`);
  const { card, today } = JSON.parse(execFileSync(program, ['wind', join(root, 'examples/lantern46.toml'), path, '--risk', risk, '--json'], { encoding: 'utf8' }));
  return { turns: today.wind_turns, words: card.stop_words };
}

test('the batch, the builder or the job says how far to wind, and page, paper and command agree', async () => {
  const { folder, remove } = freshFolder();
  const server = await startServer(join(folder, 'workshop.sqlite'));
  try {
    const broke = [952, 974, 995];
    await ask(server, 'POST', 'flights/merge', { flights: [{ flight: { id: 'f-first', time: '2026-11-21T14:05:00', propeller: 'L46-A', model: 'Lantern 46', duration_s: 540 } }] });
    const { body: kept, etag } = await ask(server, 'POST', 'rubbers', box(broke));
    const { page, context, complaints } = await newPage(browser, server.address, { viewport: phone, scheme: 'dark' });
    await page.clock.install({ time: '2026-11-22T19:00:00' });
    await page.goto(`${server.address}/floor?part=wind`);
    await page.getByText('mm', { exact: true }).click();
    const risk = page.getByLabel('how far to wind');
    await risk.waitFor();

    // Three of the batch broke: its own breaks count, at the risk entered on Rubber.
    const five = commanded(folder, broke, '5 %');
    await says(page, five.words);
    assert.match(five.words, /^Wound to where 1 in 20 motors breaks: 3 of this batch broke, 0 held; the true chance/);
    await until(async () => (await turns_shown(page)) === five.turns, `${five.turns} turns, as the command says`);
    await looked(page, 'wind-risk');

    // The paper has the same.
    const coming = page.waitForEvent('download');
    await press(page, 'A4');
    const pdf = join(folder, 'card.pdf');
    await (await coming).saveAs(pdf);
    const paper = execFileSync('pdftotext', ['-layout', pdf, '-'], { encoding: 'utf8' });
    assert.match(paper, /1 in 20 motors breaks/);
    assert.match(paper, new RegExp(`stop ${five.turns}`));

    // The builder takes another chance; it stays, also in the file for the hall.
    const ten = commanded(folder, broke, '10 %');
    await risk.selectOption({ label: 'to where 1 motor in 10 breaks' });
    await says(page, ten.words);
    assert.ok(ten.turns > five.turns);
    await until(async () => (await turns_shown(page)) === ten.turns, `${ten.turns} turns, as the command says`);
    await page.reload();
    await until(async () => (await risk.inputValue()) === '0.1', 'the chance taken');
    await says(page, ten.words);
    await page.getByRole('link', { name: 'Flights' }).click();
    const saving = page.waitForEvent('download');
    await press(page, 'Take this page to the hall');
    const file = join(folder, 'propwright-floor.html');
    await (await saving).saveAs(file);
    const saved = await newPage(browser, 'file://', { viewport: phone });
    await saved.page.clock.install({ time: '2026-11-22T20:00:00' });
    await saved.page.goto(`${pathToFileURL(file).href}#wind`);
    await says(saved.page, ten.words);
    assert.equal(await saved.page.getByText(/Old card/).count(), 0);
    assert.equal(await saved.page.getByLabel('how far to wind').count(), 0);
    assert.deepEqual(saved.complaints, []);
    await saved.context.close();

    // To the job's share: the card of the sheet.
    await page.getByRole('link', { name: 'Wind' }).click();
    await risk.selectOption('job');
    await says(page, /^Wound to .* turns.* at which .* rubber breaks\.$/);
    await until(async () => (await turns_shown(page)) === 1820, 'the turns of the sheet');

    // One break says too little of a batch: the job's share stands, and the card says why.
    await ask(server, 'PUT', `rubbers/${kept.id}`, box(broke.slice(0, 1)), { 'If-Match': etag });
    await risk.selectOption('batch');
    await page.reload();
    await says(page, /: 1 of this batch broke, and its own breaks count from 3 on\.$/);
    await until(async () => (await turns_shown(page)) === 1820, 'the turns of the sheet');
    await page.setViewportSize(desktop);
    await looked(page, 'wind-risk-few');

    // A batch that the workshop does not have is wound as the job says, or by what other rubber does.
    await ask(server, 'PUT', `rubbers/${kept.id}`, { ...box(broke), name: 'Box 8' }, { 'If-Match': (await fetch(`${server.address}/api/rubbers/${kept.id}`)).headers.get('ETag') });
    await page.reload();
    await until(async () => (await turns_shown(page)) === 1820, 'the turns of the sheet');
    await risk.selectOption({ label: 'to where 1 motor in 20 breaks' });
    await says(page, /none of this batch has told yet, so that is by other rubber/);
    await type(page, 'roof', '8');
    await says(page, /Roof 8\.0.m, not/);
    assert.deepEqual(complaints, []);
    await context.close();
  } finally {
    await server.stop();
    remove();
  }
});

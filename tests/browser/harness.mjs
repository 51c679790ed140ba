// What the browser tests share: the real server on a fresh workshop file, Debian's Chromium, and
// pictures kept for people to look at.
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { isDeepStrictEqual } from 'node:util';

export const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const require = createRequire(join(root, 'web', 'package.json'));
const { chromium } = require('playwright-core');
const axeSource = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');

export const program = process.env.PROPWRIGHT_PROGRAM ?? join(root, 'build', 'release', 'propwright');
const browserPath =
  process.env.PROPWRIGHT_BROWSER ??
  ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find((path) => existsSync(path));

/** Where pictures go; made anew by each run. */
export const pictures = process.env.PROPWRIGHT_PICTURES ?? join(root, 'build', 'pictures');
mkdirSync(pictures, { recursive: true });

/** A folder of its own, removed by `remove()`. */
export function freshFolder() {
  const folder = mkdtempSync(join(tmpdir(), 'propwright-browser-'));
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** Starts the program on a free port; resolves when it has said its address. */
export async function startServer(workshop, options = ['--examples']) {
  const began = performance.now();
  const port = options.includes('--port') ? [] : ['--port', '0'];
  const child = spawn(program, ['open', ...port, '--workshop', workshop, ...options], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let errors = '';
  child.stderr.on('data', (data) => (errors += data));
  const ended = new Promise((resolve) => child.once('exit', (code, signal) => resolve({ code, signal })));
  const lines = createInterface({ input: child.stdout });
  const first = new Promise((resolve, reject) => {
    lines.once('line', resolve);
    ended.then(({ code }) => reject(new Error(`the server ended with ${code}: ${errors}`)));
  });
  const line = await first;
  const address = line.match(/https?:\/\/[^\s]+/)?.[0]?.replace(/\/$/, '');
  if (!address) throw new Error(`no address in the first line: ${line}`);
  return {
    address,
    pid: child.pid,
    startedIn: performance.now() - began,
    errors: () => errors,
    /** Asks it to stop and waits; the exit status. */
    async stop(signal = 'SIGTERM') {
      if (child.exitCode === null && child.signalCode === null) child.kill(signal);
      return ended;
    },
  };
}

/** `more` are further switches of the browser. */
export async function startBrowser(more = []) {
  if (!browserPath) throw new Error('Chromium is missing: apt-get install chromium');
  return chromium.launch({
    executablePath: browserPath,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      ...more,
    ],
  });
}

export const desktop = { width: 1440, height: 900 };
export const phone = { width: 360, height: 740 };

/**
 * Before the page's clock leaps, what the page has asked is answered: a leap is longer than it waits for an answer, and on a
 * busy machine it would take the program for gone. What has had no answer for some seconds is not waited for.
 */
function leapWhenAnswered(page) {
  const asked = new Map();
  const patience_ms = 5000;
  page.on('request', (request) => asked.set(request, performance.now()));
  for (const end of ['requestfinished', 'requestfailed']) page.on(end, (request) => asked.delete(request));
  const waiting = () => [...asked.values()].some((at) => performance.now() - at < patience_ms);
  for (const leap of ['fastForward', 'pauseAt']) {
    const plain = page.clock[leap].bind(page.clock);
    page.clock[leap] = async (to) => {
      await until(() => !waiting(), 'answers to what the page has asked');
      await plain(to);
    };
  }
}

/**
 * A page that fails the test when the page logs an error or asks any host but the server. `ignore`
 * names, as regular expressions, what a test provokes on purpose (a refused request, say).
 */
export async function newPage(browser, address, { viewport = desktop, scheme = 'light', ignore = [], touch = false } = {}) {
  const context = await browser.newContext({
    viewport,
    colorScheme: scheme,
    hasTouch: touch,
    reducedMotion: 'reduce',
    acceptDownloads: true,
  });
  // Longer than a busy machine needs for anything; what is not there then does not come.
  context.setDefaultTimeout(90_000);
  const page = await context.newPage();
  leapWhenAnswered(page);
  const complaints = [];
  const complain = (text) => {
    if (!ignore.some((pattern) => pattern.test(text))) complaints.push(text);
  };
  page.on('pageerror', (error) => complain(`exception: ${error.message}`));
  page.on('console', (message) => {
    if (message.type() === 'error') complain(`console: ${message.text()}`);
  });
  page.on('request', (request) => {
    const url = request.url();
    if (!url.startsWith(address) && !url.startsWith('data:') && !url.startsWith('blob:')) {
      complain(`foreign request: ${url}`);
    }
  });
  return { page, context, complaints };
}

/** A picture of the whole page, named after what it shows. */
export async function picture(page, name) {
  await page.screenshot({ path: join(pictures, `${name}.png`), fullPage: true });
}

/** Every violation of WCAG 2.2 A and AA that axe-core finds, as lines; `within`: only inside that element. */
export async function accessibilityProblems(page, within) {
  // The pages' own policy forbids scripts from elsewhere, so axe is handed over by the debugger, once a document.
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axeSource);
  const result = await page.evaluate(
    async (selector) =>
      window.axe.run(selector ?? document, {
        runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],
        resultTypes: ['violations'],
      }),
    within,
  );
  return result.violations.flatMap((violation) =>
    violation.nodes.map((node) => `${violation.id}: ${node.target.join(' ')}: ${node.failureSummary}`),
  );
}

/** The input with this label: a text box, or a combo box once earlier values are offered. */
export const fieldOf = (page, label) => page.getByLabel(label, { exact: true }).and(page.locator('input')).first();

/** Waits until the field with this label holds the text. */
export const holds = (page, label, text) => until(async () => (await fieldOf(page, label).inputValue()) === text, `${text || 'nothing'} in ${label}`);

/** Waits until the question is answered with just this. */
export async function becomes(question, answer, what) {
  let last;
  await until(async () => isDeepStrictEqual((last = await question()), answer), what).catch((problem) => assert.deepEqual(last, answer, problem.message));
}

/** True when nothing sticks out sideways. */
export async function fitsItsWidth(page) {
  return page.evaluate(() => document.documentElement.scrollWidth <= document.documentElement.clientWidth);
}

/** Gives the page another size and waits until it is drawn anew; fails where something sticks out sideways. */
export async function fitsAt(page, viewport, what) {
  await page.setViewportSize(viewport);
  try {
    await until(() => fitsItsWidth(page), `${what} to fit ${viewport.width} pixels`, 5);
  } catch (problem) {
    const wide = await page.evaluate(() =>
      [...document.querySelectorAll('body *')]
        .filter((element) => element.getBoundingClientRect().right > document.documentElement.clientWidth + 1)
        .map((element) => `${element.tagName.toLowerCase()}.${element.getAttribute('class')} to ${Math.round(element.getBoundingClientRect().right)}`)
        .slice(0, 12));
    throw new Error(`${problem.message}; what sticks out: ${wide.join(', ')}`);
  }
}

/** Waits until the question is answered with yes; the pages' own policy forbids the browser to ask it. */
export async function until(question, what, seconds = 60) {
  for (let left = seconds * 20; left > 0; --left) {
    if (await question()) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error(`waited ${seconds} s in vain: ${what}`);
}

/** Median and 95th percentile of numbers. */
export function spread(values) {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (share) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
  return { median: at(0.5), p95: at(0.95), count: sorted.length };
}

// A phone: a page in a touch browser, taps that are counted, and the store under it.
import assert from 'node:assert/strict';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';

import { axeSource, chromium, devices, selectors } from './tools.mjs';

const FLAGS = [
  '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync',
];

/** Keys of the keypad that are no digits, by their sign. */
const KEYS = { '-': 'minus', '.': 'point', '½': 'half', '⅛': 'eighth' };

/** How long anything may take to be there. */
const PATIENCE_MS = 20_000;

selectors.setTestIdAttribute('data-test');

export class Phone {
  taps = 0;
  /** What the page complained about since it was last asked. */
  complaints = [];

  static async open(url, out, folder) {
    const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: FLAGS });
    const phone = new Phone();
    Object.assign(phone, { url, out, folder, browser });
    mkdirSync(out, { recursive: true });
    await phone.hold({});
    return phone;
  }

  /** Takes the phone in hand in another way: turned, dark, narrow. What is stored stays. */
  async hold(how) {
    await this.context?.close();
    const size = { width: 390, height: 844 };
    const { defaultBrowserType: _, ...pixel } = devices['Pixel 7'];
    this.context = await this.browser.newContext({
      ...pixel, viewport: size, screen: size, deviceScaleFactor: 2, reducedMotion: 'reduce',
      locale: 'en-GB', timezoneId: 'Europe/London', ...how,
    });
    this.context.setDefaultTimeout(PATIENCE_MS);
    this.page = await this.context.newPage();
    this.page.on('pageerror', (error) => this.complaints.push(String(error)));
    this.page.on('console', (message) => {
      // A fault is an answer of the program, and the browser notes each on its console.
      const fault = message.text().includes('status of 400');
      if (message.type() === 'error' && !fault) this.complaints.push(message.text());
    });
  }

  async close() {
    await this.browser.close();
  }

  /** Opens an address of the app, by its hash. */
  async goto(hash) {
    await this.page.goto('about:blank');
    await this.page.goto(`${this.url}/${hash}`);
    await this.page.locator('h1').waitFor();
  }

  /** The one thing with a name. */
  the(test) {
    return this.page.getByTestId(test);
  }

  async text(test) {
    const text = await this.the(test).first().innerText();
    return text.replace(/\s+/g, ' ').trim();
  }

  /** Asks until the answer is as it should be. */
  async until(what, holds) {
    const end = Date.now() + PATIENCE_MS;
    while (!(await holds())) {
      if (Date.now() > end) throw new Error(`never: ${what}`);
    }
  }

  /** Waits until something says these words. */
  async says(test, words) {
    await this.the(test).filter({ hasText: words }).first().waitFor();
  }

  async tap(what) {
    this.taps += 1;
    await (typeof what === 'string' ? this.the(what) : what).tap();
  }

  async type(test, text) {
    await this.tap(test);
    await this.the(test).fill(text);
  }

  /** Chooses from a list: a tap opens it, another chooses. */
  async choose(test, value) {
    this.taps += 2;
    await this.the(test).selectOption(value);
  }

  /** Presses a number on the phone's own keypad. */
  async keys(number) {
    for (const key of number) {
      await this.tap(`key-${KEYS[key] ?? key}`);
    }
  }

  /** How many taps something takes. */
  async counting(work) {
    const before = this.taps;
    await work();
    return this.taps - before;
  }

  /** Keeps a picture of the screen, and looks for what a person who cannot see or aim well would miss. */
  async look(name) {
    await this.page.screenshot({ path: join(this.out, `${name}.png`) });
    await this.page.evaluate(axeSource);
    const { violations } = await this.page.evaluate(() => globalThis.axe.run(document, { resultTypes: ['violations'] }));
    const found = violations.map(({ id, help, nodes }) => `${id} (${help}): ${nodes.map((n) => n.target.join(' ')).join(', ')}`);
    assert.deepEqual(found, [], `axe-core on ${name}`);
    const [wide, room] = await this.page.evaluate(() => [document.documentElement.scrollWidth, Math.min(innerWidth, screen.width)]);
    assert.ok(wide <= room, `${name} is ${wide} px wide on a screen of ${room}`);
    assert.deepEqual(this.complaints.splice(0), [], `complaints on ${name}`);
  }

  /** Asks the program itself, past the screens. */
  async ask(request, args = {}) {
    const headers = { 'content-type': 'application/json' };
    const body = JSON.stringify({ request, args });
    const response = await fetch(`${this.url}/ipc/ask`, { method: 'POST', headers, body });
    const answer = await response.json();
    assert.equal(response.status, 200, JSON.stringify(answer));
    return answer;
  }

  /** The newest job on the shelf. */
  async job() {
    const { jobs } = await this.ask('shelf');
    assert.ok(jobs.length > 0, 'no jobs');
    return jobs[0].id;
  }

  /** Entries of a job that still count, by kind. */
  async standing(job, kind) {
    const entries = await this.ask('diary', { job });
    return entries.filter((entry) => entry.kind === kind && entry.struck === null);
  }
}

// A hand that works one job: it goes from screen to screen by what can be pressed on them.
const SETTLED = { state: 'detached' };

export class Hand {
  constructor(phone, job) {
    Object.assign(this, { phone, job });
  }

  ask(request, args = {}) {
    return this.phone.ask(request, { job: this.job, ...args });
  }

  view() {
    return this.ask('job');
  }

  /** Where the screen is within the job: `dip`, `papers/record`; empty on Today. */
  async where() {
    const hash = await this.phone.page.evaluate(() => location.hash);
    return hash.replace(`#/job/${this.job}`, '').replace(/^\//, '');
  }

  /** Presses, and waits until another screen is there. */
  async leave(test) {
    const before = await this.where();
    await this.phone.tap(test);
    await this.phone.until(`another screen than ${before}`, async () => (await this.where()) !== before);
  }

  async home() {
    for (let here = await this.where(); here !== ''; here = await this.where()) {
      await this.leave(['drawing', 'diary', 'papers'].includes(here) ? 'place-today' : 'back');
    }
    await this.phone.the('next').waitFor();
  }

  /** One of the keys on Today. */
  async tool(name) {
    if ((await this.where()) === name) return;
    await this.home();
    await this.leave(`tool-${name}`);
  }

  /** One of the screens behind More. */
  async more(name, test = `more-${name}`) {
    if ((await this.where()) === name) return;
    await this.home();
    await this.phone.tap('more');
    await this.leave(this.phone.the('more-dialog').getByTestId(test));
  }

  async stage(name) {
    if ((await this.where()) !== `stage/${name}`) {
      await this.home();
      if ((await this.view()).stage === name) await this.leave('next');
      else {
        await this.phone.tap('stages');
        await this.leave(`stage-${name}`);
      }
    }
    await this.phone.the('stage').waitFor();
  }

  /** One of the four places. */
  async place(name) {
    if ((await this.where()) === name) return;
    await this.home();
    await this.leave(`place-${name}`);
  }

  async paper(where, test) {
    if ((await this.where()) === where) return;
    await this.place('papers');
    await this.leave(test);
  }

  /** Hands the phone to another person. */
  async to(who) {
    const { phone } = this;
    if ((await phone.text('who')).endsWith(who)) return;
    await phone.tap('who');
    const known = phone.the('person').filter({ hasText: who });
    if (await known.count()) await phone.tap(known.first());
    else {
      await phone.type('person-name', who);
      await phone.tap('person-keep');
    }
    await phone.says('who', who);
    await phone.page.locator('dialog[open]').waitFor(SETTLED);
  }

  /** Chooses from a list, unless it is chosen already. */
  async choose(test, value) {
    if ((await this.phone.the(test).inputValue()) !== value) await this.phone.choose(test, value);
  }

  /** Types what a line says; where it says nothing, the field stays as it is. */
  async type(test, value) {
    if (value === undefined || value === '') return;
    if ((await this.phone.the(test).inputValue()) !== String(value)) await this.phone.type(test, String(value));
  }

  /** Says a place along a string. */
  async onString(test, { from, to, at_m }) {
    await this.choose(`${test}-string`, `${from}>${to}`);
    await this.type(`${test}-at`, at_m);
  }

  /** Gives the camera that opens at a press this photo. */
  async photograph(test, file) {
    const { phone } = this;
    const [camera] = await Promise.all([phone.page.waitForEvent('filechooser'), phone.tap(test)]);
    await camera.setFiles(file);
    await phone.the('photo-in-hand').locator('img').waitFor();
  }
}

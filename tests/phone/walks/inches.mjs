// A tape in inches: halves and eighths on the keypad, exact millimetres in the diary, and back to millimetres.
import assert from 'node:assert/strict';

/** Sets what the tape reads in, on the screen of what is the person's own. */
async function reads(phone, unit) {
  await phone.goto('#/settings');
  await phone.tap(`tape-unit-${unit}`);
  await phone.until('the unit is kept', async () => (await phone.ask('drafts'))['tape.unit'] === unit);
}

async function open(phone) {
  await phone.goto(`#/job/${await phone.job()}`);
  await phone.tap('tool-dip');
  await phone.the('keypad').waitFor();
}

/** Keeps the reading, also where it is asked about. */
async function keep(phone) {
  await phone.the('answer').waitFor();
  await phone.the('doubt').or(phone.page.locator('[data-test=key-keep]:enabled')).first().waitFor();
  await phone.tap((await phone.the('doubt').count()) ? 'doubt-keep' : 'key-keep');
  await phone.the('answer').waitFor({ state: 'detached' });
}

const newest = async (phone) => (await phone.ask('job', { job: await phone.job() })).dips.at(-1);
const kept = async (phone) => (await phone.ask('drafts'))[`dip.${await phone.job()}`];

export const inches = [
  ['a tape in inches has keys for a half and an eighth, and the diary exact millimetres', async (phone) => {
    await phone.hold({});
    await phone.goto('#/settings');
    await phone.the('kit-kept').waitFor();
    await reads(phone, 'in');
    await phone.look('08-settings-tape');
    await open(phone);
    // 350 mm are 13.78 in, a string raised 100 mm is 3.94 in up (hand arithmetic): to the nearest eighth.
    await phone.says('dip-target', '13 ¾ in');
    await phone.says('dip-raise', '3 ⅞ in');
    assert.equal(await phone.the('key-point').count(), 0);
    await phone.look('08a-dip-inches');
    await phone.keys('12½⅛');
    await phone.says('dip-reading', '12 ⅝ in');
    // Twelve and five eighths are 320.675 mm, 29.325 mm high: an inch and an eighth, and a little.
    await phone.says('answer', 'high 1 ⅛');
    await phone.says('answer', 'take off');
    await phone.says('dip-limits', 'high ¾ in');
    await phone.look('08b-dip-inches-high');
    await keep(phone);
    await phone.says('dip-kept', 'high 1 ⅛, kept');
    const { reading_mm, raise_mm } = await newest(phone);
    assert.deepEqual([reading_mm, raise_mm], [320.675, 100]);
    const [entry] = await phone.standing(await phone.job(), 'dip').then((dips) => dips.filter(({ says }) => says.values.reading === 320.675));
    assert.ok(entry, 'the diary says what was read');
    await phone.tap('undo');
    await phone.says('dip-reading', '12 ⅝ in');
    await phone.tap('key-clear');
  }],
  ['after the first a dip in inches is its keys and one tap', async (phone) => {
    await open(phone);
    await phone.says('dip-target', '13 ¾');
    const taps = await phone.counting(async () => {
      await phone.keys('13½⅛');
      await phone.says('answer', 'right');
      await phone.tap('key-keep');
      await phone.the('answer').waitFor({ state: 'detached' });
    });
    assert.equal(taps, 5);
    assert.equal((await newest(phone)).reading_mm, 346.075);
    await phone.tap('undo');
    await phone.says('answer', 'right');
    await phone.tap('key-clear');
    return '4 keys and 1 tap';
  }],
  ['a keyboard types a half with its point and an eighth with its stroke', async (phone) => {
    await open(phone);
    await phone.says('dip-target', '13 ¾');
    await phone.page.keyboard.type('11./');
    await phone.says('dip-reading', '11 ⅝ in');
    await phone.until('it is kept', async () => (await kept(phone))?.reading === '11 ⅝ in');
    await phone.hold({});
    await open(phone);
    await phone.says('dip-reading', '11 ⅝ in');
    await phone.page.keyboard.press('Backspace');
    await phone.says('dip-reading', '11 in');
    await phone.tap('key-clear');
  }],
  ['the raise of the string is typed in eighths too, and lowered in words', async (phone) => {
    await open(phone);
    await phone.says('dip-target', '13 ¾');
    await phone.tap('dip-raise');
    await phone.look('08c-dip-inches-raise');
    await phone.keys('2½-');
    await phone.says('dip-raise', 'lowered 2 ½ in');
    await phone.tap('key-keep');
    // 250 mm to the string as it was, less 63.5 mm: 186.5 mm, 7.34 in.
    await phone.says('dip-target', '7 ⅜');
    await phone.until('the raise is kept in millimetres', async () => (await kept(phone))?.raise === '-63.5');
    await phone.tap('dip-at');
    assert.equal(await phone.the('key-half').count(), 0, 'lengths along the string are metres');
    await phone.keys('0.5');
    await phone.tap('key-keep');
    await phone.says('dip-at', '0.50 m');
    await reads(phone, 'mm');
    await open(phone);
    await phone.says('dip-raise', '63.5');
    await phone.tap('dip-raise');
    await phone.keys('100');
    await phone.tap('key-keep');
    await phone.says('dip-target', 'mm');
    await phone.until('the string is raised as before', async () => (await kept(phone))?.raise === '100');
    await reads(phone, 'in');
  }],
  ['on every phone a tape in inches is in reach without scrolling', async (phone) => {
    for (const [width, height, colorScheme] of [[390, 844, 'light'], [390, 844, 'dark'], [320, 640, 'light'], [844, 390, 'light']]) {
      await phone.hold({ viewport: { width, height }, screen: { width, height }, colorScheme });
      await open(phone);
      for (const [name, reading] of [['map', ''], ['right', '13½⅛'], ['doubt', '23⅛⅛⅛']]) {
        if (reading) {
          await phone.keys(reading);
          await phone.the('answer').waitFor();
        }
        if (name === 'doubt') await phone.the('doubt').waitFor();
        await phone.look(`08d-inches-${width}-${colorScheme}-${name}`);
        const { bottom } = await phone.the('prop').evaluate((e) => e.getBoundingClientRect().toJSON());
        assert.ok(bottom <= height, `the last key ends at ${bottom} on a screen of ${height}, reading ${reading}`);
        if (reading) await phone.tap('key-clear');
      }
    }
    await phone.hold({});
  }],
  ['the mate, the drawing and its table read in inches', async (phone) => {
    await open(phone);
    await phone.says('dip-target', /\d.* in$/);
    const [target] = (await phone.text('dip-target')).match(/\d+( \D)?(?= in)/);
    await phone.tap('prop');
    await phone.page.locator('dialog[open]').waitFor();
    await phone.says('prop-up', target);
    await phone.says('prop-up', 'inches');
    await phone.look('08e-inches-prop-up');
    await phone.tap('close');
    await phone.goto(`#/job/${await phone.job()}/drawing`);
    await phone.the('plan').waitFor();
    // The dip of 450 mm where the tape should have read 350: 3.94 in low.
    await phone.says('pin-table', 'low 3 ⅞');
    assert.match(await phone.the('pin-table').locator('xpath=preceding-sibling::h2').innerText(), /levels in inches/);
    await phone.look('08f-inches-drawing');
  }],
  ['a reading that was typed in one unit is the same length in the other, and itself again', async (phone) => {
    await reads(phone, 'mm');
    await open(phone);
    await phone.keys('347');
    await phone.says('dip-reading', '347 mm');
    await reads(phone, 'in');
    await open(phone);
    await phone.says('dip-reading', '13 ⅝ in');
    await reads(phone, 'mm');
    await open(phone);
    await phone.says('dip-reading', '347 mm');
    await phone.tap('key-clear');
  }],
  ['a reading waits with its layer while another is dipped', async (phone) => {
    await open(phone);
    await phone.keys('34');
    await phone.says('dip-reading', '34');
    const layer = await phone.the('dip-layer').inputValue();
    await phone.the('dip-layer').selectOption('bed');
    await phone.says('dip-target', '160');
    await phone.keys('15');
    await phone.until('both are kept', async () => {
      const { reading, aside } = await kept(phone);
      return reading === '15' && aside.some((other) => other.reading === '34');
    });
    await phone.hold({});
    await open(phone);
    await phone.says('dip-reading', '15');
    await phone.tap('key-clear');
    await phone.the('dip-layer').selectOption(layer);
    await phone.says('dip-reading', '34');
    await phone.tap('key-clear');
    await phone.says('dip-target', '350');
  }],
];

// The pin walk: what is asked every two minutes.
import assert from 'node:assert/strict';

/** Size of the answer's words in px, and whether they fit their screen. */
async function answerSize(phone) {
  return phone.the('answer').locator('strong').evaluate((strong) => {
    const { left, right } = strong.getBoundingClientRect();
    return { px: parseFloat(getComputedStyle(strong).fontSize), fits: left >= 0 && right <= innerWidth };
  });
}

async function open(phone) {
  await phone.goto(`#/job/${await phone.job()}`);
  await phone.tap('tool-dip');
  await phone.the('keypad').waitFor();
}

export const dips = [
  ['the string is raised once, and the tape has its number', async (phone) => {
    await open(phone);
    await phone.look('04-dip');
    await phone.tap('dip-raise');
    await phone.keys('100');
    await phone.tap('key-keep');
    // Block 60, bed 40 and stone 150 under a string raised 100 (hand arithmetic).
    await phone.says('dip-target', '350');
    const job = await phone.job();
    await phone.until('the raise is kept', async () => (await phone.ask('drafts'))[`dip.${job}`]?.raise === '100');
  }],
  ['a high reading fills the screen with what to do', async (phone) => {
    await open(phone);
    await phone.says('dip-target', '350');
    await phone.keys('325');
    await phone.says('answer', 'high 25');
    await phone.says('answer', 'take off');
    const { px, fits } = await answerSize(phone);
    assert.ok(px >= 56 && fits, `${px} px, ${fits ? 'fits' : 'does not fit'}`);
    await phone.look('05-dip-high');
    const pin = await phone.text('dip-count');
    await phone.tap('key-keep');
    await phone.the('answer').waitFor({ state: 'detached' });
    assert.notEqual(await phone.text('dip-count'), pin, 'the next pin comes by itself');
    const job = await phone.job();
    const [{ high_mm, word, reading_mm }] = (await phone.ask('job', { job })).dips;
    assert.ok(Math.abs(high_mm - 25) < 0.5 && word === 'high' && reading_mm === 325, `${high_mm} ${word}`);
  }],
  ['a reading far from its neighbours is asked about once', async (phone) => {
    await open(phone);
    await phone.says('dip-target', '350');
    await phone.keys('450');
    await phone.says('answer', 'low 100');
    await phone.the('doubt').waitFor();
    await phone.look('06-dip-doubt');
    await phone.tap('key-keep');
    await phone.the('answer').waitFor({ state: 'detached' });
    await phone.keys('450');
    await phone.tap('doubt-keep');
    await phone.the('answer').waitFor({ state: 'detached' });
    assert.equal((await phone.standing(await phone.job(), 'dip')).length, 2);
  }],
  ['undo takes the last dip back, with its reading', async (phone) => {
    await open(phone);
    await phone.says('dip-target', '350');
    await phone.keys('372');
    await phone.says('answer', 'low 22');
    await phone.the('doubt').or(phone.the('key-keep')).first().waitFor();
    if (await phone.the('doubt').count()) await phone.tap('doubt-keep');
    else await phone.tap('key-keep');
    await phone.the('answer').waitFor({ state: 'detached' });
    const job = await phone.job();
    assert.equal((await phone.standing(job, 'dip')).length, 3);
    await phone.tap('undo');
    await phone.says('answer', 'low 22');
    assert.equal((await phone.standing(job, 'dip')).length, 2);
    assert.equal((await phone.ask('diary', { job })).filter((e) => e.struck).length, 1);
    await phone.tap('key-clear');
  }],
  ['undo leads back to the pin of a dip, on another layer and after the screen was left', async (phone) => {
    const job = await phone.job();
    await open(phone);
    await phone.the('dip-string').selectOption('F2>F1');
    await phone.says('dip-target', '350');
    await phone.keys('347');
    await phone.says('answer', 'right');
    await phone.tap('key-keep');
    await phone.the('answer').waitFor({ state: 'detached' });
    await phone.tap('back');
    await phone.the('next').waitFor();
    await open(phone);
    await phone.the('dip-layer').selectOption('bed');
    await phone.says('dip-target', '160');
    await phone.tap('undo');
    await phone.says('dip-reading', '347');
    await phone.says('answer', 'right');
    assert.equal(await phone.the('dip-layer').inputValue(), 'formation');
    assert.equal(await phone.the('dip-string').inputValue(), 'F2>F1');
    assert.equal((await phone.standing(job, 'dip')).length, 2);
    await phone.tap('key-clear');
  }],
  ['a string is lowered in words, and the tape follows', async (phone) => {
    await open(phone);
    await phone.says('dip-target', '350');
    await phone.tap('dip-raise');
    await phone.keys('20-');
    await phone.says('dip-raise', 'lowered 20');
    await phone.tap('key-keep');
    await phone.says('dip-target', '230');
    await phone.look('05a-dip-lowered');
    await phone.tap('dip-raise');
    await phone.keys('100');
    await phone.tap('key-keep');
    await phone.says('dip-target', '350');
  }],
  ['on a narrow and on a turned phone everything is in reach without scrolling', async (phone) => {
    for (const [width, height] of [[320, 640], [844, 390]]) {
      await phone.hold({ viewport: { width, height }, screen: { width, height } });
      await open(phone);
      for (const reading of ['', '348', '600']) {
        if (reading) {
          await phone.keys(reading);
          await phone.the('answer').waitFor();
        }
        await phone.look(`05b-dip-${width}-${reading || 'map'}`);
        const { bottom } = await phone.the('prop').evaluate((e) => e.getBoundingClientRect().toJSON());
        assert.ok(bottom <= height, `the last key ends at ${bottom} on a screen of ${height}, reading ${reading}`);
        if (reading) await phone.tap('key-clear');
      }
    }
    await phone.hold({});
  }],
  ['a reading that no tape has is said in place: no key moves, and the unit stays beside the number', async (phone) => {
    for (const [width, height] of [[390, 844], [320, 640]]) {
      await phone.hold({ viewport: { width, height }, screen: { width, height } });
      await open(phone);
      await phone.says('dip-target', '350');
      const top = async () => (await phone.the('key-keep').boundingBox()).y;
      const before = await top();
      await phone.keys('99999');
      await phone.says('dip-problem', 'from 0 to 5000 mm');
      await phone.says('dip-target', '350');
      assert.equal(await phone.the('fault').count(), 0, 'it is said once');
      assert.ok(Math.abs(await top() - before) < 12, `the tall key went from ${before} to ${await top()}`);
      const { bottom } = await phone.the('prop').evaluate((e) => e.getBoundingClientRect().toJSON());
      assert.ok(bottom <= height, `the last key ends at ${bottom} on a screen of ${height}`);
      const [unit, room] = await phone.the('dip-reading').evaluate((e) => [e.querySelector('.unit').getBoundingClientRect().right, e.getBoundingClientRect().right]);
      assert.ok(unit <= room + 0.5, `the unit ends at ${unit}, its room at ${room}`);
      await phone.look(`05d-dip-too-long-${width}`);
      await phone.tap('key-clear');
    }
    await phone.hold({});
  }],
  ['the limits stand beside every answer', async (phone) => {
    await open(phone);
    for (const reading of ['348', '325']) {
      await phone.says('dip-target', '350');
      await phone.keys(reading);
      // The formation's limits of the sample job, as its plan gives them.
      await phone.says('dip-limits', 'limits: high 20 mm, low 20 mm');
      await phone.tap('key-clear');
    }
  }],
  ['from pin to pin a dip is its number and one tap', async (phone) => {
    await open(phone);
    await phone.says('dip-target', '350');
    const before = (await phone.standing(await phone.job(), 'dip')).length;
    const taps = await phone.counting(async () => {
      await phone.keys('348');
      await phone.says('answer', 'right');
      await phone.tap('key-keep');
      await phone.the('answer').waitFor({ state: 'detached' });
    });
    assert.equal((await phone.standing(await phone.job(), 'dip')).length, before + 1);
    assert.equal(taps, 4);
    return `3 digits and ${taps - 3} tap`;
  }],
  ['the number stands as tall as the screen for the mate', async (phone) => {
    await open(phone);
    await phone.tap('prop');
    await phone.page.locator('dialog[open]').waitFor();
    await phone.look('07-prop-up');
    await phone.says('prop-up', '350');
  }],
  ['what was typed is there after the app was ended', async (phone) => {
    await open(phone);
    await phone.keys('33');
    await phone.says('dip-reading', '33');
    const job = await phone.job();
    await phone.until('the reading is kept', async () => (await phone.ask('drafts'))[`dip.${job}`]?.reading === '33');
    await phone.hold({});
    await open(phone);
    await phone.says('dip-reading', '33');
    await phone.tap('key-clear');
  }],
];

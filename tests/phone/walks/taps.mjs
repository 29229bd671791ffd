// What the most usual things cost in taps, each from the job's home. A field to type into costs its tap
// and a list costs two; letters and digits are not counted.
import assert from 'node:assert/strict';
import { fileURLToPath } from 'node:url';

const picture = fileURLToPath(new URL('../../../fixtures/demo/photos/before.jpg', import.meta.url));

/** Opens one of the screens behind More. */
const more = async (phone, test) => {
  await phone.tap('more');
  await phone.tap(phone.the('more-dialog').getByTestId(test));
};

/** Takes a photo and says what the camera gave. */
async function photo(phone) {
  const camera = phone.page.waitForEvent('filechooser');
  await phone.tap('tool-photo');
  await (await camera).setFiles(picture);
  await phone.the('photo-in-hand').locator('img').waitFor();
  await phone.tap('photo-keep');
  await phone.the('photo-taken').locator('img').waitFor();
}

/** A reading that is right, kept. */
async function reading(phone) {
  await phone.says('dip-target', /\d/);
  const [should] = (await phone.text('dip-target')).match(/\d+(?= mm)/);
  for (const key of should) await phone.the(`key-${key}`).tap();
  await phone.says('answer', 'right');
  await phone.tap('key-keep');
  await phone.the('answer').waitFor({ state: 'detached' });
}

const home = (phone) => phone.the('next').waitFor();
const undone = (phone, kind, count) => phone.until('it is taken back', async () => (await phone.standing(await phone.job(), kind)).length === count);

/** A place on the job's first string. */
async function place(phone, test, at) {
  const string = await phone.the(`${test}-string`).locator('option').nth(1).getAttribute('value');
  await phone.choose(`${test}-string`, string);
  await phone.type(`${test}-at`, at);
}

async function dropRound(phone) {
  for (const i of [0, 1, 2]) await phone.type(`drop-${i}-reading`, '140');
  await phone.tap('drop-keep');
  await phone.until('it is kept', async () => (await phone.the('drop-0-reading').inputValue()) === '');
}

/** What goes on from the screen that is open. */
const STAYS = { stays: true };

/** The usual things, in the order of a day, and how many taps some of them may cost at most. */
const USUAL = [
  ['who is logging', async (phone) => { await phone.tap('who'); await phone.tap(phone.the('person').first()); await phone.the('who-dialog').waitFor({ state: 'hidden' }); }],
  ['the weather', async (phone) => { await more(phone, 'more-weather'); await phone.tap('weather-sky-dry'); await phone.tap('weather-keep'); await home(phone); }],
  ['a delivery', async (phone) => {
    await more(phone, 'tool-delivery');
    await phone.choose('delivery-line', 'sub_base');
    await phone.type('delivery-quantity', '1');
    await phone.choose('delivery-unit', 't');
    await phone.tap('delivery-keep');
    await phone.the('order').first().waitFor();
  }],
  ['a photo, besides the camera', photo],
  ['a question of a gate', async (phone) => {
    await phone.tap('next');
    await phone.tap('answer-strings_set');
    await phone.tap('answer-yes');
    await phone.the('answer-strings_set').waitFor({ state: 'detached' });
  }],
  ['a stage closed', async (phone) => { await phone.tap('next'); await phone.tap('stage-done'); await home(phone); }],
  ['the first dip', async (phone) => { await phone.tap('tool-dip'); await phone.the('keypad').waitFor(); await reading(phone); }, { most: 2 }],
  ['a dip after the first', reading, { ...STAYS, most: 2 }],
  ['the number propped up', async (phone) => { await phone.tap('prop'); await phone.the('prop-up').waitFor(); await phone.page.goBack(); await phone.the('prop-up').waitFor({ state: 'hidden' }); }, STAYS],
  ['a dip taken back', async (phone) => { await phone.tap('undo'); await undone(phone, 'dip', 1); }, STAYS],
  ['a soft spot', async (phone) => { await more(phone, 'more-soft-spots'); await place(phone, 'spot', '0.4'); await phone.tap('spot-keep'); await phone.the('spot-fill').waitFor(); }],
  ['a pass', async (phone) => { await phone.tap('tool-pass'); await phone.tap('add-pass'); await phone.says('passes-done', '2'); }, { most: 2 }],
  ['a pass after the first', async (phone) => { await phone.tap('add-pass'); await phone.says('passes-done', '3'); }, { ...STAYS, most: 1 }],
  ['a pass, and that nothing moved', async (phone) => { await phone.tap('moving-nothing_moves'); await phone.tap('add-pass'); await phone.says('passes-done', '4'); }, STAYS],
  ['stone spread', async (phone) => { await more(phone, 'more-spread'); await phone.tap('spread-damp-as_it_came'); await phone.tap('spread-keep'); await home(phone); }],
  ['the first drop round', async (phone) => {
    await more(phone, 'more-drop-test');
    for (const [i, at] of ['0.2', '0.5', '0.8'].entries()) await place(phone, `drop-${i}`, at);
    await dropRound(phone);
  }],
  ['a drop round after the first', dropRound, STAYS],
  ['a note', async (phone) => { await more(phone, 'tool-note'); await phone.type('note-text', 'rain at ten'); await phone.tap('note-keep'); await home(phone); }],
  ['an entry struck', async (phone) => {
    await phone.tap('place-diary');
    await phone.tap(phone.the('strike').first());
    await phone.type('strike-reason', 'it was dry');
    await phone.tap('strike-keep');
    await phone.the('strike-dialog').waitFor({ state: 'hidden' });
  }],
  ['the drawing of another layer', async (phone) => { await phone.tap('place-drawing'); await phone.choose('drawing-layer', 'bed'); await phone.the('plan').waitFor(); }],
  ['where the plate may go, shown or not', async (phone) => { await phone.tap('place-drawing'); await phone.tap('drawing-shown'); await phone.tap('show-plate'); await phone.the('show-plate').tap(); }],
  ['a pack opened', async (phone) => { await more(phone, 'more-packs'); await phone.tap('pack-keep'); await phone.the('pack-empty').waitFor(); }],
  ['a snag', async (phone) => { await more(phone, 'more-snags'); await phone.type('snag-text', 'a chipped block'); await phone.tap('snag-keep'); await phone.the('snag-close').waitFor(); }],
  ['the day closed', async (phone) => {
    await more(phone, 'more-close-day');
    for (const what of ['covered', 'guarded']) await phone.tap(`day-${what}-yes`);
    await phone.tap('close-day-keep');
    await phone.the('day-closed').waitFor();
  }],
  ['a record issued', async (phone) => {
    await phone.tap('place-papers');
    await phone.tap('paper-record');
    await phone.tap('issue');
    await phone.tap('issue-confirm');
    await phone.the('issued').waitFor();
  }],
];

/** A job of its own with two people, its materials here and its plate known. */
async function begin(phone) {
  const { job } = await phone.ask('start_sample');
  const { person } = await phone.ask('shelf');
  const log = (kind, body) => phone.ask('log', { job, kind, body });
  for (const check of ['services_marked', 'materials_on_site']) await log('check', { check });
  await phone.ask('set_person', { name: 'Joss Tully' });
  await log('pass', { layer: 'formation', plant: 'hired plate, 62 kg' });
  await phone.ask('set_person', { name: person });
}

export const taps = [
  ['the most usual things of a day, in taps', async (phone) => {
    await begin(phone);
    const counted = [];
    for (const [name, work, { stays, most } = {}] of USUAL) {
      if (!stays) {
        await phone.goto(`#/job/${await phone.job()}`);
        await home(phone);
      }
      const count = await phone.counting(() => work(phone));
      assert.ok(count > 0 && count <= (most ?? count), `${name} costs ${count} taps`);
      counted.push(`${name} ${count}`);
    }
    assert.ok(counted.length >= 20);
    return counted.join(', ');
  }],
];

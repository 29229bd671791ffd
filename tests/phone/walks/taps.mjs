// What the most usual things cost in taps, each from the job's home, typing not counted.
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

async function reading(phone, number) {
  for (const key of number) await phone.the(`key-${key}`).tap();
  await phone.the('answer').waitFor();
  if (await phone.the('doubt-keep').isVisible()) await phone.tap('doubt-keep');
  else await phone.tap('key-keep');
  await phone.the('answer').waitFor({ state: 'detached' });
}

const home = (phone) => phone.the('next').waitFor();

/** The twenty, in the order of a day. What is typed is filled in without a tap. */
const USUAL = [
  ['the first dip', async (phone) => { await phone.tap('tool-dip'); await phone.the('keypad').waitFor(); await reading(phone, '352'); }],
  ['a dip after the first', (phone) => reading(phone, '351'), 'stays'],
  ['a dip taken back', async (phone) => { await phone.tap('undo'); }, 'stays'],
  ['a pass', async (phone) => { await phone.tap('tool-pass'); await phone.tap('add-pass'); }],
  ['a pass after the first', (phone) => phone.tap('add-pass'), 'stays'],
  ['a pass, and that nothing moved', async (phone) => { await phone.tap('moving-nothing_moves'); await phone.tap('add-pass'); }, 'stays'],
  ['a photo, besides the camera', photo],
  ['a note', async (phone) => { await more(phone, 'tool-note'); await phone.the('note-text').fill('rain at ten'); await phone.tap('note-keep'); await home(phone); }],
  ['the weather', async (phone) => { await more(phone, 'more-weather'); await phone.tap('weather-sky-dry'); await phone.tap('weather-keep'); await home(phone); }],
  ['stone spread', async (phone) => { await more(phone, 'more-spread'); await phone.tap('spread-damp-as_it_came'); await phone.tap('spread-keep'); await home(phone); }],
  ['a delivery', async (phone) => {
    await more(phone, 'tool-delivery');
    await phone.the('delivery-line').selectOption('sub_base');
    await phone.the('delivery-quantity').fill('1');
    await phone.the('delivery-unit').selectOption('t');
    await phone.tap('delivery-keep');
    await phone.the('order').first().waitFor();
  }],
  ['a snag', async (phone) => { await more(phone, 'more-snags'); await phone.the('snag-text').fill('a chipped block'); await phone.tap('snag-keep'); await phone.the('snag-close').first().waitFor(); }],
  ['what is still missing in a stage', async (phone) => { await phone.tap('next'); await phone.the('stage').waitFor(); }],
  ['a question of a gate', async (phone) => {
    await phone.tap('stages');
    await phone.tap('stage-return_visit');
    await phone.tap('answer-joints_topped_up');
    await phone.tap('answer-yes');
    await phone.the('answer-joints_topped_up').waitFor({ state: 'detached' });
  }],
  ['the drawing', async (phone) => { await phone.tap('place-drawing'); await phone.the('plan').waitFor(); }],
  ['the diary', async (phone) => { await phone.tap('place-diary'); await phone.the('entry').first().waitFor(); }],
  ['the papers', async (phone) => { await phone.tap('place-papers'); await phone.the('paper-record').waitFor(); }],
  ['what is to be ordered', async (phone) => { await more(phone, 'more-order'); await phone.the('order').first().waitFor(); }],
  ['a table', async (phone) => { await more(phone, 'more-tables'); await phone.tap('table-curve'); await phone.the('curve').waitFor(); }],
  ['another person holds the phone', async (phone) => { await phone.tap('who'); await phone.tap(phone.the('person').first()); }],
];

export const taps = [
  ['the twenty most usual things, in taps', async (phone) => {
    const counted = [];
    for (const [name, work, stays] of USUAL) {
      if (!stays) {
        await phone.goto(`#/job/${await phone.job()}`);
        await home(phone);
      }
      counted.push(`${name} ${await phone.counting(() => work(phone))}`);
    }
    return counted.join(', ');
  }],
];

// Every screen in every way a phone is held: upright, turned, narrow, in the dark, with large text.
import assert from 'node:assert/strict';

const WAYS = {
  turned: { viewport: { width: 844, height: 390 }, screen: { width: 844, height: 390 } },
  narrow: { viewport: { width: 320, height: 640 }, screen: { width: 320, height: 640 } },
  dark: { colorScheme: 'dark' },
  tablet: { viewport: { width: 820, height: 1180 }, screen: { width: 820, height: 1180 } },
};

const OF_A_JOB = [
  '', '/drawing', '/diary', '/papers', '/dip', '/pass', '/photo', '/note', '/delivery', '/stage/sub_base', '/plan',
  '/weather', '/soft-spots', '/spread', '/drop-test', '/concrete', '/packs', '/snags', '/close-day',
  '/order', '/courses', '/tables', '/tables/levels', '/tables/curve', '/plan/shape', '/plan/levels', '/plan/layers', '/plan/blocks', '/plan/check',
  '/papers/record', '/papers/setting_out', '/papers/order_list', '/papers/care_sheet', '/papers/change_note/1', '/papers/data',
  '/papers/check', '/sign', '/sign/1', '/change',
];

const TRADE = ['fall', 'passes', 'drop', 'mix', 'swell', 'vibration'];

/** The sample job, which has something of everything. */
async function sample(phone) {
  const { jobs } = await phone.ask('shelf');
  return jobs.reduce((most, job) => (job.entries > most.entries ? job : most)).id;
}

async function lookAt(phone, way) {
  const job = await sample(phone);
  for (const [name, hash] of [['shelf', ''], ['new', '#/new'], ['tables', '#/tables'], ['settings', '#/settings'], ...TRADE.map((t) => [`table-${t}`, `#/tables/${t}`]), ...OF_A_JOB.map((h) => [`job${h.replaceAll('/', '-')}`, `#/job/${job}${h}`])]) {
    await phone.goto(hash);
    await phone.page.waitForLoadState('networkidle');
    await phone.look(`${way}-${name}`);
  }
}

/** What is too small for a glove on the screen that is open. */
export function small(phone) {
  return phone.page.evaluate(() => [...document.querySelectorAll('button, a, select, summary, input, textarea')]
    // What is drawn to scale has a key of its own beside it; a box to tick is as large as its label.
    .filter((e) => e.checkVisibility() && e.getBoundingClientRect().width > 0 && !e.closest('[aria-hidden=true], svg a[tabindex="-1"], .unseen'))
    .map((e) => [e.dataset.test ?? e.textContent, (e.matches('[type=checkbox], [type=radio]') ? e.closest('label') : e).getBoundingClientRect()])
    .filter(([, { width, height }]) => Math.min(width, height) < 47.5)
    .map(([name, { width, height }]) => `${name}: ${Math.round(width)} by ${Math.round(height)}`));
}

export const everyScreen = [
  ...Object.entries(WAYS).map(([way, how]) => [`every screen, ${way}`, async (phone) => {
    await phone.hold(how);
    await lookAt(phone, way);
  }]),
  ['every screen, text at 200 %', async (phone) => {
    await phone.hold({});
    await phone.context.addInitScript(() => {
      document.addEventListener('DOMContentLoaded', () => { document.documentElement.style.fontSize = '200%'; });
    });
    await lookAt(phone, 'large');
  }],
  ['the site keys are large enough for a glove', async (phone) => {
    await phone.hold({});
    await phone.goto(`#/job/${await sample(phone)}`);
    for (const tool of ['tool-dip', 'tool-pass', 'tool-photo']) {
      const { width, height } = await phone.the(tool).first().boundingBox();
      assert.ok(Math.min(width, height) >= 72, `${tool} is ${width} by ${height}`);
    }
    assert.deepEqual(await small(phone), []);
  }],
  ['what is typed and pressed while measuring is as large', async (phone) => {
    const narrow = { width: 320, height: 640 };
    for (const how of [{}, { viewport: narrow, screen: narrow }]) {
      await phone.hold(how);
      const job = await sample(phone);
      for (const place of ['#/tables', '#/tables/levels', '#/tables/curve', ...TRADE.map((t) => `#/tables/${t}`), '#/settings', '#/new/shape', '#/new/levels', `#/job/${job}/plan/shape`, `#/job/${job}/drawing`, `#/job/${job}/dip`, `#/job/${job}/order`, `#/job/${job}/courses`, `#/job/${job}/plan/blocks`, `#/job/${job}/delivery`, ...['weather', 'soft-spots', 'spread', 'drop-test', 'concrete', 'packs', 'snags', 'close-day'].map((t) => `#/job/${job}/${t}`)]) {
        await phone.goto(place);
        await phone.page.waitForLoadState('networkidle');
        assert.deepEqual(await small(phone), [], place);
      }
    }
  }],
];

// The plan view under the fingers: pinch, pan, double tap, and what it shows.
import assert from 'node:assert/strict';

async function open(phone) {
  await phone.goto(`#/job/${await phone.job()}`);
  await phone.tap('place-drawing');
  await phone.the('plan').waitFor();
}

const scale = async (phone) => Number(await phone.the('plan').getAttribute('data-scale'));

/** Moves fingers over the drawing, each from one place to another, given from its middle in px. */
async function fingers(phone, ways) {
  const { x, y, width, height } = await phone.the('plan').boundingBox();
  const at = (share) => ways.map(([from, to], id) => ({
    id,
    x: x + width / 2 + from[0] + (to[0] - from[0]) * share,
    y: y + height / 2 + from[1] + (to[1] - from[1]) * share,
  }));
  const browser = await phone.context.newCDPSession(phone.page);
  const send = (type, touchPoints) => browser.send('Input.dispatchTouchEvent', { type, touchPoints });
  await send('touchStart', at(0));
  for (const share of [0.25, 0.5, 0.75, 1]) await send('touchMove', at(share));
  await send('touchEnd', []);
  await browser.detach();
}

export const drawing = [
  ['two fingers apart bring the drawing nearer, together take it away', async (phone) => {
    await open(phone);
    await phone.look('34-drawing');
    const whole = await scale(phone);
    await fingers(phone, [[[-30, 0], [-90, 0]], [[30, 0], [90, 0]]]);
    await phone.until('it is nearer', async () => (await scale(phone)) > whole * 2.5);
    const near = await scale(phone);
    await phone.look('35-drawing-near');
    await fingers(phone, [[[-80, 0], [-40, 0]], [[80, 0], [40, 0]]]);
    await phone.until('it is further', async () => (await scale(phone)) < near * 0.6);
    await phone.tap('zoom-whole');
    await phone.until('it is whole', async () => Math.abs((await scale(phone)) - whole) < 1e-6);
  }],
  ['two quick presses on a place bring it nearer', async (phone) => {
    await open(phone);
    const whole = await scale(phone);
    const { x, y, width, height } = await phone.the('plan').boundingBox();
    for (let i = 0; i < 2; i += 1) await phone.page.touchscreen.tap(x + width / 2, y + height / 2);
    await phone.until('it is nearer', async () => Math.abs((await scale(phone)) - whole * 2) < 1e-6);
    await phone.tap('zoom-whole');
  }],
  ['one finger moves it, and a slip of 2 mm does not', async (phone) => {
    await open(phone);
    await phone.tap('zoom-in');
    const label = phone.the('plan').locator('text').first();
    const before = await label.boundingBox();
    // 2 mm on this phone are about 12 px.
    await fingers(phone, [[[0, 0], [6, 5]]]);
    const slipped = await label.boundingBox();
    assert.ok(Math.hypot(slipped.x - before.x, slipped.y - before.y) < 1, 'a slip is no drag');
    await fingers(phone, [[[0, 0], [60, 40]]]);
    await phone.until('it has moved', async () => {
      const after = await label.boundingBox();
      return after === null || Math.abs(after.x - before.x) > 30;
    });
  }],
  ['what it shows is switched off and stays off', async (phone) => {
    await open(phone);
    const lines = () => phone.the('plan').locator('*').count();
    const before = await lines();
    await phone.tap('drawing-shown');
    await phone.tap('show-strings');
    await phone.look('36-drawing-shown');
    await phone.tap(phone.the('shown-dialog').getByTestId('close'));
    const without = await lines();
    assert.ok(without < before, `${without} of ${before}`);
    await phone.until('it is kept', async () => (await phone.ask('drafts'))['drawing.shown']?.strings === false);
    await open(phone);
    assert.equal(await lines(), without);
  }],
  ['a place pressed on the drawing has what a tape should read, for every layer', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}/dip`);
    await phone.says('dip-target', '350');
    await open(phone);
    await phone.the('drawing-layer').selectOption('formation');
    // Between R1 and R2, the first two pins: block 60, bed 40 and stone 150 under a string raised 100.
    const [r1, r2] = await Promise.all([0, 1].map((i) => phone.the('plan').locator('circle').nth(i).boundingBox()));
    const middle = [r1, r2].map(({ x, y, width, height }) => [x + width / 2, y + height / 2]);
    const taps = await phone.counting(async () => {
      phone.taps += 1;
      await phone.page.touchscreen.tap((middle[0][0] + middle[1][0]) / 2, (middle[0][1] + middle[1][1]) / 2);
      await phone.says('here', '350 mm');
    });
    const layers = { formation: 350, 'sub_base:1': 275, 'sub_base:2': 200, bed: 160, surface: 100 };
    for (const [layer, reads] of Object.entries(layers)) await phone.says(`place-${layer}`, String(reads));
    await phone.look('36a-drawing-place');
    return `${taps} tap`;
  }],
  ['a place is typed too: aside of its string, by the edge, and where there is no string', async (phone) => {
    await open(phone);
    await phone.type('place-first', '1,2');
    await phone.type('place-second', '-0,6');
    // 0.6 m aside of the string the surface has fallen 10 mm, at 1 in 60 (hand arithmetic).
    await phone.says('place-formation', '360');
    await phone.says('here', '0.60 m to its right: hold a level across');
    await phone.the('place-string').selectOption('F2>F1');
    await phone.says('here', 'from F2');
    await phone.tap('place-by-edge');
    assert.equal(await phone.the('place-second').inputValue(), '0.600');
    // The far string lies 0.7 m further out, 11.7 mm lower, and is lowered by 20.
    await phone.type('place-raise', '-20');
    await phone.says('place-formation', '218');
    await phone.type('place-second', 'half');
    await phone.the('place-second-problem').waitFor();
    await phone.type('place-first', '-2');
    await phone.type('place-second', '-1');
    await phone.the('place-no-string').waitFor();
    await phone.the('place-outside').waitFor();
    await phone.look('36b-drawing-place-outside');
    await phone.tap('place-away');
    await phone.the('place-no-string').waitFor({ state: 'detached' });
  }],
  ['the table under it says it all', async (phone) => {
    const { drawing: { pins } } = await phone.ask('job', { job: await phone.job() });
    await open(phone);
    const table = await phone.text('pin-table');
    for (const { name, finished_mm } of pins) {
      assert.ok(table.includes(name) && table.includes(String(Math.abs(Math.round(finished_mm)))), `${name}: ${table}`);
    }
  }],
];

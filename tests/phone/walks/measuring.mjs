// Measuring up: shapes that draw themselves while they are taped, levels, and what is said of them.
import assert from 'node:assert/strict';

/** A new plan with its title and use, on the page of its shape. */
async function measure(phone, title, shape) {
  await phone.goto('#/new');
  await phone.type('plan-title', title);
  await phone.tap('use-foot');
  await phone.tap('step-on');
  await phone.the('shape').selectOption(shape);
}

const drawn = async (phone) => Number((await phone.text('headline')).match(/([\d.]+) m²/)?.[1]);
const fill = async (phone, cells) => {
  for (const [test, text] of Object.entries(cells)) await phone.the(test).fill(text);
};

/** The plan on the pages is thrown away, so that the next walk begins with an empty one. */
async function afresh(phone) {
  await phone.goto('#/new');
  await phone.tap('plan-afresh');
  await phone.tap('plan-afresh-yes');
  await phone.page.waitForFunction(() => document.querySelector('[data-test=plan-title]')?.value === '');
}

export const measuring = [
  ['corners by two tapes draw themselves, and say how well the tapes agree', async (phone) => {
    await measure(phone, 'Yard by ties', 'ties');
    const taps = await phone.counting(async () => {
      // A rectangle of 6 by 4 on the base line: its diagonals are sqrt(52) = 7.211.
      await phone.type('base', '6');
      await phone.type('corners-0-a', '7,211');
      await phone.type('corners-0-b', '4');
      await phone.until('a triangle is drawn', async () => (await drawn(phone)) === 12);
      await phone.says('residuals', 'Nothing checks');
      await phone.type('corners-1-a', '4');
      await phone.type('corners-1-b', '7.211');
      await phone.until('the rectangle is drawn', async () => (await drawn(phone)) === 24);
    });
    await phone.look('43-ties');
    await phone.the('checks-0-from').selectOption('C');
    await phone.the('checks-0-to').selectOption('D');
    await phone.type('checks-0-measured', '6,15');
    await phone.says('residuals', 'too long');
    await phone.says('residuals', 'measure it again');
    await phone.look('44-ties-off');
    await phone.type('checks-0-measured', '6');
    await phone.says('residuals', 'fits');
    return `${taps} taps for a yard of four corners`;
  }],
  ['tapes that cannot meet are refused by how much', async (phone) => {
    await phone.goto('#/new/shape');
    await phone.type('corners-2-a', '1,5');
    await phone.type('corners-2-b', '2');
    assert.equal(await phone.the('corners-2-problem').count(), 0, 'it is still being typed');
    await phone.tap('base');
    // 6 m apart, 3.5 m of tape.
    await phone.says('corners-2-problem', '2500 mm too short');
    assert.equal(await drawn(phone), 24, 'the corners before it stay drawn');
    await phone.look('45-ties-refused');
    await phone.tap('corners-2-a');
    await phone.tap('corners-away');
    await phone.the('corners-2-problem').waitFor({ state: 'detached' });
  }],
  ['a job begins from ties, with its corners as pins', async (phone) => {
    await phone.tap('step-check');
    await phone.tap('plan-keep');
    await phone.the('next').waitFor();
    const { drawing, plan } = await phone.ask('job', { job: await phone.job() });
    assert.deepEqual(plan.outline.ties.corners.map((c) => c.name), ['C', 'D']);
    for (const name of ['A', 'B', 'C', 'D']) assert.ok(drawing.pins.some((pin) => pin.name === name), name);
  }],
  ['a boundary says in millimetres that it does not close', async (phone) => {
    await measure(phone, 'Round the pear tree', 'boundary');
    await fill(phone, { 'side-0-x': '5', 'side-0-y': '0' });
    await phone.tap('add-arc');
    await fill(phone, { 'side-1-x': '5', 'side-1-y': '3' });
    await phone.tap('side-1-find');
    await fill(phone, { 'side-1-chord': '3', 'side-1-rise': '1500' });
    await phone.tap('side-1-use');
    assert.equal(await phone.the('side-1-radius').inputValue(), '1.500');
    await phone.tap('add-side');
    await fill(phone, { 'side-2-x': '0', 'side-2-y': '3' });
    // A rectangle of 5 by 3 with half a circle of 1.5: 15 + 3.53.
    await phone.until('it is drawn', async () => Math.abs((await drawn(phone)) - 18.53) < 0.011);
    await phone.tap('add-side');
    await phone.type('side-3-x', '0,03');
    await phone.type('side-3-y', '-0,04');
    await phone.tap('side-0-x');
    await phone.says('sides-problem', '50 mm away from the start');
    await phone.look('46-boundary');
    await phone.tap('step-check');
    await phone.tap(phone.page.getByRole('link', { name: 'Shape: Sides' }));
    await phone.says('sides-problem', '50 mm');
    await fill(phone, { 'side-3-x': '0', 'side-3-y': '0' });
    await phone.the('sides-problem').waitFor({ state: 'detached' });
    await phone.says('headline', 'stone');
  }],
  ['openings are left out, and one outside is refused beside its fields', async (phone) => {
    await phone.goto('#/new/shape');
    await phone.tap('add-rectangle');
    await fill(phone, { 'hole-0-x': '1', 'hole-0-y': '1', 'hole-0-length': '0,6', 'hole-0-width': '0,5' });
    await phone.until('it is left out', async () => Math.abs((await drawn(phone)) - 18.23) < 0.011);
    await phone.type('hole-0-x', '-3');
    await phone.tap('hole-0-y');
    await phone.says('hole-0-problem', 'not wholly inside');
    await phone.look('47-holes');
    await phone.tap('hole-0-away');
    await afresh(phone);
  }],
  ['offsets to both sides have their area by two rules', async (phone) => {
    await measure(phone, 'Bank', 'offsets');
    // Surveying notes (worked example V1): offsets every 10 m, printed 460.75 and 461.167 m2.
    const read = ['3.15', '4.3', '8.2', '5.6', '6.85', '7.6', '4.2', '5.6', '4.3'];
    for (const [i, left] of read.entries()) await fill(phone, { [`stations-${i}-at`]: String(10 * i), [`stations-${i}-left`]: left });
    await phone.says('areas', '460.75');
    await phone.says('areas', '461.17');
    await phone.look('48-offsets');
    await afresh(phone);
  }],
  ['a building is looked after, and what is done about it is written down', async (phone) => {
    await measure(phone, 'By the kitchen', 'rectangle');
    await fill(phone, { length: '5', width: '3' });
    await phone.tap('step-on');
    await phone.tap('add-wall');
    await phone.the('wall-0-edge').selectOption('reference');
    await fill(phone, { 'wall-0-damp': '100', crossfall: '-60' });
    await phone.says('answers', 'falls towards the building');
    await phone.says('answers', '150 mm or more');
    await phone.look('49-levels-building');
    await phone.type('answer-caution.damp_course', 'A strip of gravel along the wall.');
    await phone.tap('step-check');
    await phone.says('plan-step', 'Answer: A strip of gravel along the wall.');
    await phone.page.getByRole('link', { name: 'It wants an answer' }).waitFor();
    await phone.look('50-check-answers');
  }],
  ['a surface through spots asks for enough of them, on its own page', async (phone) => {
    await phone.goto('#/new/levels');
    await phone.tap('surface-spots');
    await fill(phone, { 'spots-0-x': '0', 'spots-0-y': '0', 'spots-0-mm': '0', 'spots-1-x': '5', 'spots-1-y': '0', 'spots-1-mm': '-60' });
    await phone.tap('existing');
    await phone.the('spots-problem').waitFor();
    await fill(phone, { 'spots-2-x': '0', 'spots-2-y': '3', 'spots-2-mm': '-50' });
    await phone.the('spots-problem').waitFor({ state: 'detached' });
    await phone.says('headline', 'stone');
    await phone.look('51-levels-spots');
    await phone.tap('surface-planes');
    await fill(phone, {
      'planes-from-x': '0', 'planes-from-y': '1,5', 'planes-from-mm': '0', 'planes-to-x': '5', 'planes-to-y': '1,5', 'planes-to-mm': '-60',
      'planes-left': '60', 'planes-right': '80',
    });
    await phone.says('headline', 'stone');
    await phone.look('52-levels-planes');
    await afresh(phone);
  }],
  ['what is wrong is said in words, and pressing it leads to its field', async (phone) => {
    await measure(phone, 'Wrong', 'rectangle');
    await fill(phone, { length: '4', width: '1200' });
    await phone.goto('#/new/blocks');
    await fill(phone, { 'block-length': '100', 'block-width': '200' });
    await phone.goto('#/new/check');
    await phone.the('problems').waitFor();
    const said = await phone.text('problems');
    assert.ok(!/[/_{}]/.test(said), said);
    await phone.look('53-problems');
    await phone.tap(phone.page.getByRole('link', { name: 'Shape: Width' }));
    await phone.page.waitForFunction(() => document.activeElement?.getAttribute('data-test') === 'width');
    await phone.the('width-problem').waitFor();
    await afresh(phone);
  }],
];

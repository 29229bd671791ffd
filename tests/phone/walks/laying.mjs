// The blocks as laid: on the plan's page of blocks and bond, and course by course on the site.
import assert from 'node:assert/strict';

import { small } from './every-screen.mjs';

const fill = async (phone, cells) => {
  for (const [test, text] of Object.entries(cells)) await phone.the(test).fill(text);
};
const rows = (phone, table) => phone.the(table).locator('tbody tr').evaluateAll((all) => all.map((row) => [...row.cells].map((cell) => cell.textContent.replace(/\s/g, ' '))));

/** The plan on the pages is thrown away, so that the next one begins empty. */
async function afresh(phone) {
  await phone.goto('#/new');
  if ((await phone.the('plan-afresh').count()) === 0) return;
  await phone.tap('plan-afresh');
  await phone.tap('plan-afresh-yes');
  await phone.page.waitForFunction(() => document.querySelector('[data-test=plan-title]')?.value === '');
}

/** A new plan of a rectangle, on the page of its blocks. */
async function rectangle(phone, title, length, width, use = 'foot') {
  await afresh(phone);
  await phone.type('plan-title', title);
  await phone.tap(`use-${use}`);
  await phone.goto('#/new/shape');
  await fill(phone, { length, width });
  await blocks(phone);
}

async function blocks(phone) {
  await phone.goto('#/new/blocks');
  await phone.the('laid').waitFor();
}

/** A path of 1.3 m along a bend, on the page of its blocks: 2.4 m straight, 4.7 m at a radius of 5.2 m, 1.8 m straight. */
async function bend(phone) {
  await afresh(phone);
  await phone.type('plan-title', 'Path round the apple tree');
  await phone.tap('use-foot');
  await phone.goto('#/new/shape');
  await phone.the('shape').selectOption('strip');
  await phone.tap('add-curve');
  await phone.tap('add-straight');
  await fill(phone, { 'piece-0-length': '2,4', 'piece-1-length': '4,7', 'piece-1-radius': '5,2', 'piece-2-length': '1,8', width: '1,3' });
  await phone.tap('side-right');
  await blocks(phone);
}

/** How many pieces a path of the drawing has. */
const pieces = (phone, test) => phone.the(test).locator('path').evaluateAll((paths) => paths.map((path) => (path.getAttribute('d') ?? '').split('M').length - 1));

/** What is said beside a name in a list of facts. */
const fact = (phone, test, name) => phone.the(test).locator('div', { has: phone.page.locator('dt', { hasText: new RegExp(`^${name}$`) }) }).locator('dd').innerText();

export const laying = [
  ['a drive in herringbone is drawn block by block, and its counts are said', async (phone) => {
    await rectangle(phone, 'Drive to the cart shed', '5', '3', 'car');
    await phone.tap('pattern-stack');
    await phone.the('laid').filter({ hasNotText: 'two widths' }).waitFor();
    await phone.tap('pattern-herringbone_90');
    // Two widths of 100 mm lie along one length of 200 in it: the joint at ends is twice that at the sides.
    await phone.says('laid', '6 mm, so that two widths lie along one length');
    await phone.says('laid-search', 'starts tried');
    const whole = Number(await fact(phone, 'laid-counts', 'whole'));
    // 15 m² hold at most 15 / 0.0209 = 717 blocks of 200 by 100 with joints (hand arithmetic).
    assert.ok(whole > 550 && whole < 717, `${whole} whole`);
    await phone.until('as many are drawn', async () => (await pieces(phone, 'laid-sketch')).includes(whole));
    assert.match(await fact(phone, 'laid-counts', 'cut'), /pieces?, out of \d+ more/);
    await phone.look('90-herringbone');
    await phone.the('laid-counts').scrollIntoViewIfNeeded();
    await phone.look('90-herringbone-below');
    return `${whole} whole`;
  }],
  ['a width of whole courses is taken into the plan with one press', async (phone) => {
    await rectangle(phone, 'Path to the bins', '4', '1,3');
    await phone.tap('pattern-stack');
    // Thirteen blocks of 100 mm with twelve joints of 3 mm are 1.336 m, twelve with eleven 1.233 m (hand arithmetic).
    await phone.says('width-12', '1.233 m');
    await phone.says('width-13', '1.336 m');
    await phone.the('widths').scrollIntoViewIfNeeded();
    await phone.look('91-widths');
    const taps = await phone.counting(() => phone.tap('take-width-12'));
    await phone.says('width-12', 'This is the width of the plan');
    await phone.goto('#/new/shape');
    assert.equal(await phone.the('width').inputValue(), '1.233');
    return `${taps} tap`;
  }],
  ['joints have limits and the pattern a start of their own; one of two is said, and empty is as if never typed', async (phone) => {
    await rectangle(phone, 'Path to the rain butt', '4', '1,2');
    await phone.says('default-block.joint_limits_mm', '2–5 mm');
    await phone.the('laid-search').waitFor();
    await phone.type('joint-most', '4');
    await phone.tap('block-length');
    await phone.the('joint-least-problem').waitFor();
    await phone.look('91a-joint-limits-half');
    await phone.type('joint-least', '3,5');
    // The joint is 3 mm unless it is given.
    await phone.says('joint-limits-problem', 'the joint of 3 mm is not between ');
    await phone.type('joint-least', '2');
    await phone.the('joint-limits-problem').waitFor({ state: 'detached' });
    await phone.says('laid', '2 to 4 mm');
    await phone.type('start-along', '-50');
    await phone.tap('block-length');
    await phone.the('start-across-problem').waitFor();
    await phone.type('start-across', '0');
    await phone.the('start-across-problem').waitFor({ state: 'detached' });
    // A start that is given is not looked for.
    await phone.the('laid-search').waitFor({ state: 'detached' });
    await phone.the('start-along').scrollIntoViewIfNeeded();
    await phone.look('91b-start');
    await phone.hold({});
    await blocks(phone);
    assert.deepEqual([await phone.the('joint-most').inputValue(), await phone.the('start-along').inputValue()], ['4', '-50']);
    for (const test of ['joint-least', 'joint-most', 'start-along', 'start-across']) await phone.the(test).fill('');
    await phone.the('laid-search').waitFor();
    await phone.says('laid', '2 to 5 mm');
  }],
  ['a path round a bend has its courses, its problems with what mends them, and its boards', async (phone) => {
    await bend(phone);
    await phone.tap('course-soldier');
    await phone.the('laid-edges').waitFor();
    await phone.tap('more-problems-open');
    await phone.the('laid-problems').locator('[data-code="lay.joint"]').first().waitFor();
    await phone.look('92-bend');
    await phone.the('laid-problems').first().scrollIntoViewIfNeeded();
    await phone.look('92-bend-problems');
    const mended = phone.the('laid-problems').locator('[data-code="lay.joint"] .mend');
    assert.match(await mended.first().innerText(), /mm/);
    const laps = phone.the('laid-problems').locator('[data-code="lay.lap"]');
    const short = await laps.count();
    assert.ok(short > 0, 'courses that change length drift out of bond');
    await phone.the('keep-laps').check();
    await phone.until('laps are mended', async () => (await laps.count()) < short);
    await phone.look('92-bend-mended');
    await phone.the('keep-laps').uncheck();
    await phone.until('they are as before', async () => (await laps.count()) === short);
    await phone.tap('laid-courses-open');
    await phone.the('courses-table').waitFor();
    const courses = await rows(phone, 'courses-table');
    assert.ok(courses.length >= 8, `${courses.length} courses`);
    await phone.tap('laid-edges-open');
    await phone.the('edges-table').waitFor();
    await phone.tap('laid-cuts-open');
    await phone.the('cuts-table').waitFor();
    const sum = (await rows(phone, 'cuts-table')).reduce((all, row) => all + Number(row[2]), 0);
    assert.equal(`${sum} pieces`, await phone.text('laid-cuts-says'));
    await phone.tap('laid-templates-open');
    // A board of 1.2 m in a curve of 5.2 m: its middle ordinate is 5200 - sqrt(5200² - 600²) = 34.7 mm (hand arithmetic).
    await phone.the('template-0').waitFor();
    const [middle] = await rows(phone, 'template-0');
    assert.deepEqual(middle, ['0.00', '34.7', '0']);
    await phone.the('courses-table').scrollIntoViewIfNeeded();
    await phone.look('93-courses-table');
    await phone.the('template-0').scrollIntoViewIfNeeded();
    await phone.look('94-boards');
  }],
  ['the blocks are looked at closer, moved and brought nearer', async (phone) => {
    await bend(phone);
    await phone.tap('look-closer');
    const plan = phone.the('laid-plan');
    await plan.waitFor();
    assert.match(await plan.getAttribute('aria-label'), /whole blocks/);
    const before = Number(await plan.getAttribute('data-scale'));
    await phone.look('95-closer');
    // Two quick presses on the ring of the first problem, then once more by the key.
    const ring = await plan.locator('circle').first().boundingBox();
    for (let i = 0; i < 2; i += 1) await phone.page.touchscreen.tap(ring.x + ring.width / 2, ring.y + ring.height / 2);
    await phone.tap('zoom-in');
    await phone.until('it is nearer', async () => Number(await plan.getAttribute('data-scale')) > before * 3);
    await phone.until('it is drawn anew', async () => (await phone.the('laid-layer').getAttribute('style')).includes('scale(1)'));
    await phone.look('96-nearer');
    await phone.page.goBack();
    await plan.waitFor({ state: 'detached' });
    await phone.the('laid').waitFor();
  }],
  ['a block longer than the path is told in words', async (phone) => {
    await rectangle(phone, 'Path too small', '0,9', '0,15');
    await fill(phone, { 'block-length': '1000', 'block-width': '200' });
    await phone.the('laid-problems').filter({ hasText: 'No block fits in whole' }).waitFor();
    await phone.the('laid-problems').first().scrollIntoViewIfNeeded();
    await phone.look('97-too-small');
  }],
  ['what the fields refuse leaves the plain drawing, and the laying comes back', async (phone) => {
    await rectangle(phone, 'Path to the well', '2', '1');
    await phone.type('joint', '120');
    await phone.the('laid').waitFor({ state: 'detached' });
    await phone.the('sketch').waitFor();
    await phone.page.evaluate(() => document.activeElement?.blur());
    await phone.the('joint-problem').waitFor();
    assert.equal(await phone.the('fault').count(), 0, 'it is said once, at its field');
    await phone.type('joint', '3');
    await phone.the('laid-sketch').waitFor();
  }],
  ['a paving too large to be laid is told so', async (phone) => {
    await rectangle(phone, 'Yard', '2', '1');
    await phone.goto('#/new/shape');
    await fill(phone, { length: '150', width: '120' });
    await phone.goto('#/new/blocks');
    await phone.says('fault', 'at most 600000 blocks');
    await phone.the('sketch').waitFor();
    await phone.look('98-too-large');
  }],
  ['the course in hand stands large, and the next is one press away', async (phone) => {
    await bend(phone);
    await phone.goto('#/new/check');
    await phone.tap('plan-keep');
    await phone.the('next').waitFor();
    await phone.tap('more');
    await phone.tap('more-courses');
    await phone.says('course', 'Course 1');
    await phone.look('100-course');
    const taps = await phone.counting(() => phone.tap('course-next'));
    await phone.says('course', 'Course 2');
    await phone.tap('course-next');
    await phone.says('course', 'Course 3');
    await phone.the('course-about').waitFor();
    await phone.tap('laid-cuts-open');
    const piece = phone.the('cut-0');
    const before = await piece.innerText();
    await phone.tap(piece);
    await phone.says('laid-cuts-says', '1 of');
    assert.notEqual(await piece.innerText(), before);
    await piece.scrollIntoViewIfNeeded();
    await phone.look('101-cuts');
    const job = await phone.job();
    await phone.until('it is kept', async () => (await phone.ask('drafts'))[`courses.${job}`]?.hand === 3);
    await phone.goto(`#/job/${job}/courses`);
    await phone.says('course', 'Course 3');
    await phone.says('laid-cuts-says', '1 of');
    await phone.tap('laid-cuts-open');
    await phone.tap('cut-0-back');
    await phone.says('laid-cuts-says', '0 of');
    for (const stage of ['lay', 'cut']) {
      await phone.goto(`#/job/${job}/stage/${stage}`);
      await phone.tap('stage-courses');
      await phone.the('course').waitFor();
    }
    return `${taps} tap for the next course`;
  }],
  ['all of it, narrow, dark, turned and with large letters', async (phone) => {
    const job = await phone.job();
    const narrow = { width: 320, height: 640 };
    const turned = { width: 844, height: 390 };
    const ways = { narrow: { viewport: narrow, screen: narrow }, dark: { colorScheme: 'dark' }, turned: { viewport: turned, screen: turned }, large: {} };
    for (const [way, how] of Object.entries(ways)) {
      await phone.hold(how);
      if (way === 'large') {
        await phone.context.addInitScript(() => {
          document.addEventListener('DOMContentLoaded', () => { document.documentElement.style.fontSize = '200%'; });
        });
      }
      for (const [place, there] of [['plan/blocks', 'laid'], ['courses', 'course']]) {
        await phone.goto(`#/job/${job}/${place}`);
        await phone.the(there).waitFor();
        await phone.page.evaluate(() => document.querySelectorAll('details').forEach((fold) => { fold.open = true; }));
        await phone.page.waitForLoadState('networkidle');
        await phone.look(`102-${there}-${way}`);
        assert.deepEqual(await small(phone), [], `${place}, ${way}`);
        await phone.tap('look-closer');
        await phone.the('laid-plan').waitFor();
        await phone.look(`103-${there}-closer-${way}`);
        assert.deepEqual(await small(phone), [], `${place} closer, ${way}`);
      }
    }
    await phone.hold({});
  }],
  ['five thousand blocks move under the finger', async (phone) => {
    await rectangle(phone, 'Large drive', '10', '10', 'car');
    await phone.tap('pattern-herringbone_90');
    await phone.until('all are laid', async () => Number(await fact(phone, 'laid-counts', 'it takes')) > 4_500);
    const count = await fact(phone, 'laid-counts', 'it takes');
    await phone.tap('look-closer');
    const plan = phone.the('laid-plan');
    await plan.waitFor();
    await phone.look('99-five-thousand');
    const said = [`${count} blocks`];
    for (const nearer of [0, 4]) {
      for (let i = 0; i < nearer; i += 1) await phone.tap('zoom-in');
      const frames = await panned(phone, plan);
      const mean = frames.reduce((a, b) => a + b, 0) / frames.length;
      const late = frames.filter((ms) => ms > 25).length;
      said.push(`${nearer ? 'near' : 'whole'}: ${frames.length} frames of ${mean.toFixed(1)} ms on average, ${late} late`);
    }
    return said.join('; ');
  }],
];

/** Milliseconds from frame to frame while a finger moves the drawing for two seconds. */
function panned(phone, plan) {
  return plan.evaluate((svg) => new Promise((resolve) => {
    const { left, top, width, height } = svg.getBoundingClientRect();
    const at = (n) => ({ clientX: left + width / 2 + 60 * Math.sin(n / 9), clientY: top + height / 2 + 60 * Math.cos(n / 9), pointerId: 1, isPrimary: true, bubbles: true });
    svg.setPointerCapture = () => undefined;
    svg.dispatchEvent(new PointerEvent('pointerdown', at(0)));
    const frames = [];
    let last = null;
    let n = 0;
    const step = (now) => {
      if (last !== null) frames.push(now - last);
      last = now;
      n += 1;
      svg.dispatchEvent(new PointerEvent('pointermove', at(n)));
      if (frames.length < 120) requestAnimationFrame(step);
      else {
        svg.dispatchEvent(new PointerEvent('pointercancel', at(n)));
        delete svg.setPointerCapture;
        resolve(frames.slice(5));
      }
    };
    requestAnimationFrame(step);
  }));
}

// A new job: typed page by page, or from a file.
import assert from 'node:assert/strict';
import { fileURLToPath } from 'node:url';

const fixture = fileURLToPath(new URL('../../../fixtures/demo/car-standing.json', import.meta.url));

async function openFile(phone, file) {
  await phone.goto('#/new');
  await phone.the('plan-file').setInputFiles(file);
}

const json = (value) => ({ name: 'plan.json', mimeType: 'application/json', buffer: Buffer.from(value) });

export const plans = [
  ['a plan is typed page by page, with what is wrong beside its field', async (phone) => {
    await phone.goto('');
    await phone.tap('new-job');
    await phone.the('plan-title').waitFor();
    await phone.look('26-plan-use');
    const taps = await phone.counting(async () => {
      await phone.type('plan-title', 'Patio by the pear tree');
      await phone.tap('use-foot');
      await phone.tap('step-on');
      await phone.type('length', '4,5');
      await phone.type('width', 'three');
      await phone.tap('length');
      await phone.the('width-problem').waitFor();
      await phone.look('27-plan-problem');
      await phone.type('width', '3');
      await phone.the('width-problem').waitFor({ state: 'detached' });
      await phone.says('headline', '13.5');
      await phone.look('28-plan-shape');
      await phone.tap('step-levels');
      // Some phones' decimal keyboards have no minus.
      assert.equal(await phone.the('level-start').getAttribute('inputmode'), 'text');
      await phone.tap('step-back');
      for (const step of ['levels', 'layers', 'blocks', 'check']) {
        await phone.tap('step-on');
        await phone.page.locator(`[data-test=plan-step][data-step=${step}]`).waitFor();
        await phone.look(`29-plan-${step}`);
      }
      await phone.tap('plan-keep');
      await phone.the('next').waitFor();
    });
    const job = await phone.job();
    const { title, drawing } = await phone.ask('job', { job });
    assert.equal(title, 'Patio by the pear tree');
    assert.ok(Math.abs(drawing.area_m2 - 13.5) < 1e-9, `${drawing.area_m2} m²`);
    await phone.goto('#/new');
    assert.equal(await phone.the('plan-title').inputValue(), '', 'the next plan starts empty');
    return `${taps} taps, every page seen`;
  }],
  ['a default tells where it comes from', async (phone) => {
    await phone.goto(`#/job/${await phone.job()}/plan/layers`);
    const bed = phone.the('default-layers.bed_mm');
    await phone.tap(bed.locator('summary'));
    await bed.locator('p').waitFor();
    assert.ok((await bed.locator('p').innerText()).length > 10);
    await phone.look('30-default');
  }],
  ['a plan file with problems has every one told', async (phone) => {
    await openFile(phone, json(JSON.stringify({
      fairfall_plan: 1, title: 'Wrong', use: 'lorry', outline: { rectangle: { length_m: -1, width_m: 1200 } }, colour: 'red',
    })));
    await phone.the('problems').waitFor();
    await phone.page.waitForFunction(() => document.querySelectorAll('[data-test=problem]').length === 4);
    await phone.look('31-plan-problems');
    assert.equal(await phone.the('plan-keep').count(), 0, 'it cannot be started');
    await openFile(phone, json('not a plan'));
    await phone.page.waitForFunction(() => document.querySelectorAll('[data-test=problem]').length === 1);
  }],
  ['a job starts from a plan file', async (phone) => {
    const before = (await phone.ask('shelf')).jobs.length;
    await openFile(phone, fixture);
    await phone.the('plan-keep').waitFor();
    await phone.look('32-plan-file');
    await phone.tap('plan-keep');
    await phone.the('next').waitFor();
    const { jobs } = await phone.ask('shelf');
    assert.equal(jobs.length, before + 1);
    assert.deepEqual([jobs[0].title, jobs[0].use], ['Car standing beside the bakehouse', 'car']);
    await phone.goto('');
    await phone.the('job').nth(before).waitFor();
    await phone.look('33-shelf');
  }],
  ['a plan is revised, and the diary has both', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}/plan/layers`);
    await phone.type('sub-base', '250');
    await phone.tap('step-check');
    await phone.tap('plan-keep');
    await phone.the('next').waitFor();
    assert.equal((await phone.standing(job, 'plan')).length, 2);
    const { plan } = await phone.ask('job', { job });
    assert.equal(plan.layers.sub_base_mm, 250);
  }],
];

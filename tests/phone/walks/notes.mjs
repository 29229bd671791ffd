// What is under More: a note, a delivery.
import assert from 'node:assert/strict';

async function more(phone, tool) {
  await phone.goto(`#/job/${await phone.job()}`);
  await phone.tap('more');
  await phone.the('more-dialog').waitFor();
  await phone.tap(phone.the('more-dialog').getByTestId(`tool-${tool}`));
}

export const notes = [
  ['a note', async (phone) => {
    const job = await phone.job();
    await more(phone, 'note');
    await phone.the('note-text').waitFor();
    await phone.look('14-note');
    assert.ok(await phone.the('note-keep').isDisabled());
    await phone.type('note-text', 'Rain until three. <b>Sheet</b> over the stone.');
    await phone.tap('note-keep');
    await phone.the('next').waitFor();
    const [note] = await phone.standing(job, 'note');
    assert.equal(note.says.values.text, 'Rain until three. <b>Sheet</b> over the stone.');
  }],
  ['a delivery in each unit that is offered', async (phone) => {
    const job = await phone.job();
    await more(phone, 'delivery');
    await phone.the('delivery-line').waitFor();
    await phone.look('15-delivery');
    const offered = await phone.the('delivery-unit').evaluate((unit) => [...unit.options].map((o) => o.value).filter(Boolean));
    assert.ok(offered.length >= 4, offered.join());
    for (const unit of offered) {
      await phone.goto(`#/job/${job}/delivery`);
      await phone.the('delivery-line').selectOption('other');
      await phone.the('delivery-what').fill('Type 1');
      await phone.the('delivery-quantity').fill('4.2');
      await phone.the('delivery-unit').selectOption(unit);
      await phone.tap('delivery-keep');
      await phone.the('order').or(phone.the('fault')).first().waitFor();
      assert.equal(await phone.the('fault').count(), 0, `${unit} is offered and not taken`);
    }
    assert.equal((await phone.standing(job, 'delivery')).length, offered.length);
  }],
];

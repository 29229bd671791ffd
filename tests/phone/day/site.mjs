// What else happens on a site: lines of the diary kept through their own screens.
import { dayFromToday, hours, layerKey } from './demo.mjs';

/** What was chosen is kept: the choice is open again. */
const unchosen = (phone, test) => phone.until(`${test} is open again`, async () => !(await phone.the(test).isChecked()));

export async function weather(hand, body) {
  const { phone } = hand;
  await hand.more('weather');
  await phone.tap(`weather-sky-${body.sky}`);
  await hand.type('weather-temperature', body.temperature_c);
  await hand.type('weather-text', body.text);
  await phone.tap('weather-keep');
  await phone.the('next').waitFor();
  return body;
}

export async function forecast(hand, body, { line }) {
  const { phone } = hand;
  const day = dayFromToday(body.day, line);
  await hand.more('weather');
  await hand.type('forecast-day', day);
  await phone.tap(`forecast-sky-${body.sky}`);
  await hand.type('forecast-low', body.low_c);
  await hand.type('forecast-high', body.high_c);
  await hand.type('forecast-text', body.text);
  await phone.tap('forecast-keep');
  await unchosen(phone, `forecast-sky-${body.sky}`);
  const { says } = (await hand.view()).site.forecasts.find((expected) => expected.day === day);
  await phone.says('expected', says.text);
  return { ...body, day };
}

export async function day_closed(hand, body) {
  const { phone } = hand;
  await hand.more('close-day');
  for (const what of ['covered', 'guarded']) await phone.tap(`day-${what}-${body[what] ? 'yes' : 'no'}`);
  await hand.type('day-left', body.left);
  await hand.type('day-hours', hours(body.worked_min));
  await hand.type('day-tomorrow', body.tomorrow);
  await phone.tap('close-day-keep');
  await unchosen(phone, `day-covered-${body.covered ? 'yes' : 'no'}`);
  await phone.the('day-closed').waitFor();
  return body;
}

export async function spread(hand, body) {
  const { phone } = hand;
  await hand.more('spread');
  await hand.choose('spread-layer', layerKey(body));
  await hand.type('spread-loose', body.loose_mm);
  await phone.tap(`spread-damp-${body.damp}`);
  await phone.tap('spread-keep');
  await phone.the('next').waitFor();
  return body;
}

export async function soft_spot(hand, body) {
  const { phone } = hand;
  await hand.more('soft-spots');
  await hand.onString('spot', body.place);
  await hand.type('spot-text', body.text);
  const before = await phone.the('spot-fill').count();
  await phone.tap('spot-keep');
  await phone.the('spot-fill').nth(before).waitFor();
  return body;
}

export async function soft_spot_filled(hand, body, { named }) {
  const { phone } = hand;
  const spot = named.get(body.spot);
  const { soft_spots } = (await hand.view()).site;
  await hand.more('soft-spots');
  const row = phone.the('soft-spots').locator('li').nth(soft_spots.findIndex(({ entry }) => entry === spot));
  await phone.tap(row.getByTestId('spot-fill'));
  await hand.type('fill-depth', body.depth_mm);
  await hand.type('fill-with', body.with);
  await phone.tap('fill-keep');
  await row.filter({ hasText: body.with }).waitFor();
  return { ...body, spot };
}

export async function edge_concrete(hand, body) {
  const { phone } = hand;
  await hand.more('concrete');
  await hand.type('concrete-where', body.where);
  await hand.type('concrete-temperature', body.temperature_c);
  await hand.type('concrete-batch', body.batch);
  await phone.tap('concrete-keep');
  await phone.says('concrete', body.where);
  return body;
}

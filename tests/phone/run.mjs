// Walks through the app as a person with a phone would: node run.mjs URL FOLDER-FOR-PICTURES FOLDER-OF-THE-PHONE.
// The last line is `N passed, N failed`.
import { join } from 'node:path';

import { Phone } from './phone.mjs';
import { begin } from './walks/begin.mjs';
import { buildUp } from './walks/build-up.mjs';
import { device } from './walks/device.mjs';
import { diary } from './walks/diary.mjs';
import { dips } from './walks/dips.mjs';
import { drawing } from './walks/drawing.mjs';
import { everyScreen } from './walks/every-screen.mjs';
import { inches } from './walks/inches.mjs';
import { laying } from './walks/laying.mjs';
import { measuring } from './walks/measuring.mjs';
import { notes } from './walks/notes.mjs';
import { onSite } from './walks/on-site.mjs';
import { orders } from './walks/orders.mjs';
import { papers } from './walks/papers.mjs';
import { passes } from './walks/passes.mjs';
import { photos } from './walks/photos.mjs';
import { plans } from './walks/plans.mjs';
import { ownThings } from './walks/settings.mjs';
import { fromTheGate, stages } from './walks/stages.mjs';
import { tables } from './walks/tables.mjs';
import { taps } from './walks/taps.mjs';
import { trade } from './walks/trade.mjs';
import { ways } from './walks/way-back.mjs';
import { wholeDay } from './walks/whole-day.mjs';

const [url, out, folder] = process.argv.slice(2);
const phone = await Phone.open(url, out, folder);
let [passed, failed] = [0, 0];
const walks = [
  ...begin, ...dips, ...inches, ...passes, ...photos, ...notes, ...stages, ...diary, ...papers, ...ways, ...device,
  ...drawing, ...plans, ...tables, ...trade, ...measuring, ...buildUp, ...laying, ...orders, ...ownThings, ...onSite, ...taps, ...everyScreen,
  ...fromTheGate, ...wholeDay,
];
try {
  for (const [name, walk] of walks) {
    try {
      phone.complaints = [];
      const said = await walk(phone);
      passed += 1;
      console.log(`ok      ${name}${said ? `: ${said}` : ''}`);
    } catch (error) {
      failed += 1;
      const picture = join(out, `failed-${failed}.png`);
      await phone.page.screenshot({ path: picture }).catch(() => undefined);
      console.log(`FAILED  ${name} (${picture})\n${String(error.stack ?? error)}`);
    }
  }
} finally {
  await phone.close();
}
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;

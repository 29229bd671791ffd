// Every kind of line with the function that keeps it through its own screen. A function is given the hand,
// the line's body and what there is besides: the line, the entries that have names, the dips so far. It
// gives the body that is to be found in the diary afterwards; a photo stands in it by its file's name.
import assert from 'node:assert/strict';

import * as gates from './gates.mjs';
import * as measured from './measured.mjs';
import * as papers from './papers.mjs';
import * as site from './site.mjs';

const KINDS = { ...gates, ...measured, ...papers, ...site };

/** Works the lines in order; gives each with the body that is to be found in the diary. */
export async function workLines(hand, lines) {
  const [worked, named, dips] = [[], new Map(), []];
  for (const [i, line] of lines.entries()) {
    try {
      assert.ok(KINDS[line.kind], `no screen is known for "${line.kind}"`);
      await hand.to(line.who);
      const body = await KINDS[line.kind](hand, line.body, { line, named, dips });
      const entry = (await hand.ask('diary')).at(-1);
      assert.equal(entry.kind, line.kind);
      if (line.name) named.set(line.name, entry.id);
      worked.push({ ...line, id: entry.id, body });
    } catch (error) {
      error.message = `line ${i + 1}, ${line.kind}: ${error.message}`;
      throw error;
    }
  }
  return { worked, dips };
}

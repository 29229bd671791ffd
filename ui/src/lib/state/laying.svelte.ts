import { untrack } from 'svelte';

import { Asked } from './asked.svelte';
import type { PlanDraft } from './plan.svelte';

/** How long after the look at a plan its blocks are laid: typing goes first. */
const REST_MS = 350;

/** A draft's blocks as laid, asked anew with every look at it while they are wanted. For a component as it is made. */
export function layingOf(draft: PlanDraft, wanted: () => boolean): Asked<'laying'> {
  const asked = new Asked('laying');
  $effect(() => {
    // What is typed is not followed, only the look at it.
    const looked = draft.look !== null;
    if (!wanted()) asked.forget();
    else if (looked) untrack(() => asked.soon({ text: draft.text }, asked.answer ? REST_MS : 0));
  });
  return asked;
}

import { untrack } from 'svelte';

import { Asked } from './asked.svelte';
import type { PlanDraft } from './plan.svelte';

/** What the core says of a plan besides its look: asked anew with every look that finds nothing wrong. For a component as it is made. */
export function askedOf<K extends 'plan_takes' | 'order_of_plan'>(request: K, draft: PlanDraft): Asked<K> {
  const asked = new Asked<K>(request);
  $effect(() => {
    // What is typed is not followed, only the look at it: the typing itself would ask twice.
    if (draft.good) void untrack(() => asked.ask({ text: draft.text } as Parameters<typeof asked.ask>[0]));
    else asked.forget();
  });
  return asked;
}

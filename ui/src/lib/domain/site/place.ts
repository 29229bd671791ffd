import type { Trouble } from '../../backend';
import type { Task } from '../../state/task.svelte';
import { say } from '../../words/say';
import { numberOrText } from '../../words/typed';

/** The weather in a word, as it is chosen. */
export const SKIES = (['dry', 'wet', 'frost', 'drying'] as const).map((value) => ({ value: value as string, label: say(`sky.${value}`) }));

/** A place along a string as it is logged, from `from>to` and what was typed. */
export function onString(string: string, at: string): { from: string; to: string; at_m: number | string } {
  const [from = '', to = ''] = string.split('>');
  return { from, to, at_m: numberOrText(at) };
}

/** What the core found wrong with a key of the entry that was sent. */
export function problemOf(task: Task, key: string): Trouble | undefined {
  return task.fault?.problems.find((p) => p.at.endsWith(`/${key}`));
}

/** An entry's optional member: left out where nothing was typed. */
export function given<K extends string>(key: K, typed: string): Partial<Record<K, string>> {
  const text = typed.trim();
  return (text ? { [key]: text } : {}) as Partial<Record<K, string>>;
}

/** An entry's optional number: left out where nothing was typed. */
export function givenNumber<K extends string>(key: K, typed: string): Partial<Record<K, number | string>> {
  return (typed.trim() ? { [key]: numberOrText(typed) } : {}) as Partial<Record<K, number | string>>;
}

/** Hours that were typed as an entry's optional minutes; what is no number goes on as it was typed. */
export function givenMinutes<K extends string>(key: K, typed: string): Partial<Record<K, number | string>> {
  if (!typed.trim()) return {};
  const hours = numberOrText(typed);
  return { [key]: typeof hours === 'number' && hours >= 0 ? Math.round(hours * 60) : typed.trim() } as Partial<Record<K, number | string>>;
}

import core from '../../../../core/words/en.json';
import type { Phrase } from '../generated/types';
import { en } from './en';
import { fill, type Catalogue, type Values } from './fill';

/** Every key that a screen may say: the screens' own words, and what the core says. */
export type Key = keyof typeof en | keyof typeof core;

const catalogue: Catalogue = { ...core, ...en };

/** The words for a key. */
export function say(key: Key, values?: Values): string {
  return fill(catalogue, key, values) ?? key;
}

/** The words for what the core says, or its own English where this catalogue lacks them. */
export function sayPhrase(phrase: Phrase): string {
  return fill(catalogue, phrase.code, phrase.values) ?? phrase.text;
}

/** The words for a key that is made up while running, or the fallback where there are none. */
export function sayOr(key: string, fallback: string, values?: Values): string {
  return fill(catalogue, key, values) ?? fallback;
}

/** The words for what the core says without the list that it ends with, where there are such words. */
export function sayShort(phrase: Phrase): string {
  return sayOr(`${phrase.code}_short`, sayPhrase(phrase));
}

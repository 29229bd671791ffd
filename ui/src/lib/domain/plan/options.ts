import { say } from '../../words/say';

/** Left or right. */
export const HANDS = (['left', 'right'] as const).map((value) => ({ value, label: say(`hand.${value}`) }));
/** How a strip ends. */
export const ENDS = (['square', 'round'] as const).map((value) => ({ value, label: say(`end.${value}`) }));

/** What a key of the keypad does. */
export type PadKey = '0' | '1' | '2' | '3' | '4' | '5' | '6' | '7' | '8' | '9' | 'point' | 'minus' | 'rub_out' | 'clear';

/** Long enough for every measure of a job, short enough to stay on the screen. */
const LONGEST = 7;

/** The typed text after one more key. A key that makes no sense there changes nothing. */
export function press(text: string, key: PadKey): string {
  switch (key) {
    case 'clear':
      return '';
    case 'rub_out':
      return text.slice(0, -1);
    case 'minus':
      return text.startsWith('-') ? text.slice(1) : `-${text}`;
    case 'point':
      if (text.includes('.')) return text;
      return text === '' || text === '-' ? `${text}0.` : `${text}.`;
    default:
      if (text.length >= LONGEST) return text;
      if (text === '0' || text === '-0') return text.slice(0, -1) + key;
      return text + key;
  }
}

/** The number that was typed; none while it is not one yet. */
export function typedNumber(text: string): number | null {
  if (!/^-?\d+(\.\d*)?$/.test(text)) return null;
  return Number(text);
}

/** The key that a hardware keyboard's key stands for. */
export function padKeyOf(key: string): PadKey | null {
  if (/^\d$/.test(key)) return key as PadKey;
  if (key === '.' || key === ',') return 'point';
  if (key === '-') return 'minus';
  if (key === 'Backspace') return 'rub_out';
  if (key === 'Delete') return 'clear';
  return null;
}

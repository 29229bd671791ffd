import { beforePart, turned } from '../words/eighths';

/** What a key of the keypad does. */
export type PadKey =
  | '0' | '1' | '2' | '3' | '4' | '5' | '6' | '7' | '8' | '9'
  | 'point' | 'half' | 'eighth' | 'minus' | 'rub_out' | 'clear';

/** Long enough for every measure of a job, short enough to stay on the screen. */
const LONGEST = 7;

/** The typed text after one more key. A key that makes no sense there changes nothing. */
export function press(text: string, key: PadKey): string {
  switch (key) {
    case 'clear':
      return '';
    case 'rub_out':
      return text.slice(0, -1).trimEnd();
    case 'minus':
      return text.startsWith('-') ? text.slice(1) : `-${text}`;
    case 'point':
      if (text.includes('.')) return text;
      return text === '' || text === '-' ? `${text}0.` : `${text}.`;
    case 'half':
      return withPart(text, 4);
    case 'eighth':
      return withPart(text, 1);
    default:
      return withDigit(text, key);
  }
}

/** Digits are whole ones, also behind a part of one. */
function withDigit(text: string, digit: PadKey): string {
  if (text.length >= LONGEST) return text;
  const [whole, part] = beforePart(text);
  return (whole === '0' || whole === '-0' ? whole.slice(0, -1) : whole) + digit + part;
}

function withPart(text: string, eighths: number): string {
  const longer = turned(text, eighths);
  return longer.length <= LONGEST ? longer : text;
}

/** The number that was typed; none while it is not one yet. */
export function typedNumber(text: string): number | null {
  if (!/^-?\d+(\.\d*)?$/.test(text)) return null;
  return Number(text);
}

/** The key that a hardware keyboard's key stands for; where eighths are typed, a point is a half. */
export function padKeyOf(key: string, eighths = false): PadKey | null {
  if (/^\d$/.test(key)) return key as PadKey;
  if (key === '.' || key === ',') return eighths ? 'half' : 'point';
  if (key === '/') return eighths ? 'eighth' : null;
  if (key === '-') return 'minus';
  if (key === 'Backspace') return 'rub_out';
  if (key === 'Delete') return 'clear';
  return null;
}

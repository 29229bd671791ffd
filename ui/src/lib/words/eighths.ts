/** The signs of the eighths of one; none for a whole one. */
const SIGNS = ['', '⅛', '¼', '⅜', '½', '⅝', '¾', '⅞'] as const;

const TYPED = new RegExp(`^(-?)(\\d*) ?([${SIGNS.join('')}]?)$`);

/** What is typed in eighths, in its parts; none where it is typed otherwise. */
function parts(text: string): { sign: string; whole: string; eighths: number } | null {
  const [, sign = '', whole = '', part = ''] = TYPED.exec(text) ?? [];
  return TYPED.test(text) ? { sign, whole, eighths: SIGNS.findIndex((s) => s === part) } : null;
}

function joined({ sign, whole, eighths }: { sign: string; whole: string; eighths: number }): string {
  return sign + [whole, SIGNS[eighths] ?? ''].filter((part) => part !== '').join(' ');
}

/** So many eighths as they are written: 93 is 11 ⅝. */
export function inEighths(count: number): string {
  const [sign, size] = [count < 0 ? '-' : '', Math.abs(count)];
  const whole = Math.floor(size / 8);
  return joined({ sign, whole: whole > 0 || size === 0 ? String(whole) : '', eighths: size % 8 });
}

/** How many eighths are written; none while it is no number. */
export function eighthsOf(text: string): number | null {
  const typed = parts(text);
  if (!typed || (typed.whole === '' && typed.eighths === 0)) return null;
  const count = Number(typed.whole) * 8 + typed.eighths;
  return typed.sign && count > 0 ? -count : count;
}

/** The same with its part of one turned on by so many eighths; the whole ones stay. */
export function turned(text: string, by: number): string {
  const typed = parts(text);
  return typed ? joined({ ...typed, eighths: (typed.eighths + by) % SIGNS.length }) : text;
}

/** The text before a part of one, and that part. */
export function beforePart(text: string): [whole: string, part: string] {
  const typed = parts(text);
  return typed && typed.eighths > 0 ? [typed.sign + typed.whole, ` ${SIGNS[typed.eighths]}`] : [text, ''];
}

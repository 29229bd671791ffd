/** A typed measure as a number, comma or point; what is no number goes on as it was typed, for the core to refuse. */
export function numberOrText(typed: string): number | string {
  const text = typed.trim().replace(',', '.');
  return /^[-−]?(\d+\.?\d*|\.\d+)$/.test(text) ? Number(text.replace('−', '-')) : typed.trim();
}

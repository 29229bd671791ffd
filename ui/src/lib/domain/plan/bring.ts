/**
 * Brings what was looked for under the eyes: a field has the focus, anything else is scrolled to. It
 * waits until the new page has been read from its title, which takes the focus first.
 */
export function bring(element: HTMLElement | null | undefined): void {
  setTimeout(() => {
    if (element?.matches('input, select, textarea')) element.focus();
    else element?.scrollIntoView({ block: 'center' });
  });
}

import { backend } from '../backend';

/** One short buzz, where the phone has one: the answer is there. */
export function buzz(): void {
  if ('vibrate' in navigator) navigator.vibrate(40);
}

/** Keeps the screen awake until the returned function is called. */
export function stayAwake(): () => void {
  let letGo: (() => void) | null = null;
  let wanted = true;

  // A page that was out of sight has lost its hold.
  const again = async () => {
    if (!wanted || document.visibilityState !== 'visible') return;
    letGo = await hold();
    if (!wanted) letGo();
  };
  const seen = () => void again();

  document.addEventListener('visibilitychange', seen);
  void again();
  return () => {
    wanted = false;
    document.removeEventListener('visibilitychange', seen);
    letGo?.();
  };
}

/** Holds the screen by the page's own means, else by the app's. Gives what lets go of it. */
async function hold(): Promise<() => void> {
  try {
    const lock = await navigator.wakeLock.request('screen');
    return () => void lock.release();
  } catch {
    // There is no such lock in this web view, or the phone refused it: low on battery, say.
    return (await heldByApp(true)) ? () => void heldByApp(false) : () => undefined;
  }
}

async function heldByApp(on: boolean): Promise<boolean> {
  try {
    return await backend.keepAwake(on);
  } catch {
    return false; // Then it sleeps as set.
  }
}

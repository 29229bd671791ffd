/** One short buzz, where the phone has one: the answer is there. */
export function buzz(): void {
  if ('vibrate' in navigator) navigator.vibrate(40);
}

/** Keeps the screen awake until the returned function is called. */
export function stayAwake(): () => void {
  let lock: WakeLockSentinel | null = null;
  let wanted = true;

  const ask = async () => {
    if (!wanted || !('wakeLock' in navigator) || document.visibilityState !== 'visible') return;
    try {
      lock = await navigator.wakeLock.request('screen');
      if (!wanted) await lock.release();
    } catch {
      lock = null; // The phone may refuse when its battery is low: then it sleeps as set.
    }
  };
  const again = () => void ask();

  document.addEventListener('visibilitychange', again);
  void ask();
  return () => {
    wanted = false;
    document.removeEventListener('visibilitychange', again);
    void lock?.release();
  };
}

/** Keeps the screen lit while a meeting runs, where the browser can; answers how to let it sleep again. */
export function stayAwake(): () => void {
  let lock: WakeLockSentinel | undefined;
  let over = false;
  const ask = async (): Promise<void> => {
    if (over || document.visibilityState !== 'visible') return;
    try {
      lock = await navigator.wakeLock?.request('screen');
      if (over) void lock?.release();
    } catch {
      // Refused, for instance on a low battery: the meeting goes on without.
    }
  };
  void ask();
  document.addEventListener('visibilitychange', ask);
  return () => {
    over = true;
    document.removeEventListener('visibilitychange', ask);
    void lock?.release();
  };
}

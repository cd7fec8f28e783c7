/** An event of a trace as Chromium writes it. */
export interface TraceEvent {
  name: string;
  pid: number;
  tid: number;
  /** When it began, in microseconds. */
  ts: number;
  /** Microseconds by the clock, and of the thread's own work. */
  dur?: number;
  tdur?: number;
  args?: { name?: string };
}

/** One task of a screen's thread, in milliseconds: when it began, how long by the clock, and how much of that was work. */
export interface ScreenTask {
  at: number;
  clock: number;
  work: number;
}

/**
 * The tasks of screens' threads as the browser traces them. On a machine that others use the clock runs on while a thread waits for its
 * turn; its work does not.
 */
export function screenTasks(events: readonly TraceEvent[]): ScreenTask[] {
  const screens = new Set(
    events.flatMap(({ name, pid, tid, args }) =>
      name === 'thread_name' && args?.name === 'CrRendererMain' ? [`${pid} ${tid}`] : [],
    ),
  );
  return events.flatMap(({ name, pid, tid, ts, dur, tdur }) =>
    name === 'RunTask' && screens.has(`${pid} ${tid}`)
      ? [{ at: ts / 1000, clock: (dur ?? 0) / 1000, work: (tdur ?? dur ?? 0) / 1000 }]
      : [],
  );
}

/** When the last page of a trace first showed something. */
export function shownAt(events: readonly TraceEvent[]): number {
  const shown = events.filter(({ name }) => name === 'firstContentfulPaint');
  if (shown.length === 0) throw new Error('Nothing was shown while it was traced.');
  return Math.max(...shown.map(({ ts }) => ts)) / 1000;
}

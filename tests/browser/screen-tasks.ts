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
 * turn; its work does not. With `pid` only those of one process: a page closed before may still be clearing up in its own.
 */
export function screenTasks(events: readonly TraceEvent[], pid?: number): ScreenTask[] {
  const screens = new Set(
    events.flatMap(({ name, pid, tid, args }) =>
      name === 'thread_name' && args?.name === 'CrRendererMain' ? [`${pid} ${tid}`] : [],
    ),
  );
  return events.flatMap(({ name, pid: own, tid, ts, dur, tdur }) =>
    name === 'RunTask' && screens.has(`${own} ${tid}`) && (pid === undefined || own === pid)
      ? [{ at: ts / 1000, clock: (dur ?? 0) / 1000, work: (tdur ?? dur ?? 0) / 1000 }]
      : [],
  );
}

/** When the last page of a trace first showed something, in ms, and in which process. */
export function shownAt(events: readonly TraceEvent[]): { at: number; pid: number } {
  const [last] = events
    .filter(({ name }) => name === 'firstContentfulPaint')
    .sort((a, b) => b.ts - a.ts);
  if (!last) throw new Error('Nothing was shown while it was traced.');
  return { at: last.ts / 1000, pid: last.pid };
}

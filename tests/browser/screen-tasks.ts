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

/** What a test itself asks of a page runs as a task of its thread too. */
const ASKED_BY_TEST = 'DevToolsSession::DispatchProtocolCommand';

/**
 * The tasks of screens' threads as the browser traces them, without those in which the test asked something. On a machine that others use
 * the clock runs on while a thread waits for its turn; its work does not. With `pid` only those of one process: a page closed before may
 * still be clearing up in its own.
 */
export function screenTasks(events: readonly TraceEvent[], pid?: number): ScreenTask[] {
  const screens = new Set(
    events.flatMap(({ name, pid, tid, args }) =>
      name === 'thread_name' && args?.name === 'CrRendererMain' ? [`${pid} ${tid}`] : [],
    ),
  );
  const ofScreens = events.filter(
    (event) => screens.has(`${event.pid} ${event.tid}`) && (pid === undefined || event.pid === pid),
  );
  const asked = ofScreens.filter(({ name }) => name === ASKED_BY_TEST);
  const byTest = (task: TraceEvent): boolean =>
    asked.some(
      ({ pid, tid, ts }) =>
        pid === task.pid && tid === task.tid && ts >= task.ts && ts <= task.ts + (task.dur ?? 0),
    );
  return ofScreens.flatMap((task) =>
    task.name === 'RunTask' && !byTest(task)
      ? [
          {
            at: task.ts / 1000,
            clock: (task.dur ?? 0) / 1000,
            work: (task.tdur ?? task.dur ?? 0) / 1000,
          },
        ]
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

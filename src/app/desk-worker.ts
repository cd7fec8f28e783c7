/** The worker the journal lives in. */
export const deskWorker = new Worker(new URL('./desk.worker.ts', import.meta.url), {
  type: 'module',
});

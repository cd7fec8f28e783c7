import type { Communities, GroupsAsked } from '../../engine/grouping';

/** Asks a worker of its own for the groups of a large journal; it is let go of afterwards, because it holds as much as the journal's ties. */
export function groupsByWorker(asked: GroupsAsked): Promise<Communities[]> {
  const worker = new Worker(new URL('./groups.worker.ts', import.meta.url), { type: 'module' });
  const found = new Promise<Communities[]>((resolve, reject) => {
    worker.onmessage = (event: MessageEvent<Communities[]>) => resolve(event.data);
    worker.onerror = ({ message }) => reject(new Error(message || 'groups could not be found'));
    worker.postMessage(asked);
  });
  return found.finally(() => worker.terminate());
}

/** Finds the groups of a large journal apart from the desk, which answers others meanwhile. */
import { groupsOf, type GroupsAsked } from '../../engine/grouping';

self.onmessage = (event: MessageEvent<GroupsAsked>): void => {
  const found = groupsOf(event.data);
  self.postMessage(found, { transfer: found.map(({ labels }) => labels.buffer) });
};

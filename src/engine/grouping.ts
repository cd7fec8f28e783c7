/** Groups of a large journal; asked for from a worker of its own, because they take seconds. */
import { groupsOf, type Communities, type GroupsAsked } from '../weave/communities';

export { groupsOf, type Communities, type GroupsAsked };

/** Finds groups elsewhere than where the journal is. */
export type Grouper = (asked: GroupsAsked) => Promise<Communities[]>;

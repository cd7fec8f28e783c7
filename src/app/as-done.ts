/** What an edit does ("Tie 2 entries to Spring"), told once it is done ("Tied 2 entries to Spring"). */
const DONE: Record<string, string> = {
  Accept: 'Accepted',
  Add: 'Added',
  Alter: 'Altered',
  Begin: 'Began',
  Bring: 'Brought',
  Call: 'Called',
  Change: 'Changed',
  Choose: 'Chose',
  Copy: 'Copied',
  Decline: 'Declined',
  Finish: 'Finished',
  Gather: 'Gathered',
  Join: 'Joined',
  Keep: 'Kept',
  Leave: 'Left',
  Make: 'Made',
  Merge: 'Merged',
  Move: 'Moved',
  Name: 'Named',
  Plan: 'Planned',
  Put: 'Put',
  Rate: 'Rated',
  Read: 'Read',
  Remove: 'Removed',
  Rename: 'Renamed',
  Revoke: 'Revoked',
  Set: 'Set',
  Skip: 'Skipped',
  Split: 'Split',
  Take: 'Took',
  Tie: 'Tied',
  Untie: 'Untied',
  Write: 'Wrote',
};

const firstWord = (text: string): string => /^\p{L}+(?= )/u.exec(text)?.[0] ?? '';

/** "Tie a note to Spring" as "Tied a note to Spring"; what begins with no such verb stays as it is. */
export function asDone(does: string): string {
  const verb = firstWord(does);
  const done = Object.hasOwn(DONE, verb) ? DONE[verb] : undefined;
  return done ? done + does.slice(verb.length) : does;
}

/** The same within a sentence: "tied a note to Spring". */
export function wasDone(does: string): string {
  const done = asDone(does);
  return done === does && !Object.hasOwn(DONE, firstWord(does))
    ? done
    : done.charAt(0).toLowerCase() + done.slice(1);
}

/** What is to be done again, within a sentence: "tie a note to Spring". */
export const toDo = (does: string): string =>
  Object.hasOwn(DONE, firstWord(does)) ? does.charAt(0).toLowerCase() + does.slice(1) : does;

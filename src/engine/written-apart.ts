import { rebase } from '../journal/rebase';
import type { Entry } from '../journal/records';
import { mergeTexts } from '../keep/text-merge';

/** What was changed from `base` to `wanted`, brought onto the entry as it stands now; both wordings of its text are kept. */
export function broughtOnto(held: Entry, base: Entry, wanted: Entry): Entry {
  if (held === base) return wanted;
  const merged = rebase<'entries'>(held, base, wanted);
  return { ...merged, text: mergeTexts(base.text, held.text, wanted.text) };
}

import type { EntryKind } from '../journal/records';
import type { Certainty } from './certainty';

const OPENING_QUOTE = /^[“"‘']/u;
const CLOSING_QUOTE = /[”"’'][.,]?(\s*[(–—-].*)?$/u;
const ATTRIBUTION = /[”"’'.!?]\s*(—|–|--)\s*\p{Lu}[^.?!\n]{2,80}$/u;
/** First words that ask for something to be done; common practice in lesson plans. */
const IMPERATIVE =
  /^(make|draw|write|build|bring|put|lay|take|give|read|act|walk|cut|fold|plant|bake|cook|find|choose|copy|learn|collect|measure|map|sketch|paint|show|ask|let|have|pass|light|fill|weigh|listen|set|tell|trade|try|go|hide|hold|mix|grow|keep)\b/iu;
const FOR_PUPILS = /\b(hand (it )?in|due|by (monday|tuesday|wednesday|thursday|friday|next|the end)|for next (week|time|lesson|tuesday)|homework|bring (it )?(back|next)|in your own words|write (a|an|one|two|three|five|ten|half)\b|copy out)/iu;
const HANDS_ON = /\b(\d+ minutes|on the table|in pairs|each child|the children|you (will )?need|materials|hand out|pass (it )?round|around the table|act out|as a class)\b/iu;
const ASKS = /\?\s*["”’']?\s*$/u;
const QUESTION_LABEL = /^(d\.?\s?q\.?|discussion question|question|q)\s*[:.)]/iu;

/**
 * The kind of entry a text most likely is, from its own signs: quotation marks, a question mark at the end, an
 * imperative at the beginning. What has no sign is a note. Common practice; the reader decides.
 */
export function proposeKind(text: string): { kind: EntryKind; certainty: Certainty } {
  const trimmed = text.trim();
  if (trimmed === '') return { kind: 'note', certainty: 'guess' };
  if (QUESTION_LABEL.test(trimmed)) return { kind: 'question', certainty: 'sure' };
  if (OPENING_QUOTE.test(trimmed) && (CLOSING_QUOTE.test(trimmed) || ATTRIBUTION.test(trimmed))) {
    return { kind: 'quote', certainty: trimmed.length > 25 ? 'sure' : 'likely' };
  }
  if (trimmed.startsWith('> ')) return { kind: 'quote', certainty: 'likely' };
  if (ASKS.test(trimmed)) return { kind: 'question', certainty: trimmed.length < 400 ? 'sure' : 'likely' };
  const imperative = IMPERATIVE.test(trimmed);
  if (imperative && FOR_PUPILS.test(trimmed)) return { kind: 'assignment', certainty: 'likely' };
  if (HANDS_ON.test(trimmed)) return { kind: 'lesson', certainty: imperative ? 'likely' : 'guess' };
  if (imperative) return { kind: 'lesson', certainty: 'guess' };
  return { kind: 'note', certainty: 'likely' };
}

/** A record as it is written in the sheet, opened to be altered. */
import { dateAsTyped } from '../../engine/dates-typed';
import type { Entry } from '../../journal/records';
import type { Draft, NamedTie } from './drafts';

/** What is written of an entry before the first letter. Its ties, its page, its date and where it is from may be known by then. */
export const NOTHING_WRITTEN = {
  kind: 'note',
  kindByHand: false,
  level: undefined,
  levelByHand: false,
  title: '',
  text: '',
  minutes: '',
  answer: '',
  probes: '',
  materials: '',
  cautions: [],
  ages: '',
  object: '',
  observations: '',
  idea: '',
  objective: '',
  steps: '',
  preparation: '',
  due: '',
  picture: undefined,
} as const;

/** The fields of an entry, every one, as text to be typed in. Its first book has the place. */
export function asWritten(entry: Entry, ties: NamedTie[]): Draft {
  const book = ties.find(({ kind }) => kind === 'book');
  return {
    id: entry.id,
    kind: entry.kind,
    kindByHand: true,
    title: entry.title ?? '',
    text: entry.text,
    ties,
    page: book?.place?.page ?? '',
    chapter: book?.place?.chapter ?? '',
    written: entry.written ? dateAsTyped(entry.written) : '',
    level: entry.level,
    levelByHand: entry.level !== undefined && entry.levelBy !== 'proposed',
    minutes: entry.minutes === undefined ? '' : String(entry.minutes),
    answer: entry.answer ?? '',
    probes: (entry.probes ?? []).join('\n'),
    materials: (entry.materials ?? []).join('\n'),
    cautions: entry.cautions ?? [],
    ages: entry.ages ?? '',
    source: entry.source?.note ?? '',
    object: entry.lesson?.object ?? '',
    observations: (entry.lesson?.observations ?? []).join('\n'),
    idea: entry.lesson?.idea ?? '',
    objective: entry.lesson?.objective ?? '',
    steps: (entry.lesson?.steps ?? []).join('\n'),
    preparation: entry.lesson?.preparation ?? '',
    due: entry.lesson?.due ?? '',
    picture: entry.picture,
  };
}

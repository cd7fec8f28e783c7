/** What a guide is for, as it is typed beside it, to and from what the guide keeps. */
import type {
  EntryId,
  Focus,
  FocusStrand,
  Guide,
  HeadingId,
  HeadingKind,
  Shape,
} from '../../journal/records';

interface FocusPart {
  heading: HeadingId;
  name: string;
  kind: HeadingKind;
  from?: string;
  to?: string;
}

/** What a guide is for, as it is typed in the purpose. */
export interface Purpose {
  title: string;
  words: string;
  headings: FocusPart[];
  strands: FocusStrand[];
  entries: EntryId[];
  circle: string;
  starts: string;
  minutes: number;
  shape: Shape;
  restMonths: number;
}

export function purposeOf(
  guide?: Guide,
  names: readonly { id: HeadingId; name: string; kind: HeadingKind }[] = [],
): Purpose {
  const known = new Map(names.map((one) => [one.id, one]));
  const { words = [], headings = [], entries = [], strands = [] } = guide?.focus ?? {};
  return {
    title: guide?.title ?? '',
    words: words.join(', '),
    headings: headings.flatMap((part) => {
      const found = known.get(part.heading);
      return found ? [{ ...part, name: found.name, kind: found.kind }] : [];
    }),
    strands,
    entries,
    circle: guide?.circle ?? '',
    starts: guide?.starts ?? '',
    minutes: guide?.minutes ?? 60,
    shape: guide?.shape ?? 'discussion',
    restMonths: guide?.restMonths ?? 24,
  };
}

/** The focus a purpose asks for; words are parted by commas. */
export function focusOf({ words, headings, entries, strands }: Purpose): Focus {
  return {
    words: words
      .split(',')
      .map((part) => part.trim())
      .filter(Boolean),
    headings: headings.map(({ heading, from, to }) => ({
      heading,
      ...(from ? { from } : {}),
      ...(to ? { to } : {}),
    })),
    entries,
    ...(strands.length > 0 ? { strands } : {}),
  };
}

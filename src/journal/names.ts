/** Headings found by what a reader calls them. */
import { fold } from '../language/tokens';
import { headingsCalled } from './indexes';
import {
  HEADING_KINDS,
  type Heading,
  type HeadingId,
  type HeadingKind,
  type Journal,
} from './records';
import { nameKey } from '../language/filing';

type Resolved =
  | { ok: true; heading: Heading }
  | {
      ok: false;
      code: 'unknown-heading' | 'ambiguous-heading';
      message: string;
      /** The headings it may mean, or that come close; at most {@link MOST_CHOICES}. */
      choices: Heading[];
    };

const MOST_CHOICES = 8;

/**
 * The one heading that `text` means: by id, else by name exactly as written, else by name with case, accents and initial articles
 * aside, else by an alternate. More than one at the first of these steps that finds any is ambiguous.
 */
export function resolveHeading(journal: Journal, text: string, kind?: HeadingKind): Resolved {
  const { headings } = journal.tables;
  const byId = headings.get(text);
  if (byId && (kind === undefined || byId.kind === kind)) return { ok: true, heading: byId };
  const called = text.trim();
  const found = called === '' ? [] : headingsByName(journal, called, kind);
  const named = found.filter((h) => nameKey(h.name, h.kind) === nameKey(called, h.kind));
  for (const step of [found.filter(({ name }) => name === called), named, found]) {
    if (step.length === 1 && step[0]) return { ok: true, heading: step[0] };
    if (step.length > 1) {
      const kinds = new Set(step.map((heading) => heading.kind));
      const which = kinds.size > 1 ? ` (${[...kinds].join(', ')})` : '';
      const message = `“${called}” may mean ${step.length} headings${which}; choose one.`;
      return {
        ok: false,
        code: 'ambiguous-heading',
        message,
        choices: step.slice(0, MOST_CHOICES),
      };
    }
  }
  const choices = called === '' ? [] : closeTo(journal, called, kind);
  const hint = choices[0] ? ` Did you mean “${choices[0].name}”?` : '';
  const noun = kind ?? 'heading';
  const message = `There is no ${noun} called “${called}” in this journal.${hint}`;
  return { ok: false, code: 'unknown-heading', message, choices };
}

/**
 * Headings that seem to be this one, to be offered for merging: of its kind, and a name or an alternate of one is a name or an alternate of
 * the other, articles and accents aside. Books whose authors are known and differ are not the same. In the order of their ids.
 */
export function seemingSame(journal: Journal, heading: Heading): Heading[] {
  const ids = new Set<HeadingId>();
  for (const name of [heading.name, ...heading.alternates])
    for (const id of headingsCalled(journal, heading.kind, name)) ids.add(id);
  ids.delete(heading.id);
  return [...ids].sort().flatMap((id) => {
    const other = journal.tables.headings.get(id);
    return other && mayBeSame(heading, other) ? [other] : [];
  });
}

function mayBeSame(a: Heading, b: Heading): boolean {
  if (a.kind !== 'book' || b.kind !== 'book') return true;
  if (a.authors.length === 0 || b.authors.length === 0) return true;
  return a.authors.some((author) => b.authors.includes(author));
}

function headingsByName(journal: Journal, called: string, kind?: HeadingKind): Heading[] {
  const ids = new Set<HeadingId>();
  for (const each of kind ? [kind] : HEADING_KINDS) {
    for (const id of headingsCalled(journal, each, called)) ids.add(id);
  }
  return [...ids].sort().flatMap((id) => journal.tables.headings.get(id) ?? []);
}

/** Headings whose names hold the words asked for or differ by a slip or two, nearest first. */
function closeTo(journal: Journal, called: string, kind?: HeadingKind): Heading[] {
  const asked = fold(called).trim();
  const most = asked.length < 5 ? 1 : 2;
  const scored: { heading: Heading; slips: number }[] = [];
  for (const heading of journal.tables.headings.values()) {
    if (kind !== undefined && heading.kind !== kind) continue;
    let slips = Infinity;
    for (const name of [heading.name, ...heading.alternates]) {
      const own = fold(name).trim();
      const held = own !== '' && asked.length > 2 && own.includes(asked);
      slips = Math.min(slips, held ? 0.5 : slipsBetween(asked, own, most));
    }
    if (slips <= most) scored.push({ heading, slips });
  }
  scored.sort((a, b) => a.slips - b.slips || (a.heading.name < b.heading.name ? -1 : 1));
  return scored.slice(0, MOST_CHOICES).map(({ heading }) => heading);
}

/** Optimal string alignment distance between two short names, or Infinity beyond `most`. */
function slipsBetween(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most || a.length > 100) return Infinity;
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let row = 1; row <= a.length; row++) {
    const line = [row];
    for (let column = 1; column <= b.length; column++) {
      const swapped = a[row - 1] === b[column - 2] && a[row - 2] === b[column - 1];
      line[column] = Math.min(
        (last[column] ?? Infinity) + 1,
        (line[column - 1] ?? Infinity) + 1,
        (last[column - 1] ?? Infinity) + (a[row - 1] === b[column - 1] ? 0 : 1),
        swapped ? (beforeLast[column - 2] ?? Infinity) + 1 : Infinity,
      );
    }
    if (Math.min(...line) > most) return Infinity;
    [beforeLast, last] = [last, line];
  }
  const slips = last[b.length] ?? Infinity;
  return slips <= most ? slips : Infinity;
}

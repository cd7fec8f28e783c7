/**
 * A heading while it is being altered. What is not settled yet is put by in this browser, each altered field with what it was, so that whoever
 * comes back goes on with it, and fields left alone are as they have become elsewhere meanwhile.
 */
import type { Heading, HeadingId } from '../../journal/records';
import { forget, readStored, store } from '../stored';

/** The fields as they are typed; other names one a line, as names may hold commas. */
export interface HeadingFields {
  name: string;
  alternates: string;
  note: string;
}
const FIELDS = ['name', 'alternates', 'note'] as const;

/** What each altered field was when it was opened, and what has been typed into it. */
export type AlteredFields = {
  [Field in keyof HeadingFields]?: { was: string; now: string };
};

/** Names, one a line, without empty ones and twins. */
export const namesIn = (text: string): string[] => [
  ...new Set(
    text
      .split('\n')
      .map((line) => line.trim())
      .filter(Boolean),
  ),
];
const settled = (field: keyof HeadingFields, text: string): string =>
  field === 'alternates' ? namesIn(text).join('\n') : text.trim();

const fieldsOf = ({ name, alternates, note }: Heading): HeadingFields => ({
  name,
  alternates: alternates.join('\n'),
  note: note ?? '',
});

export function alteredIn(opened: HeadingFields, typed: HeadingFields): AlteredFields {
  const altered = FIELDS.filter(
    (field) => settled(field, typed[field]) !== settled(field, opened[field]),
  );
  return Object.fromEntries(
    altered.map((field) => [field, { was: opened[field], now: typed[field] }]),
  );
}

/** The fields to go on with, and as they were when they were opened first: what is not altered is as it now is. */
export function broughtBack(
  heading: Heading,
  put: AlteredFields = {},
): HeadingFields & { opened: HeadingFields } {
  const opened = fieldsOf(heading);
  const typed = { ...opened };
  for (const field of FIELDS) {
    const altered = put[field];
    if (altered) [opened[field], typed[field]] = [altered.was, altered.now];
  }
  return { ...typed, opened };
}

/** The heading as it now is with what was altered, all of it in one; an old name stays as another name. */
export function withAltered(
  heading: Heading,
  opened: HeadingFields,
  typed: HeadingFields,
): Heading {
  const { name, alternates, note } = alteredIn(opened, typed);
  const { note: held, ...rest } = heading;
  const to = name ? name.now.trim() : heading.name;
  const noted = note ? note.now.trim() : held;
  const were = namesIn(opened.alternates);
  const since = heading.alternates.filter((one) => !were.includes(one));
  const old = to === heading.name ? [] : [heading.name];
  const others = new Set([...(alternates ? namesIn(alternates.now) : were), ...since, ...old]);
  others.delete(to);
  return {
    ...rest,
    name: to,
    alternates: [...others],
    ...(noted ? { note: noted } : {}),
  } as Heading;
}

const keyOf = (id: HeadingId): string => `bookweft.heading ${id}`;

export const readPutBy = (id: HeadingId): AlteredFields | undefined => readStored(keyOf(id));
/** Where nothing is altered, nothing is put by. */
export function putBy(id: HeadingId, altered: AlteredFields): void {
  if (Object.keys(altered).length === 0) forgetPutBy(id);
  else store(keyOf(id), altered);
}
export const forgetPutBy = (id: HeadingId): void => forget(keyOf(id));

import { parseArgs } from 'node:util';
import { v7 } from 'uuid';
import { dateTyped } from '../engine/dates-typed';
import { Engine } from '../engine/engine';
import {
  ENTRY_KINDS,
  type Circle,
  type EntryKind,
  type Guide,
  type Heading,
  type HeadingKind,
} from '../journal/records';
import { resolveHeading } from '../journal/names';
import { fold } from '../language/tokens';
import { readDate } from '../language/dates';
import { loadRelatedWords } from '../language/related-words';
import { loadJournal } from './journal-on-disk';
import { Refusal } from './refusal';

type Kind = 'text' | 'many' | 'flag' | 'number';
export type Options = Record<string, Kind>;

/** A command's words, checked against the options it knows. */
export interface Asked {
  words: string[];
  path: string;
  one: (name: string) => string | undefined;
  many: (name: string) => string[];
  flag: (name: string) => boolean;
  /** A whole number within [least, most]. */
  number: (name: string, least: number, most: number) => number | undefined;
}

/** Reads a command's arguments; an unknown option or a missing value is refused by name. */
export function asked(args: string[], options: Options): Asked {
  const known = Object.entries({ journal: 'text' as Kind, ...options }).map(
    ([name, kind]) =>
      [name, { type: kind === 'flag' ? 'boolean' : 'string', multiple: kind === 'many' }] as const,
  );
  let parsed;
  try {
    parsed = parseArgs({ args, options: Object.fromEntries(known), allowPositionals: true });
  } catch (error) {
    const said = (error as Error).message;
    const word = /^Unknown option '(-\w)'/.exec(said)?.[1];
    const left = word && args.find((arg) => arg.startsWith(word));
    if (left) {
      const message = `“${left}” is no option; a word to be left out goes after two dashes: -- ${left}`;
      throw new Refusal('wrong-use', message);
    }
    const dashed = /^Option '(?:-\w, )?(--[\w-]+)' argument is ambiguous/.exec(said)?.[1];
    throw new Refusal(
      'wrong-use',
      dashed
        ? `What follows ${dashed} begins with a dash; write ${dashed}=VALUE where that is meant.`
        : said.split('. ')[0]!.replace(/\.?$/, '.'),
    );
  }
  const values = parsed.values as Record<string, string | boolean | string[] | undefined>;
  // A name that a script left empty must not count as not given.
  for (const [name, value] of Object.entries(values))
    if ([value].flat().some((one) => typeof one === 'string' && one.trim() === ''))
      throw new Refusal('wrong-use', `--${name} needs a value.`);
  const one = (name: string): string | undefined => values[name] as string | undefined;
  return {
    words: parsed.positionals,
    path: one('journal') ?? 'journal.bookweft.json',
    one,
    many: (name) => (values[name] as string[] | undefined) ?? [],
    flag: (name) => values[name] === true,
    number: (name, least, most) => {
      const text = one(name);
      if (text === undefined) return undefined;
      const value = Number(text);
      if (Number.isInteger(value) && value >= least && value <= most) return value;
      throw new Refusal(
        'wrong-use',
        `--${name} takes a whole number from ${least} to ${most}, not “${text}”.`,
      );
    },
  };
}

/** Opens the journal named and an engine over it. */
export async function open(path: string): Promise<Engine> {
  const { journal, problems } = await loadJournal(path);
  for (const { path: at, message } of problems.slice(0, 5)) {
    process.stderr.write(`bookweft: ${path}: ${at}: ${message}\n`);
  }
  const engine = new Engine(journal, { now: () => new Date(), newId: () => v7() });
  engine.useRelatedWords(await loadRelatedWords());
  return engine;
}

export function headingNamed(engine: Engine, text: string, kind?: HeadingKind): Heading {
  const found = resolveHeading(engine.journal, text, kind);
  if (found.ok) return found.heading;
  const byId = found.choices.map(({ id, name, kind }) => `${id} (the ${kind} ${name})`);
  throw new Refusal(
    found.code,
    /choose one\.$/.test(found.message)
      ? `${found.message.slice(0, -1)} by its id: ${byId.join(', ')}.`
      : found.message,
  );
}

export function circleNamed(engine: Engine, text: string): Circle {
  const circles = [...engine.journal.tables.circles.values()];
  const exact = circles.filter((circle) => circle.id === text || fold(circle.name) === fold(text));
  const near =
    exact.length > 0 ? exact : circles.filter(({ name }) => fold(name).startsWith(fold(text)));
  if (near.length === 1) return near[0]!;
  const names = circles.map(({ name }) => name).join(', ');
  throw new Refusal(
    'unknown-circle',
    near.length > 1
      ? `“${text}” could be ${near.map(({ name }) => name).join(' or ')}.`
      : `There is no circle “${text}”. ${names ? `There are: ${names}.` : 'The journal has none yet.'}`,
  );
}

/** A guide or template by its title or id; where several are called so, the one that is what is wanted. */
export function guideNamed(
  engine: Engine,
  text: string,
  wanted: 'guide' | 'template' = 'guide',
): Guide {
  const guides = [...engine.journal.tables.guides.values()];
  const called = guides.filter((guide) => guide.id === text || fold(guide.title) === fold(text));
  const fit = called.filter((guide) => (guide.template === true) === (wanted === 'template'));
  const found = fit.length > 0 ? fit : called;
  if (found.length === 1) return found[0]!;
  throw new Refusal(
    found.length > 1 ? 'ambiguous-guide' : 'unknown-guide',
    found.length > 1
      ? `${found.length} guides are called “${text}”; use an id: ${found.map(({ id }) => id).join(', ')}.`
      : `There is no guide “${text}”; plan ... --save keeps one.`,
  );
}

export function kindsAsked(texts: string[]): EntryKind[] {
  return texts.map((text) => {
    const word = fold(text)
      .replace(/\s*ideas?$/, '')
      .replace(/s$/, '');
    const kind = ENTRY_KINDS.find((known) => known === word);
    if (kind) return kind;
    throw new Refusal(
      'unknown-kind',
      `“${text}” is no kind; the kinds are: ${ENTRY_KINDS.join(', ')}.`,
    );
  });
}

/** A date as the reader gave it, in EDTF or as people write it, as EDTF; refused with a sentence when it is none. */
export function dateAsked(text: string | undefined): string | undefined {
  if (text === undefined) return undefined;
  const read = dateTyped(text);
  if (read.ok) return read.edtf;
  const said = readDate(text);
  throw new Refusal(read.code, said.ok ? read.message : said.message);
}

/** Rules of a challenge's prompts while they are made: taken from words, told in words, and what they still lack. */
import { headingsCalled } from '../journal/indexes';
import { capital } from '../journal/labels';
import type { HeadingId, PromptRule } from '../journal/records';
import { ruleFromWords } from '../reading/prompt-words';
import { ruleSaid } from '../reading/rule-words';
import type { Core } from './core';
import { dateTyped } from './dates-typed';

/** The name of a heading by its id; what is none is given back. */
export const namedIn =
  ({ journal }: Core) =>
  (is: string): string =>
    journal.tables.headings.get(is as HeadingId)?.name ?? is;

/** The id of the one heading that is called so. */
export function headingNamed(core: Core) {
  return (words: string, kind: 'book' | 'theme' | 'person'): string | undefined => {
    const found = headingsCalled(core.journal, kind, words);
    return found.size === 1 ? [...found][0] : undefined;
  };
}

export const ruleOfWords = (core: Core, text: string): PromptRule =>
  ruleFromWords(text, headingNamed(core));

/** A rule in words, to be looked over while it is made; or what it still lacks. */
export function sayRule(core: Core, rule: PromptRule): string {
  const wrong = dateFault(rule);
  if (wrong) return wrong;
  const lacks = lackOf(rule);
  if (lacks) return `${capital(lacks)}.`;
  return `a book that ${ruleSaid(ruleTyped(rule), namedIn(core))}`;
}

/** Why a prompt cannot be kept; undefined where it can. */
export function faultOf(text: string, rule: PromptRule): string | undefined {
  const says = `“${text.trim() || 'A prompt'}”`;
  if (text.trim() === '') return 'Each prompt wants its words.';
  const wrong = dateFault(rule);
  if (wrong) return `${says}: ${wrong}`;
  const lacks = lackOf(rule);
  if (lacks) return `${says}: ${lacks}.`;
  const { atLeast, atMost } = rule;
  if (atLeast !== undefined && atMost !== undefined && atMost < atLeast)
    return `${says}: the most is less than the least.`;
  return undefined;
}

/** The rule with its dates, however they are typed, as the journal keeps them. */
export function ruleTyped(rule: PromptRule): PromptRule {
  const kept = { ...rule };
  for (const [field, typed] of datesOf(rule)) {
    const date = dateTyped(typed);
    if (date.ok) kept[field] = date.edtf;
  }
  return kept;
}

/** Dates that a rule holds, each as it is typed; `is` holds one only where the rule asks for a time. */
function datesOf(rule: PromptRule): ['is' | 'from' | 'to', string][] {
  const fields: ('is' | 'from' | 'to')[] = ['from', 'to'];
  if (rule.by === 'published' || rule.by === 'finished') fields.unshift('is');
  return fields.flatMap((field) => (rule[field] ? [[field, rule[field]]] : []));
}

function dateFault(rule: PromptRule): string | undefined {
  for (const [, typed] of datesOf(rule)) {
    const date = dateTyped(typed);
    if (!date.ok) return date.message;
  }
  return undefined;
}

/** What a rule must name in `is`. */
const NAMES: Partial<Record<PromptRule['by'], string>> = {
  'title-letter': 'letter',
  'author-letter': 'letter',
  theme: 'theme',
  person: 'person',
  author: 'author',
  book: 'book',
  form: 'form',
  decade: 'decade',
  language: 'language',
};

function lackOf({ by, is, atLeast, atMost }: PromptRule): string | undefined {
  if (NAMES[by] && !is?.trim()) return `say which ${NAMES[by]} is meant`;
  const none = atLeast === undefined;
  if ((by === 'pages' || by === 'rating') && none && atMost === undefined)
    return 'say at least or at most how many';
  return by === 'pages-in-all' && !atLeast ? 'say how many pages' : undefined;
}

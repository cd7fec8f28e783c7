/**
 * A prompt's rule proposed from its words, as challenges are written ("A book over 500 pages"). Only what the words plainly ask for is taken; all
 * else is left to be chosen by hand. The reader sees each rule in words before it is kept.
 */
import type { Challenge, HeadingKind, PromptRule } from '../journal/records';
import { readDate } from '../language/dates';
import { fold } from '../language/tokens';

/** The name of a heading of the journal, where the words name exactly one. */
type HeadingNamed = (words: string, kind: HeadingKind) => string | undefined;

/** Languages people name in prompts, by the words used for them (ISO 639-1). */
const LANGUAGES: Readonly<Record<string, string>> = {
  english: 'en',
  french: 'fr',
  german: 'de',
  spanish: 'es',
  italian: 'it',
  latin: 'la',
  greek: 'el',
  russian: 'ru',
  dutch: 'nl',
  danish: 'da',
  swedish: 'sv',
  norwegian: 'no',
  welsh: 'cy',
  irish: 'ga',
  portuguese: 'pt',
  polish: 'pl',
  japanese: 'ja',
  chinese: 'zh',
  arabic: 'ar',
  hebrew: 'he',
};

const SEASONS: Readonly<Record<string, string>> = {
  spring: '21',
  summer: '22',
  autumn: '23',
  fall: '23',
  winter: '24',
};

/** Prompts from lines of words: a bullet, a number or a tick box before a line is dropped; a line said twice is kept once. */
export function promptsFromWords(words: string, named: HeadingNamed): Challenge['prompts'] {
  const seen = new Set<string>();
  const prompts: Challenge['prompts'] = [];
  for (const line of words.split(/\r?\n/)) {
    const text = line
      .replace(/^[\s>]*(?:(?:[-*•·–—☐☑□■◦]|\[[ xX]?\]|\(?\d{1,3}[.)])[\s]*)+/u, '')
      .replace(/\s+/g, ' ')
      .trim();
    const key = fold(text);
    if (key === '' || seen.has(key)) continue;
    seen.add(key);
    prompts.push({ id: `p${prompts.length + 1}`, text, rule: ruleFromWords(text, named) });
  }
  return prompts;
}

/** Longer than any prompt: what is longer is no prompt with a rule in it. */
const LONGEST = 300;

/** The rule the words ask for; `free` where none is plain. */
export function ruleFromWords(text: string, named: HeadingNamed): PromptRule {
  if (text.length > LONGEST) return { by: 'free' };
  const words = fold(text).replace(/[’']/g, "'");
  return (
    letterRule(words) ??
    pagesRule(words) ??
    publishedRule(words) ??
    formRule(words) ??
    languageRule(words) ??
    ratingRule(words) ??
    headingRule(text, named) ?? { by: 'free' }
  );
}

function letterRule(words: string): PromptRule | undefined {
  const letter =
    /\b(?:letter|under|with an?|with)\s+["“]?([a-z])["”]?(?![a-z'])/.exec(words)?.[1] ??
    /\b(?:begins?|starts?|beginning|starting)\b.*?["“]?\b([a-z])["”]?\s*$/.exec(words)?.[1];
  const begins = /\b(?:begin|start|file|initial|letter)/.test(words);
  if (!letter || !begins) return undefined;
  const author = /\b(?:author|surname|last name|family name|writer)/.test(words);
  return { by: author ? 'author-letter' : 'title-letter', is: letter.toUpperCase() };
}

const numberIn = (text: string | undefined): number => Number((text ?? '').replace(/[,.\s]/g, ''));

function pagesRule(words: string): PromptRule | undefined {
  if (!/\bpages?\b/.test(words)) return undefined;
  const digits = String.raw`(\d{1,3}(?:[,.]\d{3})+|\d{1,5})`;
  const find = (pattern: string): RegExpExecArray | null =>
    new RegExp(pattern.replaceAll('#', digits)).exec(words);
  const both =
    find(String.raw`\bbetween # and #\s*pages?`) ?? find(String.raw`\b#\s*(?:-|–|to)\s*#\s*pages?`);
  if (both) return { by: 'pages', atLeast: numberIn(both[1]), atMost: numberIn(both[2]) };
  const over = find(String.raw`\b(?:over|more than|longer than|above)\s+#\s*pages?`);
  if (over) return { by: 'pages', atLeast: numberIn(over[1]) + 1 };
  const least =
    find(String.raw`\bat least #\s*pages?`) ??
    find(String.raw`\b#\+?\s*pages? or (?:more|longer|over)`) ??
    find(String.raw`\b#\+\s*pages?`);
  if (least) return { by: 'pages', atLeast: numberIn(least[1]) };
  const under = find(String.raw`\b(?:under|fewer than|less than|shorter than|below)\s+#\s*pages?`);
  if (under) return { by: 'pages', atMost: Math.max(1, numberIn(under[1]) - 1) };
  const most =
    find(String.raw`\bat most #\s*pages?`) ??
    find(String.raw`\b#\s*pages? or (?:fewer|less|shorter|under)`);
  return most ? { by: 'pages', atMost: numberIn(most[1]) } : undefined;
}

const CENTURIES: Readonly<Record<string, number>> = {
  sixteenth: 16,
  seventeenth: 17,
  eighteenth: 18,
  nineteenth: 19,
  twentieth: 20,
};

function publishedRule(words: string): PromptRule | undefined {
  const decade = /\b(1[0-9]|20)(\d)0'?s\b/.exec(words);
  const finished = /\b(?:finish|read (?:it )?(?:in|during|over)|completed)/.test(words);
  const season =
    /\b(?:in|during|over)\s+(?:the\s+)?(spring|summer|autumn|fall|winter)\s+(?:of\s+)?(\d{4})\b/.exec(
      words,
    );
  if (season && finished) return { by: 'finished', is: `${season[2]}-${SEASONS[season[1] ?? '']}` };
  if (decade && !finished) return { by: 'decade', is: `${decade[1]}${decade[2]}0` };
  const century =
    Number(/\b(1[0-9]|20|21)(?:th|st)[ -]century\b/.exec(words)?.[1] ?? 0) ||
    CENTURIES[/\b(\w+)[ -]century\b/.exec(words)?.[1] ?? ''] ||
    0;
  if (century > 0)
    return { by: 'published', from: `${century - 1}01`.padStart(4, '0'), to: `${century}00` };
  const before = /\b(?:before|prior to|older than)\s+(\d{4})\b/.exec(words)?.[1];
  const after = /\b(?:after|since)\s+(\d{4})\b/.exec(words);
  const within =
    /\b(?:published|written|printed|from|came out|released)\b.*?\b(?:in\s+)?(\d{4})\b/.exec(
      words,
    )?.[1];
  if (
    /\bpublish|\bwritten\b|\bprinted\b|\bolder\b|\bfrom\b|\bcame out\b|\breleased\b/.test(words)
  ) {
    if (before) return { by: 'published', to: String(Number(before) - 1) };
    if (after)
      return {
        by: 'published',
        from: String(Number(after[1]) + (after[0].startsWith('after') ? 1 : 0)),
      };
    if (within && readDate(within).ok) return { by: 'published', is: within };
  }
  return undefined;
}

function formRule(words: string): PromptRule | undefined {
  if (/\baudio ?-?books?\b|\blisten|\bby ear\b|\bheard\b/.test(words))
    return { by: 'form', is: 'audio' };
  if (/\be-?books?\b|\bon screen\b/.test(words)) return { by: 'form', is: 'ebook' };
  if (/\b(?:in print|printed book|paperback|hardback)\b/.test(words))
    return { by: 'form', is: 'print' };
  return undefined;
}

function languageRule(words: string): PromptRule | undefined {
  if (/\b(?:another|other|foreign|second) language\b/.test(words))
    return { by: 'language', is: 'other than en' };
  const name = /\b(?:in|written in|from the)\s+(?:original\s+)?([a-z]+)\b/.exec(words)?.[1];
  const language = name ? LANGUAGES[name] : undefined;
  return language ? { by: 'language', is: language } : undefined;
}

function ratingRule(words: string): PromptRule | undefined {
  const stars = /\b(?:([1-5])|(one|two|three|four|five))[ -]?stars?\b/.exec(words);
  if (!stars) return undefined;
  const value = stars[1]
    ? Number(stars[1])
    : ['one', 'two', 'three', 'four', 'five'].indexOf(stars[2] ?? '') + 1;
  return { by: 'rating', atLeast: value };
}

/** "A book by Jane Austen", "about courage", "with a dragon in it": only where the journal has that name. */
function headingRule(text: string, named: HeadingNamed): PromptRule | undefined {
  const after = (pattern: RegExp): string | undefined =>
    pattern
      .exec(text)?.[1]
      ?.replace(/[.!?]+$/, '')
      .trim();
  const author = after(/\b(?:by|written by)\s+(.+)$/i);
  const person = author ? named(author, 'person') : undefined;
  if (person) return { by: 'author', is: person };
  const about = after(/\b(?:about|on the theme of|on|theme:?|featuring|with)\s+(.+)$/i);
  for (const words of [about, text]) {
    if (!words) continue;
    const theme = named(words, 'theme');
    if (theme) return { by: 'theme', is: theme };
    const who = words === about ? named(words, 'person') : undefined;
    if (who) return { by: 'person', is: who };
    const book = named(words.replace(/^(?:re-?read|read)\s+/i, ''), 'book');
    if (book) return { by: 'book', is: book };
  }
  return undefined;
}

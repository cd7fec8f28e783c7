/** A guide as CommonMark, to paste elsewhere: the leader's copy, or the handout from its own type. */
import { capital } from './clock';
import { handoutOf } from './document';
import type { DocItem, GuideDocument, Handout } from './model';
import { KIND_NAMES } from './html-leader';
import { DEFERENCE } from './lists';
import { quoted } from './quoted';
import { escapeMarkdown, isRisky, markdownOf } from './safe-text';
import { markOf } from './item-words';

/**
 * The text, ending in one line feed. A reader's CommonMark stays as it is unless another program
 * could be made to run or fetch something by it; then every mark of it is given as a plain character.
 */
export function toMarkdown(doc: GuideDocument, { copy }: { copy: 'leader' | 'handout' }): string {
  const write = (words: (text: string) => string): string =>
    copy === 'leader' ? leader(doc, words) : handoutText(handoutOf(doc), words);
  const text = write(markdownOf);
  /* Two harmless texts may still be harmful together (a link here, its definition there). */
  return isRisky(text) ? write(escapeMarkdown) : text;
}

type Words = (text: string) => string;

const oneLine = (text: string): string => escapeMarkdown(text.replace(/\s+/g, ' ').trim());
const indent = (text: string, by: string): string => text.replace(/\n/g, `\n${by}`);
const inQuote = (text: string): string => `> ${text.replace(/\n/g, '\n> ')}`;
const join = (blocks: readonly (string | undefined | false)[]): string =>
  `${blocks.filter(Boolean).join('\n\n')}\n`;

function leader(doc: GuideDocument, words: Words): string {
  const parts = doc.parts.flatMap((part) => [
    `## ${oneLine(part.name)} (${part.from} to ${part.to})`,
    part.aim && words(part.aim),
    part.items.map((item) => leaderItem(item, words)).join('\n'),
  ]);
  const levels = doc.levels.map(({ level, minutes }) => `${capital(level)} ${minutes}`).join(', ');
  return join([
    `# ${oneLine(doc.title)}`,
    doc.subtitle && words(doc.subtitle),
    [doc.circle, doc.when].flatMap((text) => (text ? oneLine(text) : [])).join('\\\n'),
    doc.objective && `**Aim** ${oneLine(doc.objective)}`,
    doc.note && words(doc.note),
    doc.haveReady.length > 0 && `**Have ready** ${oneLine(doc.haveReady.join(', '))}`,
    doc.ifLate.length > 0 && `**If running late** ${oneLine(doc.ifLate.join('; '))}`,
    careText(doc.cautions.map(({ text }) => text)),
    ...parts,
    doc.ending && `**${doc.ending.clock}** ${oneLine(doc.ending.text)}`,
    doc.spare.length > 0 && '## Spare, if there is time',
    doc.spare.map((item) => leaderItem(item, words)).join('\n'),
    '## Minutes by level',
    levels,
    doc.sources.length > 0 && `## ${doc.sourcesHead}`,
    doc.sources.map((source) => `- ${words(source)}`).join('\n'),
  ]);
}

function leaderItem(item: DocItem, words: Words): string {
  const facts = [
    KIND_NAMES[item.kind],
    `${item.minutes} min`,
    item.level && capital(item.level),
    markOf(item),
  ];
  const head = `${item.clock ? `**${item.clock}** ` : ''}(${facts.filter(Boolean).join(', ')})`;
  const name = item.title?.trim() ? `**${oneLine(item.title)}** ` : '';
  const text = item.kind === 'quote' ? quoted(item.text) : item.text;
  const lines = [
    `- ${head}\n\n  ${name}${name && text.includes('\n') ? '\n\n  ' : ''}${indent(words(text), '  ')}`,
  ];
  for (const { lead, text: cue } of item.cues) {
    lines.push(`  - ${lead ? `**${lead}** ` : ''}${indent(words(cue), '    ')}`);
  }
  if (item.note) lines.push(`  - **Last time** ${oneLine(item.note)}`);
  if (item.used) lines.push(`  - ${oneLine(item.used)}`);
  return `${lines[0]}\n${lines.length > 1 ? `\n${lines.slice(1).join('\n')}\n` : ''}`;
}

function careText(texts: readonly string[]): string | false {
  if (texts.length === 0) return false;
  return `## Take care\n\n${[...texts, DEFERENCE].map((text) => `- ${oneLine(text)}`).join('\n')}`;
}

function handoutText(handout: Handout, words: Words): string {
  const day = [handout.circle, handout.day]
    .flatMap((text) => (text ? oneLine(text) : []))
    .join(', ');
  return join([
    `# ${oneLine(handout.title)}`,
    handout.subtitle && words(handout.subtitle),
    day,
    ...handout.passages.flatMap(({ text, cite }) => [
      inQuote(words(quoted(text)) + (cite ? `\n\n${words(cite)}` : '')),
    ]),
    handout.questions.length > 0 && '## To talk about',
    handout.questions.map((text, at) => `${at + 1}. ${indent(words(text), '   ')}`).join('\n'),
    careText(handout.cautions),
    ...handout.activities.flatMap(({ title, text }) => [`## ${oneLine(title)}`, words(text)]),
    handout.until.length > 0 && '## Until we meet again',
    ...handout.until.map((text) => words(text)),
    handout.works.list.length > 0 && `## ${oneLine(handout.works.head)}`,
    handout.works.list.map((work) => `- ${words(work)}`).join('\n'),
  ]);
}
